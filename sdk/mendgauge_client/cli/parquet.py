"""Results of a check as a Parquet file, for data frames."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, BinaryIO

from mendgauge_client.cli.fault import UsageError
from mendgauge_client.cli.forms import HEADER, Written, as_cells
from mendgauge_client.cli.results import open_new
from mendgauge_client.models import Repairability
from mendgauge_client.questions import Where
from mendgauge_client.tabular.faults import CellFault
from mendgauge_client.tabular.rows import ReadRow

ROW_GROUP = 5000
"""Rows written at a time: a row group of fewer is slow to read."""


class ParquetResults:
    """The results that CSV has, with types. The file can be read once it is closed, and cannot be resumed."""

    goes_on = False

    def __init__(self, name: str | None, keep: Sequence[str], resume: bool, where: Where | None) -> None:
        """
        Args:
            name: The file to write.
            keep: The columns carried over, as text.
            resume: Whether it is to be resumed.
            where: Where what is asked first is to be answered; anywhere when None.

        Raises:
            UsageError: pyarrow is not installed, there is no file, or it is to be resumed.
        """
        if resume:
            raise UsageError("--resume goes on with CSV or JSON lines: Parquet is written once, as a whole.")
        if name in (None, "-"):
            raise UsageError("Parquet is written to a file: name it with --output.")
        try:
            import pyarrow
        except ImportError:
            raise UsageError(
                "Parquet needs pyarrow: install mendgauge-client[parquet], or write CSV or JSON lines."
            ) from None
        lists = dict.fromkeys(("possible_verdicts", "decided_by"), pyarrow.list_(pyarrow.string()))
        types = {"row": pyarrow.int64(), "assessed_on": pyarrow.date32(), **lists}
        self.name = name
        self._keep = keep
        self._where = where
        self._schema = pyarrow.schema([(column, types.get(column, pyarrow.string())) for column in (*HEADER, *keep)])
        self._rows: list[dict[str, Any]] = []
        self._out: BinaryIO | None = None
        self._writer: Any = None

    def written(self) -> Iterator[Written]:
        """Yield nothing: a file that is there is not resumed."""
        return iter(())

    def open(self) -> None:
        """Make ready to write.

        Raises:
            UsageError: The file is there, or cannot be written.
        """
        from pyarrow import parquet

        self._out = open_new(str(self.name))
        self._writer = parquet.ParquetWriter(self._out, self._schema)

    def add(self, row: ReadRow, answer: Repairability | None, faults: Sequence[CellFault]) -> None:
        """Write a result."""
        kept = {name: None if (cell := row.kept.get(name)) is None else str(cell) for name in self._keep}
        self._rows.append(as_cells(row, answer, faults, self._where) | kept)

    def flush(self) -> None:
        """Write the rows that make a row group."""
        if len(self._rows) >= ROW_GROUP:
            self._write()

    def _write(self) -> None:
        import pyarrow

        self._writer.write_table(pyarrow.Table.from_pylist(self._rows, self._schema))
        self._rows.clear()

    def discard(self) -> bool:
        """Take the file away, which is this check's own."""
        if self._out is not None:
            self._writer.close()
            self._out.close()
            self._out = None
            Path(str(self.name)).unlink()
        return True

    def close(self) -> None:
        """Write out what is left."""
        if self._out is not None:
            self._write()
            self._writer.close()
            self._out.close()
