"""Whether a case holds together: what contradicts itself, or the tyre it speaks of, is refused and not averaged."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date
from math import inf
from typing import Any, Final

import msgspec
from msgspec import inspect

from mendgauge.case import Case, EarlierRepair, History, Injury, Measured, Position, Range, Tyre, Vehicle
from mendgauge.facts import Frame, age_of, frame_of
from mendgauge.problem import CaseError, Flaw
from mendgauge.rulebooks import Edition, UnknownRulebookError, find_edition
from mendgauge.tyre.date_code import DateCodeError
from mendgauge.tyre.marking import Marking, MarkingError


class _Bounds(msgspec.Struct, frozen=True):
    """What the contract lets a measurement be."""

    field: str
    low: float
    high: float


def _bounds(struct: type[msgspec.Struct]) -> tuple[_Bounds, ...]:
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
        found.append(_Bounds(field.name, -inf if low is None else low, inf if number.le is None else number.le))
    return tuple(found)


def _fields(struct: type[msgspec.Struct]) -> tuple[inspect.Field, ...]:
    described = inspect.type_info(struct)
    return described.fields if isinstance(described, inspect.StructType) else ()


def _plain(option: inspect.Type) -> inspect.Type:
    return option.type if isinstance(option, inspect.Metadata) else option


def _measured(struct: type[msgspec.Struct]) -> tuple[Callable[[msgspec.Struct], tuple[Any, ...]], tuple[_Bounds, ...]]:
    bounds = _bounds(struct)
    names = [bound.field for bound in bounds]
    return (lambda given: tuple([getattr(given, name) for name in names])), bounds


_MEASURED: Final[
    dict[type[msgspec.Struct], tuple[Callable[[msgspec.Struct], tuple[Any, ...]], tuple[_Bounds, ...]]]
] = {struct: _measured(struct) for struct in (Vehicle, Position, Tyre, Injury, EarlierRepair, History)}

# A tape laid round a worn tread reads a little more or less than the circumference reckoned from the marking.
_TAPE_ALLOWANCE = 1.05


def check_case(case: Case, on: date) -> Edition:
    """The edition the case asks for, once nothing in the case contradicts anything else.

    Raises `CaseError` with every flaw found.
    """
    try:
        edition = find_edition(case.rulebook)
        frame = frame_of(case.tyre.marking)
        if case.tyre.date_code is not None:
            age_of(case.tyre.date_code, on)
    except (UnknownRulebookError, MarkingError, DateCodeError):
        raise CaseError(tuple(_reading_flaws(case, on))) from None
    if flaws := tuple(_flaws(case, frame)):
        raise CaseError(flaws)
    return edition


def _reading_flaws(case: Case, on: date) -> Iterator[Flaw]:
    """What cannot be read at all."""
    try:
        find_edition(case.rulebook)
    except UnknownRulebookError as error:
        yield Flaw("/rulebook", str(error))
    try:
        frame_of(case.tyre.marking)
    except MarkingError as error:
        yield Flaw("/tyre/marking", str(error))
    try:
        if case.tyre.date_code is not None:
            age_of(case.tyre.date_code, on)
    except DateCodeError as error:
        yield Flaw("/tyre/date_code", str(error))


def _flaws(case: Case, frame: Frame) -> Iterator[Flaw]:
    if case.vehicle is not None:
        yield from _vehicle_flaws(case.vehicle, frame)
    if case.position is not None:
        yield from _position_flaws(case.position)
    yield from _tyre_flaws(case.tyre, frame.marking)
    for index, injury in enumerate(case.injuries or ()):
        yield from _injury_flaws(f"/injuries/{index}", injury, frame)
    for index, repair in enumerate(case.earlier_repairs or ()):
        yield from _earlier_flaws(f"/earlier_repairs/{index}", repair, frame)
    if case.history is not None:
        yield from _history_flaws(case.history)


def _vehicle_flaws(vehicle: Vehicle, frame: Frame) -> Iterator[Flaw]:
    yield from _range_flaws("/vehicle", vehicle)
    if vehicle.kind is not None and vehicle.kind not in frame.classes:
        on = ", ".join(frame.classes)
        marking = frame.marking
        yield Flaw("/vehicle/kind", f"No {vehicle.kind} runs on a tyre marked {marking}; such tyres are for: {on}.")


def _position_flaws(position: Position) -> Iterator[Flaw]:
    yield from _range_flaws("/position", position)
    if position.axle == "steer" and position.steered is False:
        yield Flaw("/position/steered", "A steer axle steers: leave `steered` out or make it true.")


def _history_flaws(history: History) -> Iterator[Flaw]:
    yield from _range_flaws("/history", history)
    if history.driven_flat is False and _low(history.flat_distance_km, 0.0) > 0.0:
        yield Flaw("/history/flat_distance_km", "It was driven flat for a distance, yet `driven_flat` is false.")


def _tyre_flaws(tyre: Tyre, marking: Marking) -> Iterator[Flaw]:
    yield from _range_flaws("/tyre", tyre)
    left, new = _low(tyre.tread_depth_mm, 0.0), _high(tyre.new_tread_depth_mm, float("inf"))
    if left > new:
        yield Flaw("/tyre/tread_depth_mm", f"{left:g} mm are left of a tread that had {new:g} mm when new.")
    traits = tyre.traits
    if traits is not None and marking.temporary_spare and traits.temporary_spare is False:
        yield Flaw("/tyre/traits/temporary_spare", f"The marking {marking} is a temporary spare's.")
    if traits is not None and marking.run_flat and traits.run_flat is False:
        yield Flaw("/tyre/traits/run_flat", f"RF in the size of {marking} marks a run-flat tyre.")


def _injury_flaws(place: str, injury: Injury, frame: Frame) -> Iterator[Flaw]:
    yield from _range_flaws(place, injury)
    widest = frame.section_width.high / 2.0 if injury.region == "tread" else frame.half_profile
    where = "in the tread" if injury.region == "tread" else "on the tyre"
    yield from _across_flaws(f"{place}/across_mm", injury.across_mm, widest, where)
    yield from _around_flaws(f"{place}/around_mm", injury.around_mm, frame)
    if injury.depth == "rubber_only" and injury.measured_from == "inside":
        yield Flaw(f"{place}/measured_from", "An injury in the rubber alone has no inside to measure from.")
    if injury.depth == "rubber_only" and injury.stage == "prepared":
        yield Flaw(f"{place}/stage", "An injury in the rubber alone has no channel to prepare.")


def _earlier_flaws(place: str, repair: EarlierRepair, frame: Frame) -> Iterator[Flaw]:
    yield from _range_flaws(place, repair)
    yield from _across_flaws(f"{place}/across_mm", repair.across_mm, frame.half_profile, "on the tyre")
    yield from _around_flaws(f"{place}/around_mm", repair.around_mm, frame)


def _across_flaws(place: str, across: Measured | None, widest: float, where: str) -> Iterator[Flaw]:
    low, high = _low(across, 0.0), _high(across, 0.0)
    if low < -widest or high > widest:
        yield Flaw(place, f"That is not {where}: it may lie up to {widest:g} mm either side of the centre line.")


def _around_flaws(place: str, around: Measured | None, frame: Frame) -> Iterator[Flaw]:
    whole = frame.circumference.high * _TAPE_ALLOWANCE
    if _high(around, 0.0) > whole:
        yield Flaw(place, f"That is more than once round: this tyre is about {frame.circumference.high:.0f} mm round.")


def _range_flaws(place: str, measured: msgspec.Struct) -> Iterable[Flaw]:
    values, bounds = _MEASURED[type(measured)]
    given = values(measured)
    return () if Range not in map(type, given) else _check_ranges(place, given, bounds)


def _check_ranges(place: str, given: tuple[Measured | None, ...], bounds: tuple[_Bounds, ...]) -> Iterator[Flaw]:
    for value, bound in zip(given, bounds, strict=True):
        if not isinstance(value, Range):
            continue
        where = f"{place}/{bound.field}"
        if value.low > value.high:
            yield Flaw(where, f"`low` is {value.low:g} and `high` is {value.high:g}; `low` may not be above `high`.")
        if value.low < bound.low:
            yield Flaw(f"{where}/low", f"{value.low:g} is too small: the least is {bound.low:g}.")
        if value.high > bound.high:
            yield Flaw(f"{where}/high", f"{value.high:g} is too large: the most is {bound.high:g}.")


def _low(value: Measured | None, unknown: float) -> float:
    return unknown if value is None else value.low if isinstance(value, Range) else value


def _high(value: Measured | None, unknown: float) -> float:
    return unknown if value is None else value.high if isinstance(value, Range) else value
