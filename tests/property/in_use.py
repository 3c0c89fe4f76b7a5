"""Tyres in use: full cases with their vehicle's speed, their axle's load, their maker's word and the tyres beside them.

What a case may leave out is drawn as it is reckoned with when it is left out: a moulded load that agrees with the load
index, and diameters that the size and the wear allow.
"""

from __future__ import annotations

from typing import Final

from hypothesis import strategies as st
from tests.property.cases import (
    MARKINGS,
    TERSE_MARKINGS,
    Drawn,
    between,
    classes_of,
    contract_bounds,
    deep,
    estimate,
    full_cases,
)
from tests.property.judging import Json
from tests.property.vague import get, put, span, vaguer

from mendgauge.case.fields import pattern_of
from mendgauge.core.interval import Interval
from mendgauge.facts.position import diameter
from mendgauge.tyre.load import load_of
from mendgauge.tyre.marking_facts import MarkingFacts, marking_facts_of

SPEEDS: Final = st.sampled_from((80, 90, 100, 130, 190, 205, 210, 211, 225, 240, 241, 255, 270, 300, 330))
SHARES: Final = st.sampled_from((0.3, 0.85, 0.9, 0.91, 0.955, 0.97, 0.99, 1.0, 1.001, 1.2))
"""Of the axle's load by the load index: about every point where a rule turns."""

_COIN: Final = st.booleans()
_RATINGS: Final = st.sampled_from((None, "retained", "retained", "void", "capped"))
_CAPS: Final = st.sampled_from((None, 80, 130, 180, 240, 300))
_MATE_MARKINGS: Final = st.sampled_from(MARKINGS)
_DIFFERENCES: Final = st.sampled_from((0.0, 3.0, 6.3, 6.4, 9.5, 9.6, 12.7, 12.8, 30.0))
_WIDENINGS: Final = st.sampled_from((0.0, 0.001, 0.01, 0.1, 1.0))


@st.composite
def in_use(draw: st.DrawFn, markings: tuple[str, ...] = MARKINGS + TERSE_MARKINGS) -> Drawn:
    """A full case of a tyre in use."""
    drawn: Drawn = draw(full_cases(markings=markings, injuries=(0, 1), earlier=(0, 1)))
    case, marking_facts = deep(drawn.case), drawn.marking_facts
    index, dual = load_of(marking_facts.marking), case["position"]["fitment"] != "single"
    kg = index.single_kg if index else 800.0
    if dual and index and index.dual_kg:
        kg = index.dual_kg
    case["vehicle"]["max_speed_kmh"] = draw(SPEEDS)
    tyres = 1 if case["vehicle"]["kind"] == "motorcycle" else 4 if dual else 2
    case["position"]["axle_load_kg"] = min(round(kg * tyres * draw(SHARES), 1), 50_000)
    _moulded(draw, case, marking_facts)
    policy = case["tyre"]["maker_policy"]
    if rating := draw(_RATINGS):
        policy["speed_rating_after_repair"] = rating
        if rating == "capped" and (cap := draw(_CAPS)):
            policy["speed_cap_kmh"] = cap
    service = case.setdefault("in_service", {})
    service |= {"winter_tyre": draw(_COIN), "speed_label": draw(_COIN)}
    own = _diameter(draw, drawn, marking_facts, case["tyre"]["tread_depth_mm"])
    service["overall_diameter_mm"] = own
    service["axle_mates"] = [] if case["position"]["axle"] == "spare" else _others(draw, drawn, own, dual=dual)
    return Drawn(case, drawn.edition, marking_facts)


def _moulded(draw: st.DrawFn, case: Json, marking_facts: MarkingFacts) -> None:
    index = load_of(marking_facts.marking)
    if not draw(_COIN):
        return
    share = draw(st.sampled_from((0.97, 0.986, 1.0))) if marking_facts.marking.light_truck else 1.0
    case["tyre"]["max_load_kg"] = index.single_kg * share if index else 800.0
    if index and index.dual_kg:
        case["in_service"] = {"max_load_dual_kg": index.dual_kg * share}


def _diameter(draw: st.DrawFn, drawn: Drawn, marking_facts: MarkingFacts, tread: float) -> float:
    may_be = _diameters(drawn, marking_facts, tread)
    return between(draw, may_be.low, may_be.high)


def _diameters(drawn: Drawn, marking_facts: MarkingFacts, tread: float) -> Interval:
    """The diameters that the size and the wear allow under every class the tyre may be of, mm."""
    deepest = min(
        estimate(drawn.edition, of, "tread_depth", marking_facts)[1] for of in classes_of(drawn.marking_facts)
    )
    return diameter(marking_facts, Interval(tread, tread), deepest, drawn.edition.workshop.diameter_spread[0])


def _others(draw: st.DrawFn, drawn: Drawn, own: float, *, dual: bool) -> list[Json]:
    places = ["dual_mate", *(["other_end"] if draw(_COIN) else [])] if dual else ["other_end"] * draw(_COIN)
    return [_mate(draw, drawn, place, own) for place in places]


def _mate(draw: st.DrawFn, drawn: Drawn, place: str, own: float) -> Json:
    marking = drawn.case["tyre"]["marking"] if draw(_COIN) or draw(_COIN) else draw(_MATE_MARKINGS)
    marking_facts, tread = marking_facts_of(marking), between(draw, 0, 12)
    may_be = _diameters(drawn, marking_facts, tread)
    wanted = round(own + draw(_DIFFERENCES), 1)
    across = wanted if may_be.low <= wanted <= may_be.high else _diameter(draw, drawn, marking_facts, tread)
    return {"place": place, "marking": marking, "tread_depth_mm": tread, "overall_diameter_mm": across}


@st.composite
def ever_vaguer(draw: st.DrawFn) -> tuple[Json, Json, Json]:
    """A full case of a tyre in use, the same known less well, and less well again."""
    drawn: Drawn = draw(in_use())
    partly = draw(vaguer(drawn, draw(widened(drawn.case))))
    return drawn.case, partly, draw(vaguer(drawn, draw(widened(partly))))


@st.composite
def widened(draw: st.DrawFn, case: Json) -> Json:
    """A case with some of what only its use asks for known as a range."""
    pointers = _pointers(case)
    for pointer in draw(st.lists(st.sampled_from(pointers), unique=True, max_size=4)) if pointers else ():
        value = get(case, pointer)
        low, high = span(value)
        least, most = contract_bounds(pattern_of(pointer)) or (low, high)
        case = put(
            case,
            pointer,
            {"low": low - (low - least) * draw(_WIDENINGS), "high": high + (most - high) * draw(_WIDENINGS)},
        )
    return case


def _pointers(case: Json) -> list[str]:
    mates = get(case, "/in_service/axle_mates") or []
    # Not the moulded loads: one that nobody gave is taken to be the index's, so that a range of it, taken away again,
    # would leave less open than the range did.
    every = (
        "/vehicle/max_speed_kmh",
        "/position/axle_load_kg",
        "/in_service/overall_diameter_mm",
        *(f"/in_service/axle_mates/{index}/overall_diameter_mm" for index in range(len(mates))),
    )
    return [pointer for pointer in every if get(case, pointer) is not None]
