"""Full cases: everything known, nothing contradicting anything, under any rulebook and on any tyre.

Values lie thick about the limits of the trade, and thin elsewhere. A case is drawn as the JSON a caller sends.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from math import cos, radians, tan
from typing import Any, Final, NamedTuple

import msgspec
from hypothesis import strategies as st
from tests.property.judging import Json

from mendgauge.case.fields import FIELDS
from mendgauge.facts.injury import METHODS_BY_HALVES
from mendgauge.facts.tyre import NEVER_IN_PAIRS
from mendgauge.facts.yes_no import SIGNS, TRAITS
from mendgauge.rulebooks import Edition, list_editions
from mendgauge.tyre.marking_facts import MarkingFacts, marking_facts_of
from mendgauge.tyre.tyre_class import TyreClass

MARKINGS: Final = (
    "205/55R16 91V",
    "205/55R16 91H",
    "205/55RF16 91V",
    "225/45ZR17 (94Y)",
    "P205/55R16 89H",
    "155/65R14 75T",
    "T125/70D16 96M",
    "195/75R16C 107/105R",
    "LT265/70R17 121/118S E",
    "31x10.50R15LT 109Q",
    "315/80R22.5 156/150L",
    "295/60R22.5 150/147K",
    "235/75R17.5 143/141J",
    "120/70R17M/C 58W",
    "140/70-17 M/C 66H",
    "130/90-16 M/C 67J",
    "4.00-18 64H",
)
"""Of car, van, light truck, truck in dual pairs and motorcycle, each with all that a rule asks of a marking."""

TERSE_MARKINGS: Final = (
    "205/55R16",
    "225/45ZR17",
    "LT265/70R17",
    "315/80R22.5",
    "120/70ZR17 M/C",
    "7.50-16",
    "MT90B16",
)
"""Without speed, load or circumference: what is missing there no other field can give."""

EDITIONS: Final = list_editions()
DAYS: Final = (date(2021, 1, 31), date(2021, 2, 1), date(2026, 11, 24))


class Drawn(NamedTuple):
    """A full case, with what its marking and its book say of it."""

    case: Json
    edition: Edition
    marking_facts: MarkingFacts

    def __repr__(self) -> str:
        return f"{self.edition.reference}, {self.case['tyre']['marking']}"

    @property
    def of(self) -> TyreClass:
        kind = self.case["vehicle"]["kind"]
        return classes_of(self.marking_facts, kind)[0]


def classes_of(marking_facts: MarkingFacts, kind: str | None = None) -> tuple[TyreClass, ...]:
    """The classes of limits that a marking leaves possible, on a kind of vehicle or on any."""
    return tuple(dict.fromkeys(use.tyre_class for use in marking_facts.uses_on[None] if kind in (None, use.kind)))


def estimate(edition: Edition, of: TyreClass, dimension: str, marking_facts: MarkingFacts) -> tuple[float, float]:
    """The span a dimension lies in when nobody measured it, by the edition's own estimates, mm."""
    entry = next(one for one in edition.workshop.estimates if one.dimension == dimension and of in one.classes)
    width = marking_facts.section_width
    if entry.low_share_of_section_width is not None and entry.high_share_of_section_width is not None:
        return entry.low_share_of_section_width * width.low, entry.high_share_of_section_width * width.high
    return entry.low_mm or 0.0, entry.high_mm or 0.0


def widest_across(marking_facts: MarkingFacts, region: str | None) -> float:
    """How far from the centre line a place in a region of a tyre may be, mm, by the tyre and by the contract."""
    return min(marking_facts.section_width.high / 2 if region == "tread" else marking_facts.half_profile, 1000)


@cache
def contract_bounds(pattern: str) -> tuple[float, float] | None:
    """The least and the most that the contract lets a measurement be, to a tenth; `None` for what is no measurement."""
    field = FIELDS[pattern]
    if field.measurement is None:
        return None
    of_section = msgspec.json.schema(field.section)["$defs"][field.section.__name__]["properties"]
    options = of_section[field.measurement.field]["anyOf"]
    number = next(option for option in options if option.get("type") == "number")
    above = number.get("exclusiveMinimum")
    return number["minimum"] if above is None else above + 0.1, number["maximum"]


@cache
def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers with one decimal place from `low` to `high`."""
    return st.integers(-int(-low * 10 // 1), int(high * 10 // 1)).map(lambda tenth: tenth / 10)


FRACTION: Final = st.integers(0, 1000)
ROLL: Final = st.integers(0, 1999)
COIN: Final = st.booleans()


@cache
def one_of(values: tuple[str, ...]) -> st.SearchStrategy[str]:
    """Any of some words; of a kind that is drawn often, as making a strategy costs more than drawing from it."""
    return st.sampled_from(values)


def between(draw: st.DrawFn, low: float, high: float) -> float:
    """A number between two others, mostly with one decimal place."""
    return max(low, min(round(low + (high - low) * draw(FRACTION) / 1000, 1), high))


def near(draw: st.DrawFn, limits: tuple[float, ...], low: float, high: float) -> float:
    """One of some values as often as any other number between two."""
    roll = draw(ROLL)
    return limits[roll % len(limits)] if roll < 1000 else round(low + (high - low) * (roll - 1000) / 999, 1)


AREAS: Final = ("age", "tread", "crown", "traits", "policy", "injuries", "earlier_repairs", "inspection", "history")
"""Parts of a case. Most are drawn tame, so that a verdict hangs on the few that are not."""

_WILD: Final = st.sets(st.sampled_from(AREAS), max_size=2)
_EDITION: Final = st.sampled_from(EDITIONS)
_DAY: Final = st.sampled_from(DAYS)


@st.composite
def full_cases(
    draw: st.DrawFn,
    markings: tuple[str, ...] = MARKINGS,
    injuries: tuple[int, int] = (0, 3),
    earlier: tuple[int, int] = (0, 2),
) -> Drawn:
    """A full case; the numbers of its injuries and earlier repairs lie between the ends given."""
    wild = draw(_WILD)
    edition = draw(_EDITION)
    marking = draw(one_of(markings))
    marking_facts = marking_facts_of(marking)
    kind = draw(one_of(marking_facts.kinds))
    of = classes_of(marking_facts, kind)[0]
    tyre, on = _tyre(draw, edition, of, marking_facts, wild)
    # One injury as often as every other number of them together.
    least, most = injuries
    number = 1 if least <= 1 <= most and draw(COIN) else draw(st.integers(least, most))
    case = {
        "detail": "full",
        "rulebook": edition.reference,
        "assessed_on": on.isoformat(),
        "vehicle": {"kind": kind, "gross_mass_kg": near(draw, (1900, 3500, 3501, 18_000), 100, 44_000)},
        "position": _position(draw, kind),
        "tyre": {"marking": marking, **tyre},
        "injuries": [_injury(draw, marking_facts, tyre, wild="injuries" in wild) for _ in range(number)],
        "earlier_repairs": _earlier_repairs(draw, edition, of, marking_facts, earlier, wild="earlier_repairs" in wild),
        "inspection": _named_or_complete(draw, SIGNS, (), wild="inspection" in wild),
        "history": _history(draw, wild="history" in wild),
    }
    return Drawn(case, edition, marking_facts)


def _tyre(
    draw: st.DrawFn, edition: Edition, of: TyreClass, marking_facts: MarkingFacts, wild: set[str]
) -> tuple[Json, date]:
    """The tyre, and the day it is judged on."""
    on = draw(_DAY)
    year, week, _ = (on - timedelta(weeks=4 + draw(FRACTION) * 9 // (10 if "age" in wild else 30))).isocalendar()
    # A tread deeper than the estimate of any class the marking leaves would make that class's unknown wider, not less.
    deepest = min(estimate(edition, each, "tread_depth", marking_facts)[1] for each in classes_of(marking_facts))
    new = between(draw, 8, deepest)
    narrow, wide = estimate(edition, of, "tread_width", marking_facts)
    thin, thick = estimate(edition, of, "crown_thickness", marking_facts)
    if "crown" in wild:
        narrow, wide, thin, thick = narrow * 0.7, min(wide * 1.2, 1000), 1, 40
    policy: Json = {"repair": "permitted"}
    if "policy" in wild:
        policy["repair"] = draw(st.sampled_from(("permitted", "forbidden", None)))
        policy["max_repairs"] = draw(st.sampled_from((None, 0, 1, 2, 3)))
    tyre = {
        "date_code": f"{min(week, 52):02d}{year % 100:02d}",
        "new_tread_depth_mm": new,
        "tread_depth_mm": near(draw, (1.0, 1.5, 1.6, 1.7, 3.2), 0, 8) if "tread" in wild else between(draw, 3, 8),
        "tread_width_mm": between(draw, narrow, wide),
        "body_ply": "steel" if draw(COIN) else "textile",
        "crown_thickness_mm": between(draw, thin, thick),
        "traits": _named_or_complete(draw, TRAITS, marking_facts.implied, wild="traits" in wild),
        "maker_policy": {name: value for name, value in policy.items() if value is not None},
    }
    return tyre, on


_NEVER_BOTH: Final = ("tube_type", "run_flat")
"""A tyre that is both is refused."""


def _named_or_complete(
    draw: st.DrawFn, names: tuple[str, ...], implied: tuple[str, ...], *, wild: bool
) -> dict[str, bool]:
    """Yes-or-no facts one by one, or those that are so and that there are no more."""
    so = {*implied, *(draw(st.sets(st.sampled_from(names), max_size=2)) if wild else ())}
    if so.issuperset(_NEVER_BOTH):
        so -= {next(one for one in _NEVER_BOTH if one not in implied)}
    return {"complete": True, **dict.fromkeys(sorted(so), True)} if draw(COIN) else {n: n in so for n in names}


_AXLES: Final = st.sampled_from(("front", "rear", "steer", "drive", "trailer", "spare"))
_FITMENTS: Final = st.sampled_from(("single", "dual", "dual_inner", "dual_outer"))


def _position(draw: st.DrawFn, kind: str) -> Json:
    axle = draw(_AXLES)
    return {
        "axle": axle,
        "steered": axle == "steer" or (axle == "front" and (kind != "trailer" or draw(COIN))),
        "fitment": "single" if kind in NEVER_IN_PAIRS else draw(_FITMENTS),
    }


_LIKELY_REGIONS: Final = st.sampled_from(("tread", "tread", "shoulder", "sidewall", "bead"))
_LIKELY_DEPTHS: Final = st.sampled_from(("through", "through", "to_cord", "rubber_only"))
SMALL: Final = st.sampled_from((2.0, 3.0, 4.0, 4.5, 5.0, 6.0))
LIMITS: Final = (6.0, 6.1, 8.0, 9.0, 9.5, 9.6, 10.0)
_LEAN: Final = st.integers(0, 30)
_ANY_LEAN: Final = st.integers(0, 80)
_TOWARD: Final = st.integers(0, 360)
_OFF_CENTRE: Final = st.integers(-1000, 1000)


def _injury(draw: st.DrawFn, marking_facts: MarkingFacts, tyre: Json, *, wild: bool) -> Json:
    region = draw(_LIKELY_REGIONS) if wild else "tread"
    depth = draw(_LIKELY_DEPTHS) if wild else "through"
    widest = widest_across(marking_facts, region)
    injury = {
        "region": region,
        "depth": depth,
        "across_mm": round(draw(_OFF_CENTRE) / 1000 * widest * (0.999 if wild else 0.8), 2),
        "around_mm": between(draw, 0, marking_facts.circumference.high),
        "diameter_mm": near(draw, LIMITS, 0.5, 60) if wild else draw(SMALL),
    }
    if depth == "rubber_only":
        # It has no channel: nothing to prepare, no lean, no inside.
        return {
            **injury,
            "plugged_from_outside": False,
            "object_in_place": draw(COIN),
            "stage": "found",
            "measured_from": "outside",
        }
    through = depth == "through"
    injury |= {
        "plugged_from_outside": wild and draw(COIN),
        "stage": "prepared" if through and draw(COIN) else "found",
        "measured_from": "inside" if through and draw(COIN) else "outside",
        "lean_deg": draw(_ANY_LEAN if wild else _LEAN),
        "lean_toward_deg": draw(_TOWARD),
        "emerges_in": "lug" if draw(COIN) else "groove",
    }
    injury["object_in_place"] = injury["stage"] == "found" and not injury["plugged_from_outside"] and draw(COIN)
    other = other_side(injury, tyre)
    if through and abs(other) <= widest_across(marking_facts, None) and draw(COIN):
        injury["other_side_across_mm"] = other
    return injury


def other_side(injury: Json, tyre: Json) -> float:
    """Where across the tread the channel comes out on the other side, by the shift `t tan theta cos phi`, mm."""
    thickness = tyre["crown_thickness_mm"] + (tyre["tread_depth_mm"] if injury["emerges_in"] == "lug" else 0)
    inward = thickness * tan(radians(injury["lean_deg"])) * cos(radians(injury["lean_toward_deg"]))
    return float(injury["across_mm"] + (inward if injury["measured_from"] == "outside" else -inward))


_SOUND_METHODS: Final = st.sampled_from(("one_piece", "two_piece"))
_METHODS: Final = st.sampled_from(("one_piece", "two_piece", "plug_only", "patch_only", "section"))


def _earlier_repairs(
    draw: st.DrawFn,
    edition: Edition,
    of: TyreClass,
    marking_facts: MarkingFacts,
    numbers: tuple[int, int],
    *,
    wild: bool,
) -> list[Json]:
    least, most = numbers
    widest = widest_across(marking_facts, "tread")
    smallest, largest = estimate(edition, of, "patch", marking_facts)

    def repair() -> Json:
        method = draw(_METHODS if wild else _SOUND_METHODS)
        return {
            "method": method,
            # Half a repair is never a proper one.
            "proper": method not in METHODS_BY_HALVES and (draw(COIN) if wild else True),
            "across_mm": round(draw(_OFF_CENTRE) / 1000 * widest * 0.999, 2),
            "around_mm": between(draw, 0, marking_facts.circumference.high),
            "measured_from": "inside" if draw(COIN) else "outside",
            "patch_mm": between(draw, 5, 200) if wild else between(draw, smallest, largest / 2),
        }

    return [repair() for _ in range(draw(st.integers(least, most if wild else max(least, min(most, 1)))))]


_TAME_PRESSURE: Final = st.integers(81, 110)


def _history(draw: st.DrawFn, *, wild: bool) -> Json:
    history: Json = {**_named_or_complete(draw, ("driven_flat", "sealant_used"), (), wild=wild)}
    history["pressure_found_percent"] = near(draw, (0, 79, 80, 81), 0, 120) if wild else draw(_TAME_PRESSURE)
    history["losing_air"] = draw(COIN)
    if history.get("driven_flat"):
        history["flat_distance_km"] = between(draw, 1, 90)
    return history


def deep(value: Any) -> Any:
    """A copy of a case that shares nothing with it."""
    if isinstance(value, dict):
        return {name: deep(inner) for name, inner in value.items()}
    return [deep(inner) for inner in value] if isinstance(value, list) else value
