"""Tables of tyres read row by row: CSV, JSON lines, and Parquet where pyarrow is installed."""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO, TypeAlias

import msgspec

from mendgauge_client.cli.fault import UsageError

PARQUET_ROWS = 1000
FORMATS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".parquet": "parquet", ".pq": "parquet"}
"""The formats by the ending of a file's name."""


Share: TypeAlias = "Callable[[], float | None]"


class Row(msgspec.Struct, frozen=True):
    """A row of a table.

    Attributes:
        number: Its number as an editor or a spreadsheet shows it, counted from 1, the header of a CSV table included.
        cells: What it has, by column.
        fault: Why it cannot be read; empty where it can.
    """

    number: int
    cells: Mapping[str, Any]
    fault: str = ""


class Table(msgspec.Struct, frozen=True):
    """A table under way.

    Attributes:
        names: The names of its columns; None where each row has its own.
        rows: Its rows, read as they are taken.
        share: How much of it has been read, from 0 to 1; None where that cannot be known.
    """

    names: list[str] | None
    rows: Iterator[Row]
    share: Share


@contextmanager
def open_table(name: str, form: str | None) -> Iterator[Table]:
    """Open a table.

    Args:
        name: Its file; `-` is the standard input.
        form: `csv`, `jsonl` or `parquet`; by the file's ending when None.

    Raises:
        UsageError: It cannot be opened, or its format is not known.
    """
    form = form or _form(name)
    if name == "-":
        if form == "parquet":
            raise UsageError("A Parquet table is read from its end: give it as a file, not on the standard input.")
        yield READERS[form](sys.stdin.buffer, lambda: None)
        return
    with _opened(name) as source:
        size = Path(name).stat().st_size
        # Who reads text from it closes it at its end.
        yield READERS[form](source, lambda: 1.0 if source.closed or not size else source.tell() / size)


def _opened(name: str) -> BinaryIO:
    try:
        return Path(name).open("rb")
    except OSError as error:
        raise UsageError(f"{name} cannot be read: {error.strerror}.") from None


def _form(name: str) -> str:
    if name == "-":
        return "csv"
    try:
        return FORMATS[Path(name).suffix.lower()]
    except KeyError:
        raise UsageError(
            f"What {name} is its ending does not say: say --format csv, jsonl or parquet, "
            f"or end it in {', '.join(FORMATS)}."
        ) from None


def _csv(source: BinaryIO, share: Share) -> Table:
    # A spreadsheet may begin its UTF-8 with a byte order mark.
    lines = io.TextIOWrapper(source, encoding="utf-8-sig", newline="")
    try:
        head = lines.readline()
    except UnicodeDecodeError as error:
        raise UsageError(_not_utf8(error)) from None
    delimiter = max(",;\t", key=head.count)
    names = next(csv.reader([head], delimiter=delimiter, strict=True), [])
    if not any(name.strip() for name in names):
        raise UsageError("The table has no header: its first row must name the columns.")
    return Table(names, _csv_rows(lines, names, delimiter), share)


def _csv_rows(lines: io.TextIOWrapper, names: list[str], delimiter: str) -> Iterator[Row]:
    read = csv.reader(lines, delimiter=delimiter, strict=True)
    number = 1
    while True:
        number += 1
        try:
            cells = next(read)
        except StopIteration:
            return
        except csv.Error as error:
            yield Row(number, {}, f"it is not CSV: {error}")
            continue
        except UnicodeDecodeError as error:
            raise UsageError(f"Row {number} or one soon after it cannot be read. {_not_utf8(error)}") from None
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(names) and any(cell.strip() for cell in cells[len(names) :]):
            fault = f"it has {len(cells)} cells, and the header {len(names)}: a comma in a cell needs quotes around it"
            yield Row(number, {}, fault)
        else:
            yield Row(number, dict(zip(names, cells, strict=False)))


def _not_utf8(error: UnicodeDecodeError) -> str:
    return f"The table is not in UTF-8 (byte 0x{error.object[error.start]:02x}): save it as CSV UTF-8."


def _jsonl(source: BinaryIO, share: Share) -> Table:
    return Table(None, _jsonl_rows(source), share)


def _jsonl_rows(source: BinaryIO) -> Iterator[Row]:
    decoder = msgspec.json.Decoder(dict[str, Any])
    for number, line in enumerate(source, start=1):
        if not line.strip():
            continue
        try:
            yield Row(number, decoder.decode(line))
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
            yield Row(number, {}, f"it is no JSON object on a line of its own: {error}")


def _parquet(source: BinaryIO, _: Share) -> Table:
    try:
        from pyarrow import ArrowException, parquet
    except ImportError:
        raise UsageError(
            "Parquet needs pyarrow: install mendgauge-client[parquet], or give CSV or JSON lines."
        ) from None
    try:
        file = parquet.ParquetFile(source)
    except (ArrowException, OSError) as error:
        raise UsageError(f"The table is not Parquet: {error}") from None
    read = 0

    def rows() -> Iterator[Row]:
        nonlocal read
        for batch in file.iter_batches(batch_size=PARQUET_ROWS):
            for cells in batch.to_pylist():
                read += 1
                yield Row(read, cells)

    count = file.metadata.num_rows
    return Table(file.schema_arrow.names, rows(), lambda: read / count if count else 1.0)


READERS: dict[str, Callable[[BinaryIO, Share], Table]] = {"csv": _csv, "jsonl": _jsonl, "parquet": _parquet}
