"""Tables of tyres read row by row: CSV, JSON lines, and Parquet where pyarrow is installed."""

from __future__ import annotations

import codecs
import csv
import io
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from itertools import chain
from pathlib import Path
from typing import Any, BinaryIO, TypeAlias

import msgspec

from mendgauge_client.cli.fault import UsageError
from mendgauge_client.cli.given_twice import GivenTwiceError, refuse_names_given_twice
from mendgauge_client.tabular.rows import Row

PARQUET_ROWS = 1000
FORMATS = {".csv": "csv", ".jsonl": "jsonl", ".ndjson": "jsonl", ".parquet": "parquet", ".pq": "parquet"}
"""The formats by the ending of a file's name."""
MARKS = {
    codecs.BOM_UTF8: "utf-8-sig",
    codecs.BOM_UTF32_LE: "utf-32",  # before UTF-16, whose mark it begins with
    codecs.BOM_UTF32_BE: "utf-32",
    codecs.BOM_UTF16_LE: "utf-16",
    codecs.BOM_UTF16_BE: "utf-16",
}
"""The encodings by the byte order mark that a table begins with."""
UTF_8 = "utf-8"
SEPARATOR = "sep="
"""How the line begins in which a spreadsheet names the separator, before the header."""


Share: TypeAlias = "Callable[[], float | None]"


class Table(msgspec.Struct, frozen=True):
    """A table under way.

    Attributes:
        names: The names of its columns; None where each row has its own.
        rows: Its rows, read as they are taken.
        share: How much of it has been read, from 0 to 1; None where that cannot be known.
        decimal_comma: Whether its numbers have a decimal comma, as spreadsheets write them that part cells by `;`.
    """

    names: list[str] | None
    rows: Iterator[Row]
    share: Share
    decimal_comma: bool = False


@contextmanager
def open_table(name: str, form: str | None, encoding: str | None = None) -> Iterator[Table]:
    """Open a table.

    Args:
        name: Its file; `-` is the standard input.
        form: `csv`, `jsonl` or `parquet`; by the file's ending when None.
        encoding: How its text is encoded; by its byte order mark when None, and UTF-8 where it has none.

    Raises:
        UsageError: It cannot be opened, or its format or its encoding is not known.
    """
    form = form or _form(name)
    if encoding is not None:
        _check(encoding, form)
    if name == "-":
        if form == "parquet":
            raise UsageError("A Parquet table is read from its end: give it as a file, not on the standard input.")
        yield READERS[form](sys.stdin.buffer, encoding, lambda: None)
        return
    with _opened(name) as source:
        size = Path(name).stat().st_size
        # Who reads text from it closes it at its end.
        yield READERS[form](source, encoding, lambda: 1.0 if source.closed or not size else source.tell() / size)


def _check(encoding: str, form: str) -> None:
    if form == "parquet":
        raise UsageError("--encoding is for text, and Parquet is none: leave it out.")
    try:
        io.TextIOWrapper(io.BytesIO(), encoding=encoding)
    except LookupError:
        raise UsageError(f"--encoding {encoding} is not known: utf-8, utf-16, cp1252 and the like.") from None


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
            f"The ending of {name} does not say what it is: give --format csv, jsonl or parquet, "
            f"or end it in {', '.join(FORMATS)}."
        ) from None


def _csv(source: BinaryIO, encoding: str | None, share: Share) -> Table:
    lines = _text(source, encoding)
    head = _head(lines)
    skipped = 0
    if head.casefold().startswith(SEPARATOR) and len(head.rstrip("\r\n")) == len(SEPARATOR) + 1:
        delimiter, head, skipped = head[len(SEPARATOR)], _head(lines), 1
    else:
        delimiter = max(",;\t", key=head.count)
    if "\0" in head:
        raise UsageError("The table looks like UTF-16 without its mark: say --encoding utf-16-le, or utf-16-be.")
    read = csv.reader(chain([head], lines), delimiter=delimiter, strict=True)
    try:
        names = next(read, [])
    except csv.Error as error:
        raise UsageError(f"The header is not CSV: {error}") from None
    if not any(name.strip() for name in names):
        raise UsageError("The table has no header: its first row must name the columns.")
    return Table(names, _csv_rows(lines, read, names, skipped), share, decimal_comma=delimiter == ";")


def _text(source: BinaryIO, encoding: str | None) -> io.TextIOWrapper:
    """Read a table as text."""
    peeking = source if isinstance(source, io.BufferedReader) else io.BufferedReader(source)  # type: ignore[type-var]
    if encoding is None or codecs.lookup(encoding).name == UTF_8:
        first = peeking.peek(4)[:4]
        encoding = next((name for mark, name in MARKS.items() if first.startswith(mark)), UTF_8)
    return io.TextIOWrapper(peeking, encoding=encoding, newline="")


def _head(lines: io.TextIOWrapper) -> str:
    try:
        return lines.readline()
    except UnicodeError as error:
        raise UsageError(_misread(lines, error)) from None


def _csv_rows(lines: io.TextIOWrapper, read: Iterator[list[str]], names: list[str], skipped: int) -> Iterator[Row]:
    number = 1 + skipped
    while True:
        number += 1
        try:
            cells = next(read)
        except StopIteration:
            return
        except csv.Error as error:
            yield Row(number, {}, f"it is not CSV: {error}")
            continue
        except UnicodeError as error:
            raise UsageError(f"Row {number} or one soon after it cannot be read. {_misread(lines, error)}") from None
        if not any(cell.strip() for cell in cells):
            continue
        if len(cells) > len(names) and any(cell.strip() for cell in cells[len(names) :]):
            fault = f"it has {len(cells)} cells, and the header {len(names)}: a comma in a cell needs quotes around it"
            yield Row(number, {}, fault)
        else:
            yield Row(number, dict(zip(names, cells, strict=False)))


def _misread(lines: io.TextIOWrapper, error: UnicodeError) -> str:
    byte = f" (byte 0x{error.object[error.start]:02x})" if isinstance(error, UnicodeDecodeError) else ""
    encoding = codecs.lookup(lines.encoding).name.removesuffix("-sig").upper()
    return f"The table is not in {encoding}{byte}: save it as CSV UTF-8, or say how it is encoded: --encoding cp1252."


def _jsonl(source: BinaryIO, encoding: str | None, share: Share) -> Table:
    return Table(None, _jsonl_rows(source if encoding is None else _text(source, encoding)), share)


def _jsonl_rows(lines: Iterable[bytes | str]) -> Iterator[Row]:
    decoder = msgspec.json.Decoder(dict[str, Any])
    for number, line in enumerate(lines, start=1):
        if not line.strip():
            continue
        try:
            cells = decoder.decode(line)
            refuse_names_given_twice(line)
        except GivenTwiceError as error:
            yield Row(number, {}, str(error))
        except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
            yield Row(number, {}, f"it is no JSON object on a line of its own: {error}")
        else:
            yield Row(number, cells)


def _parquet(source: BinaryIO, _: str | None, __: Share) -> Table:
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


READERS: dict[str, Callable[[BinaryIO, str | None, Share], Table]] = {"csv": _csv, "jsonl": _jsonl, "parquet": _parquet}
