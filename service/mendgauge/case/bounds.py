"""What the contract lets each measured field be, read from the contract itself.

A schema bounds a bare number; the ends of a range are held to the same bounds with what stands here.
"""

from __future__ import annotations

from math import inf
from typing import Final

import msgspec
from msgspec import inspect

from mendgauge.case.case import History, Position, Tyre, Vehicle
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.service import AxleMate, InService
from mendgauge.case.shop import Bench
from mendgauge.core.vocabulary import Range


class Bounds(msgspec.Struct, frozen=True):
    """What the contract lets a measurement be."""

    field: str
    low: float
    high: float


def _bounds(struct: type[msgspec.Struct]) -> tuple[Bounds, ...]:
    """The bounds of every measured field, from the contract: a schema bounds a number, not a range's ends."""
    found = []
    for field in _fields(struct):
        if not isinstance(field.type, inspect.UnionType):
            continue
        options = [_plain(option) for option in field.type.types]
        if not any(isinstance(option, inspect.StructType) and option.cls is Range for option in options):
            continue
        number = next(option for option in options if isinstance(option, inspect.FloatType))
        low = number.ge if number.ge is not None else number.gt
        found.append(Bounds(field.name, -inf if low is None else low, inf if number.le is None else number.le))
    return tuple(found)


def _fields(struct: type[msgspec.Struct]) -> tuple[inspect.Field, ...]:
    described = inspect.type_info(struct)
    return described.fields if isinstance(described, inspect.StructType) else ()


def _plain(option: inspect.Type) -> inspect.Type:
    return option.type if isinstance(option, inspect.Metadata) else option


MEASURED: Final[dict[type[msgspec.Struct], tuple[Bounds, ...]]] = {
    struct: _bounds(struct)
    for struct in (Vehicle, Position, Tyre, Injury, EarlierRepair, History, InService, AxleMate, Bench)
}
"""The measured fields of every section of the case."""
