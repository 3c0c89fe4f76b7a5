"""Cases of the trade with what the answer to them must say, reasoned by hand, in `tests/cases/answers/`.

Each file is one subject. `[base]` is a case that the cases of its file lie over, as in `tests/cases/`; `operation` is
the function asked. `expect` holds values of the answer by their pointers, in which `*` stands for every item of a list;
`has` holds values that are among those; `@null` stands for null, which TOML lacks.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest
from tests.reference.test_cases import laid_over, slug, taken_out

from mendgauge.case.case import Case
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.work_plans import plan_work
from mendgauge.rulebooks.provision import Basis

OPERATIONS: Final[dict[str, Callable[[Case], Any]]] = {
    "repairability": check_repairability,
    "repair_units": choose_repair_units,
    "stem_trim": trim_stems,
    "work_plan": plan_work,
    "quote": quote_repair,
}


NULL: Final = "@null"


class Expected(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One case as it stands in its file, with what its answer must say."""

    name: str
    why: str
    source: str
    basis: Basis
    operation: str
    case: dict[str, Any] = {}
    without: tuple[str, ...] = ()
    expect: dict[str, Any] = {}
    has: dict[str, Any] = {}


class AnswerFile(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The cases of one subject."""

    base: dict[str, Any]
    cases: tuple[Expected, ...]


FILES = {
    path.stem: msgspec.convert(tomllib.loads(path.read_text("utf-8")), AnswerFile)
    for path in sorted((Path(__file__).parents[1] / "cases" / "answers").glob("*.toml"))
}
EVERY = [(file.base, one) for file in FILES.values() for one in file.cases]
NAMES = [f"{stem}-{slug(one.name)}" for stem, file in FILES.items() for one in file.cases]


def values_at(answer: Any, pointer: str) -> list[Any]:
    """Return every value that a pointer reaches; what an answer leaves out is null."""
    reached = [answer]
    for part in pointer.strip("/").split("/"):
        reached = [
            inner
            for one in reached
            for inner in (one if part == "*" else [one[int(part)] if isinstance(one, list) else one.get(part)])
        ]
    return reached


@pytest.mark.parametrize(("base", "expected"), EVERY, ids=NAMES)
def test_the_answer_says_what_its_source_leads_to(base: dict[str, Any], expected: Expected) -> None:
    case = msgspec.json.decode(msgspec.json.encode(laid_over(base, expected.case)))
    for pointer in expected.without:
        taken_out(case, pointer)
    answer = msgspec.json.decode(msgspec.json.encode(OPERATIONS[expected.operation](msgspec.convert(case, Case))))
    assert expected.expect or expected.has
    for pointer, wanted in expected.expect.items():
        reached, value = values_at(answer, pointer), None if wanted == NULL else wanted
        assert (reached if "*" in pointer else reached[0]) == value, pointer
    for pointer, value in expected.has.items():
        assert value in values_at(answer, pointer), pointer
