"""The columns of a record batch as cases: what each fills, and the JSON of each row."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from difflib import get_close_matches
from itertools import pairwise
from math import isfinite
from typing import Any, Final, TypeAlias

import msgspec
import pyarrow as pa

from mendgauge.bulk.schemas import CASES

WHOLE_CASE: Final = "case"
Way: TypeAlias = tuple[str, ...]
"""The names that lead to a field: `("injuries", "0", "diameter_mm")`."""

_PLACE: Final = re.compile(r"\d{1,3}")
"""Of an item in a list; the contract admits fewer, and says so of each row."""

_encode = msgspec.json.Encoder().encode


class ColumnError(ValueError):
    """Columns that make no case; the text says which and what would."""


class NotFiniteNumberError(ValueError):
    """A number that JSON cannot have; `pointer` says where it stands."""

    def __init__(self, pointer: str) -> None:
        super().__init__("not a finite number; null says that it is not known")
        self.pointer = pointer


def bodies(batch: pa.RecordBatch, keep: Sequence[str]) -> Iterator[bytes | NotFiniteNumberError]:
    """Yield the JSON of each row, as a request would have it, or why it has none.

    Raises:
        ColumnError: A column is no part of a case, two fill the same part, or one of `keep` is not there.
    """
    names = [name for name in batch.schema.names if name not in keep]
    if missing := [name for name in keep if name not in batch.schema.names]:
        raise ColumnError(f"there is no column {missing[0]!r} to keep: there are {', '.join(batch.schema.names)}")
    if WHOLE_CASE in names:
        if rest := [name for name in names if name != WHOLE_CASE]:
            raise ColumnError(f"a case is in one column, {WHOLE_CASE!r}, and {rest[0]!r} fills a part of it: keep it")
        return _written(batch.column(WHOLE_CASE))
    ways = [_way(name) for name in names]
    _refuse_overlaps(names, ways)
    return _joined(ways, [batch.column(name).to_pylist(maps_as_pydicts="strict") for name in names], batch.num_rows)


def _written(column: pa.Array) -> Iterator[bytes]:
    for cell in column.to_pylist():
        yield cell.encode() if isinstance(cell, str) else cell or b""


def _joined(ways: Sequence[Way], columns: Sequence[list[Any]], rows: int) -> Iterator[bytes | NotFiniteNumberError]:
    for row in range(rows):
        case: dict[str, Any] = {}
        try:
            for way, column in zip(ways, columns, strict=True):
                if (value := _known(column[row], way)) is not None:
                    _put(case, way, value)
            yield _encode(case)
        except NotFiniteNumberError as error:
            yield error


def _known(value: Any, way: Way) -> Any:
    """Return a value without the parts that are not known.

    Raises:
        NotFiniteNumberError: A number in it is not finite. JSON would make it null, and null drops a limit.
    """
    if isinstance(value, float) and not isfinite(value):
        raise NotFiniteNumberError("/" + "/".join(way))
    if isinstance(value, dict):
        parts = ((name, _known(part, (*way, name))) for name, part in value.items())
        return {name: part for name, part in parts if part is not None}
    if isinstance(value, list):
        return [_known(item, (*way, str(place))) for place, item in enumerate(value)]
    return value


def _put(case: dict[str, Any], way: Way, value: Any) -> None:
    """Put a value where it belongs; of an injury passed over on the way, nothing is known."""
    node: Any = case
    for name, following in pairwise(way):
        made: Any = [] if following.isdigit() else {}
        if isinstance(node, dict):
            node = node.setdefault(name, made)
        else:
            node.extend({} for _ in range(len(node), int(name) + 1))
            node = node[int(name)]
    node[way[-1]] = value


def _way(name: str) -> Way:
    """Return what leads to the field that a column fills.

    Raises:
        ColumnError: It leads to none.
    """
    way = tuple(name.split("."))
    kind: Any = pa.struct(list(CASES))
    for place, part in enumerate(way):
        if pa.types.is_list(kind) and _PLACE.fullmatch(part):
            kind = kind.value_type
        elif pa.types.is_struct(kind) and kind.get_field_index(part) >= 0:
            kind = kind.field(part).type
        else:
            known = [field.name for field in kind] if pa.types.is_struct(kind) else []
            near = get_close_matches(part[:60], known, 1)
            meant = f"; {'.'.join((*way[:place], near[0]))!r} is near" if near else ""
            raise ColumnError(
                f"{name!r} is no part of a case{meant}. Name it in `keep` to carry it over to the answers"
            )
    if way[-1].isdigit():
        raise ColumnError(f"{name!r} is a whole item of a list: give the list as one column, or the parts of the item")
    return way


def _refuse_overlaps(names: Sequence[str], ways: Sequence[Way]) -> None:
    ordered = sorted(zip(ways, names, strict=True))
    for (way, name), (following, other) in pairwise(ordered):
        if following[: len(way)] == way:
            raise ColumnError(f"{name!r} and {other!r} fill the same part of the case: leave one out")
