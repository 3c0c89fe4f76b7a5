"""A case with one more fact: what could be answered to a question, and the case with the answer in its place."""

from __future__ import annotations

from typing import Any, Final, get_args

import msgspec

from mendgauge.case.case import Case, History, Inspection, MakerPolicy, Position, Traits, Vehicle
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.case.service import AxleMate, InService, MatePlace
from mendgauge.core import vocabulary as words
from mendgauge.core.interval import Interval
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import TyreFacts

_EMPTY: Final[dict[str, Any]] = {
    "vehicle": Vehicle(),
    "position": Position(),
    "traits": Traits(),
    "maker_policy": MakerPolicy(),
    "inspection": Inspection(),
    "history": History(),
    "injuries": (Injury(),),
    "in_service": InService(),
}

_CHOICES: Final[dict[str, tuple[Any, ...]]] = {
    "axle": get_args(words.Axle),
    "fitment": get_args(words.Fitment),
    "region": get_args(words.Region),
    "depth": get_args(words.Depth),
    "stage": get_args(words.Stage),
    "measured_from": get_args(words.MeasuredFrom),
    "emerges_in": get_args(words.EmergesIn),
    "repair": get_args(words.MakerRepair),
    "speed_rating_after_repair": get_args(words.RatingAfterRepair),
    "earlier_repairs": ((), (EarlierRepair(),)),
    "axle_mates": ((), (AxleMate(),)),
    "place": get_args(MatePlace),
    "kind": get_args(words.VehicleKind),
    "marking": (),
    "date_code": (),
}

_MEASURES: Final = {
    "gross_mass_kg": "mass",
    "tread_depth_mm": "tread_depth",
    "tread_width_mm": "tread_width",
    "crown_thickness_mm": "crown_thickness",
    "pressure_found_percent": "pressure",
    "diameter_mm": "diameter",
    "across_mm": "across",
    "around_mm": "around",
    "lean_deg": "lean",
    "lean_toward_deg": "toward",
    "patch_mm": "patch",
    "max_speed_kmh": "vehicle_kmh",
    "axle_load_kg": "axle_load",
    "max_load_kg": "max_load",
    "max_load_dual_kg": "max_load_dual",
    "overall_diameter_mm": "overall_diameter",
    "speed_cap_kmh": "vehicle_kmh",
}

_STEPS: Final = 2


def answers(field: str, facts: TyreFacts) -> tuple[Any, ...]:
    """A few answers that the question for a field can have, the extremes among them.

    None for a field whose answers are too many to try, such as a marking.
    """
    span = span_of(field, facts)
    if span is None:
        return choices_of(field)
    return tuple(span.low + (span.high - span.low) * step / _STEPS for step in range(_STEPS + 1))


def choices_of(field: str) -> tuple[Any, ...]:
    """Every answer of a field that is a choice; none for a measurement or a free text."""
    name = field.rpartition("/")[2]
    if name in _CHOICES:
        return _CHOICES[name]
    return () if name in _MEASURES else (True, False)


def span_of(field: str, facts: TyreFacts) -> Interval | None:
    """All values that a measured field can still have; none for a field that is not measured."""
    parts = field.strip("/").split("/")
    if parts[-1] not in _MEASURES:
        return None
    span: Interval = getattr(_owner(parts, facts), _MEASURES[parts[-1]])
    return span


def _owner(parts: list[str], facts: TyreFacts) -> Any:
    if parts[0] == "injuries":
        return facts.injuries[int(parts[1])]
    if "axle_mates" in parts and isinstance(facts, PositionFacts):
        return facts.mates[int(parts[2])]
    return facts.earlier[int(parts[1])] if parts[0] == "earlier_repairs" else facts


def put(case: Case, field: str, value: Any) -> Case:
    """The case with a value at a field, an RFC 6901 pointer; what stands between is made where missing."""
    placed: Case = _put(case, field.strip("/").split("/"), value)
    return placed


def _put(within: Any, parts: list[str], value: Any) -> Any:
    name, rest = parts[0], parts[1:]
    if isinstance(within, tuple):
        index = int(name)
        return (*within[:index], _put(within[index], rest, value) if rest else value, *within[index + 1 :])
    if not rest:
        return msgspec.structs.replace(within, **{name: value})
    inner = getattr(within, name)
    return msgspec.structs.replace(within, **{name: _put(_EMPTY[name] if inner is None else inner, rest, value)})
