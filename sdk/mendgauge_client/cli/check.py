"""`mendgauge-client check`: a table of tyres judged, row by row."""

from __future__ import annotations

import argparse
import sys
from collections import deque
from collections.abc import Iterator
from typing import Any

from mendgauge_client._batches import Progress
from mendgauge_client.cli import fields
from mendgauge_client.cli.columns import RULEBOOK, Columns
from mendgauge_client.cli.fault import AT_FAULT, DONE, UnusableValueError, UsageError
from mendgauge_client.cli.progress import ProgressLine
from mendgauge_client.cli.results import Results, Written
from mendgauge_client.cli.rows import CellFault, ReadRow, faults_of, read_row
from mendgauge_client.cli.service import chosen_service
from mendgauge_client.cli.summary import Tally
from mendgauge_client.cli.tables import Row, Table, open_table
from mendgauge_client.errors import CallError
from mendgauge_client.models import Case, Repairability

FAULTS_TOLD = 10
"""How many of the rows at fault are told of on the terminal; the results have them all."""
DEFAULTS = {"rulebook": RULEBOOK, "vehicle": "/vehicle/kind", "assessed_on": "/assessed_on"}
"""The fields that an option gives for all rows that leave them open."""


def check(options: argparse.Namespace) -> int:
    """Judge the tyres of a table, write the results, and print a summary.

    Raises:
        UsageError: The table, a column, an option or the output cannot be used.
        CallError: The service gave no answer; what came before is written.
    """
    with open_table(options.table, options.format) as table:
        columns, defaults = Columns(options.keep), _defaults(options)
        if table.names is not None:
            columns.header(table.names, defaults)
        results = Results(options.output, options.output_format, options.keep, options.resume)
        run = _Run(table, columns, defaults, results)
        run.pass_over_written()
        results.open()
        try:
            with chosen_service(options) as service:
                run.judge(service.check_repairability_of_each(run.cases(), progress=run.told))
        except (CallError, KeyboardInterrupt):
            run.stopped()
            raise
        finally:
            results.close()
    run.report()
    return AT_FAULT if run.tally.failed else DONE


def _defaults(options: argparse.Namespace) -> dict[str, Any]:
    given = {}
    for option, pointer in DEFAULTS.items():
        try:
            value = fields.read(pointer, getattr(options, option))
        except UnusableValueError as error:
            raise UsageError(f"--{option.replace('_', '-')}: {error}.") from None
        if value is not None:
            given[pointer] = value
    return given


class _Run:
    """A check under way: the rows that went out and have no result yet, and what came of the others."""

    def __init__(self, table: Table, columns: Columns, defaults: dict[str, Any], results: Results) -> None:
        self.tally = Tally()
        self._rows = table.rows
        self._share = table.share
        self._columns = columns
        self._defaults = defaults
        self._results = results
        self._waiting: deque[ReadRow] = deque()
        self._faults: list[str] = []
        self._line = ProgressLine(sys.stderr)

    def pass_over_written(self) -> None:
        """Pass over the rows whose results are there already, and count those.

        Raises:
            UsageError: They are results of another table.
        """
        last: tuple[Written, Row] | None = None
        for written in self._results.written():
            row = next(self._rows, None)
            if row is None or row.number != written.row:
                raise self._of_another(written)
            self.tally.add(written.depot, written.verdict)
            last = (written, row)
        if last is not None:
            written, row = last
            read = self._read(row)
            if (read.reference, read.marking) != (written.reference, written.marking):
                raise self._of_another(written)

    def _of_another(self, written: Written) -> UsageError:
        named = written.reference or written.marking or "another tyre"
        return UsageError(
            f"{self._results.name} was not made from this table: its row {written.row} is {named}. "
            "Give the table it was made from, or name another file."
        )

    def _read(self, row: Row) -> ReadRow:
        return read_row(row, self._columns, self._defaults)

    def cases(self) -> Iterator[Case]:
        """The cases of the rows. A row at fault has none; it waits for its turn among the results."""
        for row in map(self._read, self._rows):
            if row.case is None and not self._waiting:
                self._add(row, None, row.faults)
                continue
            self._waiting.append(row)
            if row.case is not None:
                yield row.case

    def judge(self, outcomes: Iterator[Any]) -> None:
        """Take in the outcomes of the cases."""
        for outcome in outcomes:
            while self._waiting[0].case is None:
                self._add_fault()
            row = self._waiting.popleft()
            self._add(row, outcome.answer, faults_of(outcome.problem, row) if outcome.problem else [])
        while self._waiting:
            self._add_fault()

    def _add_fault(self) -> None:
        row = self._waiting.popleft()
        self._add(row, None, row.faults)

    def _add(self, row: ReadRow, answer: Repairability | None, faults: list[CellFault]) -> None:
        self._results.add(row, answer, faults)
        self.tally.add(row.depot, answer.verdict if answer else "")
        if len(self._faults) < FAULTS_TOLD:
            self._faults += [f"row {row.number}, {fault}" for fault in faults]

    def told(self, _: Progress) -> None:
        """After each chunk: keep what came, and show how far it is."""
        self._results.flush()
        self._line.show(self.tally.total, self.tally.failed, self._share())

    def stopped(self) -> None:
        """Say what is there although the check stopped."""
        self._line.clear()
        if self._results.name not in (None, "-"):
            _tell(f"{self.tally.total:,} results are in {self._results.name}: the same again with --resume goes on.")

    def report(self) -> None:
        """Print the summary, and the first rows at fault."""
        self._line.clear()
        for fault in self._faults[:FAULTS_TOLD]:
            _tell(fault)
        if self.tally.failed and len(self._faults) >= FAULTS_TOLD:
            _tell(
                f"{self.tally.failed:,} rows have a problem" + (", told in the results." if self._results.name else ".")
            )
        stream = sys.stderr if self._results.name == "-" else sys.stdout
        stream.write(self.tally.table() + "\n")


def _tell(text: str) -> None:
    sys.stderr.write(text + "\n")
