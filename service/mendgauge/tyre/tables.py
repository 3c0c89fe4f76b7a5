"""The published tables behind a marking, read once from `tables/*.csv`.

Every row keeps the basis of its values, and most their source, as the file gives it. The load indices are a table and
never the formula 45 × 10^(n/80): the formula misses a fifth of the entries by more than 1 %.
"""

from __future__ import annotations

import csv
from importlib import resources
from typing import Final, Literal, TypeVar

import msgspec


class LoadIndexRow(msgspec.Struct, frozen=True):
    """The load one tyre carries at a load index, kg."""

    load_index: int
    kg: float
    basis: str
    source: str


class SpeedSymbolRow(msgspec.Struct, frozen=True):
    """A speed symbol: the speed it permits, or with `exceeds` the speed it goes beyond, km/h."""

    symbol: str
    km_h: float
    relation: Literal["max", "exceeds"]
    basis: str
    source: str


class LoadRangeRow(msgspec.Struct, frozen=True):
    """A load-range letter and the ply rating it stands for."""

    load_range: str
    ply_rating: int
    basis: str
    source: str


class RimCodeRow(msgspec.Struct, frozen=True):
    """A rim diameter code, and its diameter as the regulations list it, mm."""

    rim_code: float
    mm_nominal: float
    basis: str


class LoadSpeedRow(msgspec.Struct, frozen=True):
    """The share of its load index a tyre may carry on a vehicle of this top speed, percent."""

    symbol: str
    vehicle_max_speed_km_h: float
    percent_of_LI_load: float  # noqa: N815  (the column's name)
    clause: str
    basis: str


class ClassBoundRow(msgspec.Struct, frozen=True):
    """Where one class of tyre ends and the next begins, by something in the marking."""

    bound: str
    value: float
    basis: str
    source: str


class SectionHeightRow(msgspec.Struct, frozen=True):
    """How high a section is of a size without an aspect ratio, by its nominal width: at least, and at most."""

    bound: str
    share_of_width: float
    basis: str
    source: str


_Row = TypeVar("_Row", bound=msgspec.Struct)


def _rows(name: str, row: type[_Row]) -> tuple[_Row, ...]:
    file = resources.files(__package__).joinpath("tables", f"{name}.csv")
    with file.open(encoding="utf-8") as lines:
        return tuple(msgspec.convert(line, row, strict=False) for line in csv.DictReader(lines))


LOAD_INDEX: Final = {row.load_index: row for row in _rows("load_index", LoadIndexRow)}
SPEED_SYMBOL: Final = {row.symbol: row for row in _rows("speed_symbol", SpeedSymbolRow)}
LOAD_RANGE: Final = {row.load_range: row for row in _rows("load_range", LoadRangeRow)}
RIM_CODE: Final = {row.rim_code: row for row in _rows("rim_code", RimCodeRow)}
CLASS_BOUND: Final = {row.bound: row.value for row in _rows("class_bounds", ClassBoundRow)}
SECTION_HEIGHT: Final = {row.bound: row.share_of_width for row in _rows("section_heights", SectionHeightRow)}
LOAD_SPEED_R30: Final = _rows("load_speed_r30", LoadSpeedRow)
