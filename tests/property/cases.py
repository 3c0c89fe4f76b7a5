"""Full cases: everything known, nothing contradicting anything, under any rulebook and on any tyre.

Values lie thick about the limits of the trade, and thin elsewhere. A case is drawn as the JSON a caller sends.
"""

from __future__ import annotations

from datetime import date, timedelta
from math import cos, radians, tan
from typing import Any, Final, NamedTuple, TypeVar, get_args

from hypothesis import strategies as st
from tests.property.judging import Json

from mendgauge.facts import SIGNS, TRAITS, Frame, frame_of
from mendgauge.rulebooks import Edition, list_editions
from mendgauge.rulebooks.schema import Provision
from mendgauge.vehicle_class import TyreClass
from mendgauge.words import Region

P = TypeVar("P", bound=Provision)

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
"""Without speed, load or circumference: what is missing there no other field can tell."""

EDITIONS: Final = list_editions()
DAYS: Final = (date(2021, 1, 31), date(2021, 2, 1), date(2026, 11, 24))


class Drawn(NamedTuple):
    """A full case, with what its marking and its book say of it."""

    case: Json
    edition: Edition
    frame: Frame

    def __repr__(self) -> str:
        return f"{self.edition.reference}, {self.case['tyre']['marking']}"

    @property
    def of(self) -> TyreClass:
        kind = self.case["vehicle"]["kind"]
        return classes_of(self.frame, kind)[0]


def classes_of(frame: Frame, kind: str | None = None) -> tuple[TyreClass, ...]:
    """The classes of limits that a marking leaves possible, on a kind of vehicle or on any."""
    return tuple(dict.fromkeys(use.tyre_class for use in frame.uses if kind in (None, use.kind)))


def estimate(edition: Edition, of: TyreClass, dimension: str, frame: Frame) -> tuple[float, float]:
    """The span a dimension lies in when nobody measured it, by the edition's own estimates, mm."""
    entry = next(one for one in edition.workshop.estimates if one.dimension == dimension and of in one.classes)
    width = frame.section_width
    if entry.low_share_of_section_width is not None and entry.high_share_of_section_width is not None:
        return entry.low_share_of_section_width * width.low, entry.high_share_of_section_width * width.high
    return entry.low_mm or 0.0, entry.high_mm or 0.0


def widest_across(frame: Frame, region: str | None) -> float:
    """How far from the centre line a place in a region of a tyre may be, mm, by the tyre and by the contract."""
    return min(frame.section_width.high / 2 if region == "tread" else frame.half_profile, 1000)


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers with one decimal place from `low` to `high`."""
    return st.integers(-int(-low * 10 // 1), int(high * 10 // 1)).map(lambda tenth: tenth / 10)


AREAS: Final = ("age", "tread", "crown", "traits", "policy", "injuries", "earlier_repairs", "inspection", "history")
"""Parts of a case. Most are drawn tame, so that a verdict hangs on the few that are not."""


@st.composite
def full_cases(
    draw: st.DrawFn,
    markings: tuple[str, ...] = MARKINGS,
    injuries: tuple[int, int] = (0, 3),
    earlier: tuple[int, int] = (0, 2),
) -> Drawn:
    """A full case; the numbers of its injuries and earlier repairs lie between the ends given."""
    wild = draw(st.sets(st.sampled_from(AREAS), max_size=2))
    edition = draw(st.sampled_from(EDITIONS))
    marking = draw(st.sampled_from(markings))
    frame = frame_of(marking)
    kind = draw(st.sampled_from(frame.kinds))
    of = classes_of(frame, kind)[0]
    on = draw(st.sampled_from(DAYS))
    tyre = {"marking": marking, **draw(_tyres(edition, of, frame, on, wild))}
    case = {
        "rulebook": edition.reference,
        "assessed_on": on.isoformat(),
        "vehicle": {
            "kind": kind,
            "gross_mass_kg": draw(st.sampled_from((1900, 3500, 3501, 18_000)) | st.integers(100, 44_000)),
            "max_speed_kmh": draw(st.sampled_from((90, 160, 215, 260))),
        },
        "position": draw(_positions()),
        "tyre": tyre,
        "injuries": draw(_some(_injuries(frame, tyre, wild="injuries" in wild), injuries)),
        "earlier_repairs": draw(_earlier_repairs(edition, of, frame, earlier, wild="earlier_repairs" in wild)),
        "inspection": draw(_told_or_complete(SIGNS, (), wild="inspection" in wild)),
        "history": draw(_histories(wild="history" in wild)),
    }
    if house := draw(st.none() | house_rules(edition, frame)):
        case["house_rules"] = house
    return Drawn(case, edition, frame)


def _some(items: st.SearchStrategy[Json], numbers: tuple[int, int]) -> st.SearchStrategy[list[Json]]:
    """Lists within a number of items, a single one drawn as often as all the others."""
    least, most = numbers
    lists = st.lists(items, min_size=least, max_size=most)
    return lists | st.lists(items, min_size=1, max_size=1) if least <= 1 <= most else lists


def _date_codes(on: date, oldest_weeks: int) -> st.SearchStrategy[str]:
    def code(weeks: int) -> str:
        year, week, _ = (on - timedelta(weeks=weeks)).isocalendar()
        return f"{min(week, 52):02d}{year % 100:02d}"

    return st.integers(4, oldest_weeks).map(code)


@st.composite
def _tyres(draw: st.DrawFn, edition: Edition, of: TyreClass, frame: Frame, on: date, wild: set[str]) -> Json:
    # A tread deeper than the estimate of any class the marking leaves would make that class's unknown wider, not less.
    deepest = min(estimate(edition, each, "tread_depth", frame)[1] for each in classes_of(frame))
    new = draw(tenths(8, deepest))
    widths = estimate(edition, of, "tread_width", frame)
    thicknesses = estimate(edition, of, "crown_thickness", frame)
    policy: Json = {"repair": "permitted"}
    if "policy" in wild:
        policy["repair"] = draw(st.sampled_from(("permitted", "forbidden", None)))
        policy["max_repairs"] = draw(st.sampled_from((None, 0, 1, 2, 3)))
    crown = "crown" in wild
    return {
        "date_code": draw(_date_codes(on, 900 if "age" in wild else 300)),
        "new_tread_depth_mm": new,
        "tread_depth_mm": draw(
            st.sampled_from((1.0, 1.5, 1.6, 1.7, 3.2)) | tenths(0, new) if "tread" in wild else tenths(3, 8)
        ),
        "tread_width_mm": draw(tenths(widths[0] * 0.7, min(widths[1] * 1.2, 1000)) if crown else tenths(*widths)),
        "crown_thickness_mm": draw(tenths(1, 40) if crown else tenths(*thicknesses)),
        "max_load_kg": draw(st.sampled_from((615, 1215, 4000))),
        "body_ply": draw(st.sampled_from(("steel", "textile"))),
        "traits": draw(_told_or_complete(TRAITS, frame.told_by_marking, wild="traits" in wild)),
        "maker_policy": {name: value for name, value in policy.items() if value is not None},
    }


@st.composite
def _told_or_complete(draw: st.DrawFn, names: tuple[str, ...], surely: tuple[str, ...], *, wild: bool) -> Json:
    """Yes-or-no facts told one by one, or those that are so and the word that there are no more."""
    so = {*surely, *(draw(st.sets(st.sampled_from(names), max_size=2)) if wild else ())}
    return {"complete": True, **dict.fromkeys(sorted(so), True)} if draw(st.booleans()) else {n: n in so for n in names}


_STEERED: Final = {"steer": (True,), "front": (True, False)}


@st.composite
def _positions(draw: st.DrawFn) -> Json:
    axle = draw(st.sampled_from(("front", "rear", "steer", "drive", "trailer", "spare")))
    return {
        "axle": axle,
        "steered": draw(st.sampled_from(_STEERED.get(axle, (False,)))),
        "fitment": draw(st.sampled_from(("single", "dual", "dual_inner", "dual_outer"))),
        "axle_load_kg": draw(st.sampled_from((500, 980, 7100))),
    }


SMALL: Final = st.sampled_from((2.0, 3.0, 4.0, 4.5, 5.0, 6.0))
ANY_SIZE: Final = st.sampled_from((6.0, 6.1, 8.0, 9.0, 9.5, 9.6, 10.0)) | tenths(0.5, 60)


@st.composite
def _injuries(draw: st.DrawFn, frame: Frame, tyre: Json, *, wild: bool) -> Json:
    region = draw(st.sampled_from(("tread", "tread", "shoulder", "sidewall", "bead"))) if wild else "tread"
    depth = draw(st.sampled_from(("through", "through", "to_cord", "rubber_only"))) if wild else "through"
    widest = widest_across(frame, region)
    injury = {
        "region": region,
        "depth": depth,
        "across_mm": draw(tenths(-widest, widest) if wild else tenths(-widest * 0.8, widest * 0.8)),
        "around_mm": draw(tenths(0, frame.circumference.high)),
        "diameter_mm": draw(SMALL | ANY_SIZE if wild else SMALL),
    }
    if depth == "rubber_only":
        # It has no channel: nothing to prepare, no lean, no inside.
        return {**injury, "stage": "found", "measured_from": "outside"}
    injury |= {
        "stage": draw(st.sampled_from(("found", "prepared"))),
        "measured_from": draw(st.sampled_from(("outside", "inside"))),
        "lean_deg": draw(st.integers(0, 80) if wild else st.integers(0, 30)),
        "lean_toward_deg": draw(st.integers(0, 360)),
        "emerges_in": draw(st.sampled_from(("groove", "lug"))),
    }
    other = other_side(injury, tyre)
    if abs(other) <= widest_across(frame, None) and draw(st.booleans()):
        injury["other_side_across_mm"] = other
    return injury


def other_side(injury: Json, tyre: Json) -> float:
    """Where across the tread the channel comes out on the other side, by the shift `t tan theta cos phi`, mm."""
    thickness = tyre["crown_thickness_mm"] + (tyre["tread_depth_mm"] if injury["emerges_in"] == "lug" else 0)
    inward = thickness * tan(radians(injury["lean_deg"])) * cos(radians(injury["lean_toward_deg"]))
    return float(injury["across_mm"] + (inward if injury["measured_from"] == "outside" else -inward))


@st.composite
def _earlier_repairs(
    draw: st.DrawFn, edition: Edition, of: TyreClass, frame: Frame, numbers: tuple[int, int], *, wild: bool
) -> list[Json]:
    least, most = numbers
    widest = widest_across(frame, "tread")
    smallest, largest = estimate(edition, of, "patch", frame)
    methods = ("one_piece", "two_piece", *(("plug_only", "patch_only", "section") if wild else ()))

    def repair() -> Json:
        return {
            "method": draw(st.sampled_from(methods)),
            "proper": draw(st.booleans()) if wild else True,
            "across_mm": draw(tenths(-widest, widest)),
            "around_mm": draw(tenths(0, frame.circumference.high)),
            "measured_from": draw(st.sampled_from(("outside", "inside"))),
            "patch_mm": draw(tenths(5, 200) if wild else tenths(smallest, largest / 2)),
        }

    return [repair() for _ in range(draw(st.integers(least, most if wild else max(least, min(most, 1)))))]


@st.composite
def _histories(draw: st.DrawFn, *, wild: bool) -> Json:
    told: Json = draw(_told_or_complete(("driven_flat", "sealant_used"), (), wild=wild))
    told["pressure_found_percent"] = draw(st.sampled_from((0, 79, 80, 81, 100)) if wild else st.integers(81, 110))
    if told.get("driven_flat"):
        told["flat_distance_km"] = draw(st.integers(0, 90))
    return told


def _strictest(draw: st.DrawFn, least: float, limits: list[float]) -> float:
    """A largest value that no limit of the book is stricter than."""
    return draw(st.sampled_from((least, min(limits))) | tenths(least, min(limits)))


def _laxest(draw: st.DrawFn, limits: list[float], most: float) -> float:
    """A least value that no limit of the book is stricter than."""
    return draw(st.sampled_from((max(limits), most)) | tenths(max(limits), most))


@st.composite
def house_rules(draw: st.DrawFn, edition: Edition, frame: Frame) -> Json:
    """House rules no looser than the book is for any vehicle the marking allows."""
    book = edition.book

    def of_any(entries: tuple[P, ...]) -> list[P]:
        return [entry for entry in entries if set(entry.classes) & set(classes_of(frame))]

    sizes = [min(entry.found_to_mm, entry.prepared_to_mm) for entry in of_any(book.injury_size)]
    counts = [entry.max_repairs for entry in of_any(book.repair_count)]
    leans = [entry.max_deg for entry in of_any(book.lean)]
    house: dict[str, Any] = {
        "max_injury_mm": lambda: _strictest(draw, 1, [*sizes, 40]),
        "max_repairs": lambda: draw(st.integers(0, min([*counts, 3]))),
        "min_spacing_mm": lambda: _laxest(draw, [0, *(entry.min_mm for entry in of_any(book.spacing))], 900),
        "min_tread_mm": lambda: _laxest(draw, [0, *(entry.min_mm for entry in of_any(book.tread_depth))], 8),
        "max_age_years": lambda: draw(tenths(1, min([*(entry.under_years for entry in of_any(book.age)), 16]))),
        "max_lean_deg": lambda: _strictest(draw, 0, [*leans, 60]),
        "refuse_steer_axle": lambda: True,
        "refuse_regions": lambda: draw(st.lists(st.sampled_from(get_args(Region)), unique=True, min_size=1)),
        "refuse_special_tyres": lambda: draw(st.lists(st.sampled_from(TRAITS), unique=True, min_size=1, max_size=3)),
        "refuse_speed_v_and_above": lambda: True,
        "refuse_without_maker_approval": lambda: True,
    }
    return {name: house[name]() for name in draw(st.lists(st.sampled_from(tuple(house)), unique=True, max_size=3))}


def maker_must_consent(drawn: Drawn) -> bool:
    """Whether the book, the kind of tyre under it or the house makes the maker's word a condition of the repair."""
    if drawn.case.get("house_rules", {}).get("refuse_without_maker_approval"):
        return True
    book = drawn.edition.book
    policies = _of_class(book.maker_policy, drawn.of)
    special = [
        entry
        for entry in _of_class(book.special_tyres, drawn.of)
        if entry.tyre in drawn.frame.told_by_marking or drawn.case["tyre"]["traits"].get(entry.tyre)
    ]
    return (bool(policies) and all(entry.consent_required for entry in policies)) or any(
        entry.treatment == "maker_decides" and entry.unconditional for entry in special
    )


def _of_class(entries: tuple[P, ...], of: TyreClass) -> list[P]:
    return [entry for entry in entries if of in entry.classes]


def deep(value: Any) -> Any:
    """A copy of a case that shares nothing with it."""
    if isinstance(value, dict):
        return {name: deep(inner) for name, inner in value.items()}
    return [deep(inner) for inner in value] if isinstance(value, list) else value
