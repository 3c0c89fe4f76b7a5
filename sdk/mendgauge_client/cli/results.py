"""Where the results of a check go, one a row; and read again by a check that goes on where one stopped."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import BinaryIO, Protocol

from mendgauge_client.cli.fault import UsageError
from mendgauge_client.cli.forms import CsvForm, JsonForm, Written
from mendgauge_client.models import Repairability
from mendgauge_client.questions import Where
from mendgauge_client.tabular.faults import CellFault
from mendgauge_client.tabular.rows import ReadRow

FORMATS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".parquet": "parquet", ".pq": "parquet"}
BLOCK = 1 << 16


class Results(Protocol):
    """Where results go, in the order of the table."""

    @property
    def name(self) -> str | None:
        """The file; `-` is the standard output, None is nowhere."""

    @property
    def goes_on(self) -> bool:
        """Whether a later check can go on with it."""

    def written(self) -> Iterator[Written]:
        """Yield the results that are there already."""

    def open(self) -> None:
        """Make ready to write; what is written before stays.

        Raises:
            UsageError: The file is there and is not to be resumed, or cannot be written.
        """

    def add(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> None:
        """Write a result."""

    def flush(self) -> None:
        """See to it that what is written so far is there if the check stops."""

    def discard(self) -> bool:
        """Take away a file that this check has begun; return whether it had."""

    def close(self) -> None:
        """Write out what is left."""


def results_in(name: str | None, form: str | None, keep: Sequence[str], resume: bool, where: Where | None) -> Results:
    """Return where the results of a check go.

    Args:
        name: The file to write; `-` is the standard output, None is nowhere.
        form: `csv`, `jsonl` or `parquet`; by the file's ending when None.
        keep: The columns carried over.
        resume: Go on with results that are there already.
        where: Where what is asked first is to be answered; anywhere when None.

    Raises:
        UsageError: It cannot be written in that form, or cannot be resumed.
    """
    if resume and name in (None, "-"):
        raise UsageError("--resume goes on with a file of results: name it with --output.")
    form = form or _form(name)
    if form == "parquet":
        from mendgauge_client.cli.parquet import ParquetResults

        return ParquetResults(name, keep, resume, where)
    return LineResults(name, JsonForm() if form == "jsonl" else CsvForm(keep, where), resume)


def open_new(name: str) -> BinaryIO:
    """Open a file that is not there yet.

    Raises:
        UsageError: It is there, or cannot be written.
    """
    try:
        return Path(name).open("xb")
    except FileExistsError:
        raise UsageError(f"{name} is there already: --resume goes on with it, or name another file.") from None
    except OSError as error:
        raise UsageError(f"{name} cannot be written: {error.strerror}.") from None


class LineResults:
    """Results a line each; nowhere where no output was asked for."""

    goes_on = True

    def __init__(self, name: str | None, form: CsvForm | JsonForm, resume: bool) -> None:
        """
        Args:
            name: The file to write; `-` is the standard output, None is nowhere.
            form: How they are written.
            resume: Go on with results that are there already.
        """
        self.name = name
        self._form = form
        self._resume = resume
        self._begun = False
        self._out: BinaryIO | None = None

    def written(self) -> Iterator[Written]:
        """Yield the results that are there already; one cut off in the midst of its line is taken away."""
        if not self._resume or self.name is None or not Path(self.name).exists():
            return
        try:
            with Path(self.name).open("r+b") as file:
                file.truncate(_end_of_lines(file))
                file.seek(0)
                if os.fstat(file.fileno()).st_size:
                    yield from self._form.written(iter(file))
        except OSError as error:
            raise UsageError(f"{self.name} cannot be resumed: {error.strerror}.") from None
        except ValueError as error:
            raise UsageError(
                f"{self.name} does not hold results of this check: {error}. Name another file, or leave out --resume."
            ) from None

    def open(self) -> None:
        """Make ready to write; what is written before stays.

        Raises:
            UsageError: The file is there and is not to be resumed, or cannot be written.
        """
        if self.name is None:
            return
        if self.name == "-":
            self._out = sys.stdout.buffer
        elif self._resume and Path(self.name).exists():
            self._out = self._gone_on_with(self.name)
        else:
            self._out, self._begun = open_new(self.name), True
        if self.name == "-" or not os.fstat(self._out.fileno()).st_size:
            self._out.write(self._form.head())

    def _gone_on_with(self, name: str) -> BinaryIO:
        try:
            return Path(name).open("ab")
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

    def discard(self) -> bool:
        """Take away a file that this check has begun; return whether it had."""
        if self._begun and self._out is not None and self.name is not None:
            self._out.close()
            self._out = None
            Path(self.name).unlink()
        return self._begun

    def close(self) -> None:
        """Write out what is left."""
        self.flush()
        if self._out is not None and self.name != "-":
            self._out.close()


def _form(name: str | None) -> str:
    if name in (None, "-"):
        return "csv"
    form = FORMATS.get(Path(str(name)).suffix.lower())
    if form is None:
        raise UsageError(
            f"The ending of {name} does not say how to write it: give --output-format csv, jsonl or parquet, "
            f"or a name that ends in {', '.join(FORMATS)}."
        )
    return form


def _end_of_lines(file: BinaryIO) -> int:
    """Return where the last whole line of a file ends."""
    end = file.seek(0, os.SEEK_END)
    while end > 0:
        start = max(0, end - BLOCK)
        file.seek(start)
        found = file.read(end - start).rfind(b"\n")
        if found >= 0:
            return start + found + 1
        end = start
    return 0
