"""`mendgauge-client check`: a table of tyres judged, row by row."""

from __future__ import annotations

import argparse
import sys
import tomllib
from collections import deque
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from mendgauge_client._batches import CONCURRENCY, Progress
from mendgauge_client.cli.fault import AT_FAULT, DONE, UsageError, sentence
from mendgauge_client.cli.forms import Written
from mendgauge_client.cli.progress import ProgressLine
from mendgauge_client.cli.results import Results, results_in
from mendgauge_client.cli.service import chosen_service
from mendgauge_client.cli.summary import Tally
from mendgauge_client.cli.tables import Table, open_table
from mendgauge_client.errors import CallError
from mendgauge_client.models import Repairability, TyreCase
from mendgauge_client.tabular import values
from mendgauge_client.tabular.columns import RULEBOOK, Columns
from mendgauge_client.tabular.faults import CellFault, HeaderError, UnusableValueError
from mendgauge_client.tabular.rows import ReadRow, Row, faults_of, read_row

LINES_SHOWN = 10
"""How many faults, and how many warnings, are shown on the terminal; the results have them all."""
DEFAULTS = {"rulebook": RULEBOOK, "vehicle": "/vehicle/kind", "assessed_on": "/assessed_on"}
"""The fields that an option gives for all rows that leave them open."""


def check(options: argparse.Namespace) -> int:
    """Judge the tyres of a table, write the results, and print a summary.

    Raises:
        UsageError: The table, a column, an option or the output cannot be used.
        CallError: The service gave no answer; what came before is written.
    """
    if options.workers > 1 and not options.local:
        raise UsageError("--workers is of --local: a service has workers of its own (`mendgauge serve --workers`).")
    with open_table(options.table, options.format, options.encoding) as table:
        columns, defaults = _columns(options), _defaults(options)
        if table.names is not None:
            try:
                columns.header(table.names, defaults)
            except HeaderError as error:
                raise UsageError(str(error)) from None
        results = results_in(options.output, options.output_format, options.keep, options.resume, options.where)
        comma = table.decimal_comma if options.decimal is None else options.decimal == "comma"
        run = _Run(table, columns, defaults, comma, results)
        run.pass_over_written()
        results.open()
        try:
            with chosen_service(options) as service:
                # One more chunk than workers, so that none waits while the results of another are written.
                concurrency = max(CONCURRENCY, options.workers + 1)
                each = service.check_repairability_of_each(
                    run.cases(), concurrency=concurrency, progress=run.show, detail=options.detail
                )
                run.judge(each)
        except BaseException as error:
            run.stopped(error)
            raise
        finally:
            results.close()
    run.report()
    return AT_FAULT if run.tally.failed else DONE


def _columns(options: argparse.Namespace) -> Columns:
    names = _mapped(options.map) | dict(options.column)
    try:
        return Columns(options.keep, names)
    except HeaderError as error:
        raise UsageError(str(error)) from None


def _mapped(path: Path | None) -> dict[str, str]:
    """Read a file of column names: `tread = "Profiltiefe"`, a line each.

    Raises:
        UsageError: It cannot be read, or is something else.
    """
    if path is None:
        return {}
    try:
        names = tomllib.loads(path.read_text("utf-8"))
    except OSError as error:
        raise UsageError(f"{path} cannot be read: {error.strerror}.") from None
    except ValueError as error:
        raise UsageError(f"{path} is not TOML: {error}.") from None
    if not all(isinstance(name, str) for name in names.values()):
        raise UsageError(f'{path} must name a column for each field: tread = "Profiltiefe".')
    return names


def _defaults(options: argparse.Namespace) -> dict[str, Any]:
    given = {}
    for option, pointer in DEFAULTS.items():
        try:
            value = values.read(pointer, getattr(options, option))
        except UnusableValueError as error:
            raise UsageError(f"--{option.replace('_', '-')}: {sentence(error)}") from None
        if value is not None:
            given[pointer] = value
    return given


class _Run:
    """A check under way: the rows that went out and have no result yet, and what came of the others."""

    def __init__(
        self, table: Table, columns: Columns, defaults: dict[str, Any], decimal_comma: bool, results: Results
    ) -> None:
        self.tally = Tally()
        self._answered = False
        self._rows = table.rows
        self._share = table.share
        self._columns = columns
        self._defaults = defaults
        self._decimal_comma = decimal_comma
        self._results = results
        self._waiting: deque[ReadRow] = deque()
        self._faults: list[str] = []
        self._doubts: list[str] = []
        self._doubted = 0
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
        return read_row(row, self._columns, self._defaults, decimal_comma=self._decimal_comma)

    def cases(self) -> Iterator[TyreCase]:
        """Yield the cases of the rows. A row at fault has none; it waits for its turn among the results."""
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
            self._answered = True
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
        self._doubted += bool(row.doubts)
        if len(self._faults) < LINES_SHOWN:
            self._faults += [f"row {row.number}, {fault}" for fault in faults]
        if len(self._doubts) < LINES_SHOWN:
            self._doubts += [f"row {row.number}, warning: {doubt}" for doubt in row.doubts]

    def show(self, _: Progress) -> None:
        """Keep what came with a chunk, and show how far the check is."""
        self._results.flush()
        self._line.show(self.tally.total, self.tally.failed, self._share())

    def stopped(self, error: BaseException) -> None:
        """Say what is there although the check stopped; a file that the service answered nothing for goes again."""
        self._line.clear()
        if not self._answered and self._results.discard():
            return
        if isinstance(error, (CallError, KeyboardInterrupt)) and self._results.name not in (None, "-"):
            again = ": the same again with --resume goes on." if self._results.goes_on else "."
            _say(f"{self.tally.total:,} results are in {self._results.name}{again}")

    def report(self) -> None:
        """Print the summary, and the first rows at fault."""
        self._line.clear()
        in_results = " The results have them all." if self._results.name else ""
        for line in (*self._faults[:LINES_SHOWN], *self._doubts[:LINES_SHOWN]):
            _say(line)
        if self.tally.failed and len(self._faults) >= LINES_SHOWN:
            _say(f"{self.tally.failed:,} rows have a problem.{in_results}")
        if len(self._doubts) >= LINES_SHOWN:
            _say(f"{self._doubted:,} rows have a warning.{in_results}")
        stream = sys.stderr if self._results.name == "-" else sys.stdout
        stream.write(self.tally.table() + "\n")


def _say(text: str) -> None:
    sys.stderr.write(text + "\n")
