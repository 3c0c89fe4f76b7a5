"""Results of a check as lines: CSV with the main things, or JSON with the whole answer."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from typing import Any

import msgspec

from mendgauge_client.models import Repairability
from mendgauge_client.questions import Where, questions_at
from mendgauge_client.tabular.faults import CellFault
from mendgauge_client.tabular.rows import ReadRow

HEADER = [
    "row", "reference", "depot", "marking", "verdict", "next_step", "possible_verdicts", "decided_by", "says",
    "ask_first", "rulebook", "assessed_on", "problem", "warning",
]  # fmt: skip


class Written(msgspec.Struct, frozen=True):
    """What a result that was written says of itself.

    Attributes:
        row: The number of its row in the table.
        reference: The caller's own name for the case, or None.
        marking: The marking, or None.
        depot: Where the tyre is.
        verdict: The verdict; empty where there is a problem instead.
    """

    row: int
    reference: str | None
    marking: str | None
    depot: str
    verdict: str


class CsvForm:
    """A row for each tyre, its columns named in the first row."""

    def __init__(self, keep: Sequence[str], where: Where | None) -> None:
        self._keep = keep
        self._where = where

    def head(self) -> bytes:
        """Return what comes before the first result."""
        return _csv_line([*HEADER, *self._keep])

    def line(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> bytes:
        """Return a result."""
        cells = as_cells(row, answer, faults, self._where)
        kept = ["" if (cell := row.kept.get(name)) is None else str(cell) for name in self._keep]
        return _csv_line([*(_joined(cell) for cell in cells.values()), *kept])

    def written(self, lines: Iterator[bytes]) -> Iterator[Written]:
        """Yield the results of lines written before, the head included.

        Raises:
            ValueError: They are no results of this form.
        """
        read = csv.reader(line.decode() for line in lines)
        head = next(read, [])
        if _csv_line(head) != self.head():
            raise ValueError("its columns are not those of this check")
        for cells in read:
            number, reference, depot, marking, verdict, *_ = cells
            yield Written(int(number), reference or None, marking or None, depot, verdict)


def as_cells(
    row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault], where: Where | None
) -> dict[str, Any]:
    """Return the main things of a result by the names of the header; None where there is nothing.

    What to ask first is what can be answered at some place, where one is named.
    """
    cells: dict[str, Any] = dict.fromkeys(HEADER) | {
        "row": row.number,
        "reference": row.reference,
        "depot": row.depot,
        "marking": row.marking,
        "problem": "; ".join(map(str, faults)) or None,
        "warning": "; ".join(map(str, row.doubts)) or None,
    }
    if answer is not None:
        asked = answer.to_establish if where is None else questions_at(where, answer.to_establish)
        broken = [found.rule for found in answer.findings if found.outcome == "broken"]
        cells |= {
            "verdict": answer.verdict,
            "next_step": answer.next_step,
            "possible_verdicts": list(answer.possible_verdicts),
            "decided_by": list(dict.fromkeys(broken)),
            "says": answer.findings[0].says if answer.findings else None,
            "ask_first": asked[0].asks if asked else None,
            "rulebook": f"{answer.rulebook.id}@{answer.rulebook.edition}",
            "assessed_on": answer.assessed_on,
        }
    return cells


def _joined(cell: Any) -> str:
    if isinstance(cell, list):
        return "; ".join(cell)
    return "" if cell is None else str(cell)


def _csv_line(cells: Sequence[str]) -> bytes:
    line = io.StringIO()
    # With a line break in a cell no reader could find where a result that was cut off began.
    csv.writer(line, lineterminator="\n").writerow([" ".join(cell.splitlines()) for cell in cells])
    return line.getvalue().encode()


class JsonLine(msgspec.Struct):
    """A result as a line of JSON."""

    row: int
    reference: str | None
    depot: str
    marking: str | None
    kept: dict[str, Any]
    answer: Any
    problem: list[CellFault] | None
    warning: list[CellFault] | None


class _Verdict(msgspec.Struct):
    verdict: str


class _Line(msgspec.Struct):
    row: int
    reference: str | None
    depot: str
    marking: str | None
    answer: _Verdict | None


class JsonForm:
    """A JSON object on a line for each tyre, with the whole answer."""

    def head(self) -> bytes:
        """Return what comes before the first result."""
        return b""

    def line(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> bytes:
        """Return a result."""
        line = JsonLine(
            row=row.number,
            reference=row.reference,
            depot=row.depot,
            marking=row.marking,
            kept=dict(row.kept),
            answer=answer,
            problem=list(faults) or None,
            warning=row.doubts or None,
        )
        return msgspec.json.encode(line) + b"\n"

    def written(self, lines: Iterator[bytes]) -> Iterator[Written]:
        """Yield the results of lines written before.

        Raises:
            ValueError: They are no results of this form.
        """
        decoder = msgspec.json.Decoder(_Line)
        for line in lines:
            result = decoder.decode(line)
            verdict = result.answer.verdict if result.answer else ""
            yield Written(result.row, result.reference, result.marking, result.depot, verdict)
