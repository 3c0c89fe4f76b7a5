"""How many bytes a brief answer has, uncompressed, for the golden cases of the phone and the bench in every book; and a
row of a batch of drawn ones, its share of the tables counted.

python -m tests.bench.sizes
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

import msgspec
from tests.bench.mix import draw

from mendgauge.api.controllers.batch import CaseBatch
from mendgauge.api.controllers.repairability import answer_batch
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repairability import check_repairability
from mendgauge.rulebooks import list_editions

EXAMPLES: Final = Path(__file__).parents[2] / "openapi" / "examples"
BOOKS: Final = tuple(dict.fromkeys(edition.book.id for edition in list_editions()))


ROWS: Final = 300


class Size(NamedTuple):
    """The largest answer of a kind in a book, with the most that it may have."""

    kind: str
    book: str
    size: int
    most: int
    case: str


def _cases() -> Iterator[tuple[str, dict[str, Any]]]:
    for file in sorted(EXAMPLES.rglob("*.json")):
        example = json.loads(file.read_bytes())
        if "tyre" in example["request"] and example["status"] == 200:
            yield f"{file.parent.name}/{file.stem}", example["request"]


def _by_phone(request: dict[str, Any]) -> bool:
    """Return whether nothing in a case was seen or measured by anyone but a driver."""
    measured = any("diameter_mm" in injury for injury in request.get("injuries") or ())
    return not measured and not {"inspection", "bench"} & request.keys()


def _measure(operation: Callable[[Case], Any], request: dict[str, Any], book: str) -> tuple[Any, int] | None:
    house = {key: value for key, value in request.items() if key != "house_rules"}
    try:
        answer = operation(msgspec.convert({**house, "rulebook": book, "detail": "brief"}, Case))
    except CaseError:
        return None
    return answer, len(msgspec.json.encode(answer))


def _sizes_in(book: str) -> Iterator[Size]:
    """Yield the size of every answer in a book that has a bound."""
    for name, request in _cases():
        if (checked := _measure(check_repairability, request, book)) is None:
            continue
        answer, size = checked
        planned = _measure(plan_repair, request, book)
        if answer.verdict == "repairable" and answer.next_step == "repair" and not answer.findings:
            yield Size("check, a firm yes", book, size, 1_500, name)
            if planned is not None and "price_book" in request:
                yield Size("plan, cleared, with prices", book, planned[1], 20_000, name)
        elif answer.next_step == "ask_first" and _by_phone(request):
            yield Size("check, a phone call", book, size, 3_000, name)
            if planned is not None:
                yield Size("plan, a phone call", book, planned[1], 12_000, name)


def sizes() -> Iterator[Size]:
    """Yield the largest answer of each kind in each book."""
    for book in BOOKS:
        largest: dict[str, Size] = {}
        for one in _sizes_in(book):
            if one.kind not in largest or largest[one.kind].size < one.size:
                largest[one.kind] = one
        yield from largest.values()
        batch = CaseBatch(items=msgspec.Raw(msgspec.json.encode([{**case, "rulebook": book} for case in draw(ROWS)])))
        row = len(msgspec.json.encode(answer_batch(batch))) // ROWS
        yield Size("check, a row of a batch", book, row, 800, f"{ROWS} drawn cases, on average")


def main() -> None:
    """Print the sizes."""
    for one in sorted(sizes()):
        sys.stdout.write(f"{one.kind:28}{one.book:4}{one.size:8,} of {one.most:6,}  {one.case}\n")


if __name__ == "__main__":
    main()
