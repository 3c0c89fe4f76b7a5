"""Results of a check, one a row, as CSV or JSON lines; and read again by a check that goes on where one stopped."""

from __future__ import annotations

import csv
import io
import os
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, BinaryIO

import msgspec

from mendgauge_client.cli.fault import UsageError
from mendgauge_client.cli.rows import CellFault, ReadRow
from mendgauge_client.models import Repairability

FORMATS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl"}
HEADER = [
    "row", "reference", "depot", "marking", "verdict", "next_step", "possible_verdicts", "decided_by", "says",
    "ask_first", "rulebook", "assessed_on", "problem",
]  # fmt: skip
BLOCK = 1 << 16


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

    def __init__(self, keep: Sequence[str]) -> None:
        self._keep = keep

    def head(self) -> bytes:
        """What comes before the first result."""
        return _csv_line([*HEADER, *self._keep])

    def line(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> bytes:
        """A result."""
        told = dict.fromkeys(HEADER, "") | {
            "row": str(row.number),
            "reference": row.reference or "",
            "depot": row.depot,
            "marking": row.marking or "",
            "problem": "; ".join(map(str, faults)),
        }
        if answer is not None:
            told |= _told(answer)
        kept = ["" if (cell := row.kept.get(name)) is None else str(cell) for name in self._keep]
        return _csv_line([*told.values(), *kept])

    def written(self, lines: Iterator[bytes]) -> Iterator[Written]:
        """The results of lines written before, the head included.

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


def _told(answer: Repairability) -> dict[str, str]:
    broken = [found.rule for found in answer.findings if found.outcome == "broken"]
    return {
        "verdict": answer.verdict,
        "next_step": answer.next_step,
        "possible_verdicts": "; ".join(answer.possible_verdicts),
        "decided_by": "; ".join(dict.fromkeys(broken)),
        "says": answer.findings[0].says if answer.findings else "",
        "ask_first": answer.to_establish[0].asks if answer.to_establish else "",
        "rulebook": f"{answer.rulebook.id}@{answer.rulebook.edition}",
        "assessed_on": answer.assessed_on.isoformat(),
    }


def _csv_line(cells: Sequence[str]) -> bytes:
    line = io.StringIO()
    # A line break in a cell would let no reader tell where a result that was cut off began.
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
        """What comes before the first result."""
        return b""

    def line(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> bytes:
        """A result."""
        told = JsonLine(
            row.number, row.reference, row.depot, row.marking, dict(row.kept), answer, list(faults) if faults else None
        )
        return msgspec.json.encode(told) + b"\n"

    def written(self, lines: Iterator[bytes]) -> Iterator[Written]:
        """The results of lines written before.

        Raises:
            ValueError: They are no results of this form.
        """
        decoder = msgspec.json.Decoder(_Line)
        for line in lines:
            told = decoder.decode(line)
            verdict = told.answer.verdict if told.answer else ""
            yield Written(told.row, told.reference, told.marking, told.depot, verdict)


class Results:
    """Where results go, in the order of the table; nowhere where no output was asked for."""

    def __init__(self, name: str | None, form: str | None, keep: Sequence[str], resume: bool) -> None:
        """
        Args:
            name: The file to write; `-` is the standard output, None is nowhere.
            form: `csv` or `jsonl`; by the file's ending when None.
            keep: The columns carried over.
            resume: Go on with results that are there already.

        Raises:
            UsageError: The file cannot be written, or is there and not to be gone on with, or cannot be.
        """
        if resume and name in (None, "-"):
            raise UsageError("--resume goes on with a file of results: name it with --output.")
        self.name = name
        self._form = _form(name, form, keep)
        self._resume = resume
        self._out: BinaryIO | None = None

    def written(self) -> Iterator[Written]:
        """The results that are there already; one cut off in the midst of its line is taken away."""
        if not self._resume or self.name is None or not Path(self.name).exists():
            return
        try:
            with Path(self.name).open("r+b") as file:
                file.truncate(_end_of_lines(file))
                file.seek(0)
                if os.fstat(file.fileno()).st_size:
                    yield from self._form.written(iter(file))
        except OSError as error:
            raise UsageError(f"{self.name} cannot be gone on with: {error.strerror}.") from None
        except ValueError as error:
            raise UsageError(
                f"{self.name} does not hold results of this check: {error}. Name another file, or leave out --resume."
            ) from None

    def open(self) -> None:
        """Make ready to write; what is written before stays.

        Raises:
            UsageError: The file is there and not to be gone on with, or cannot be written.
        """
        if self.name == "-":
            self._out = sys.stdout.buffer
        elif self.name is not None:
            self._out = self._opened(self.name)
        if self._out is not None and (self.name == "-" or not os.fstat(self._out.fileno()).st_size):
            self._out.write(self._form.head())

    def _opened(self, name: str) -> BinaryIO:
        try:
            return Path(name).open("ab" if self._resume else "xb")
        except FileExistsError:
            raise UsageError(f"{name} is there already: --resume goes on with it, or name another file.") from None
        except OSError as error:
            raise UsageError(f"{name} cannot be written: {error.strerror}.") from None

    def add(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> None:
        """Write a result."""
        if self._out is not None:
            self._out.write(self._form.line(row, answer, faults))

    def flush(self) -> None:
        """See to it that what is written so far is there if the check stops."""
        if self._out is not None:
            self._out.flush()

    def close(self) -> None:
        """Write out what is left."""
        self.flush()
        if self._out is not None and self.name != "-":
            self._out.close()


def _form(name: str | None, form: str | None, keep: Sequence[str]) -> CsvForm | JsonForm:
    if form is None and name not in (None, "-"):
        form = FORMATS.get(Path(str(name)).suffix.lower())
        if form is None:
            raise UsageError(
                f"How to write {name} its ending does not say: say --output-format csv or jsonl, "
                f"or end it in {', '.join(FORMATS)}."
            )
    return JsonForm() if form == "jsonl" else CsvForm(keep)


def _end_of_lines(file: BinaryIO) -> int:
    """Where the last whole line of a file ends."""
    end = file.seek(0, os.SEEK_END)
    while end > 0:
        start = max(0, end - BLOCK)
        file.seek(start)
        found = file.read(end - start).rfind(b"\n")
        if found >= 0:
            return start + found + 1
        end = start
    return 0
