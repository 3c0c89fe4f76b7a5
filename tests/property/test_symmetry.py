"""A tyre has no left and right and no beginning: mirrored across its centre line or turned about its axle, it is judged
the same.
"""

from __future__ import annotations

from math import pi
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, deep, full_cases
from tests.property.effort import share
from tests.property.judging import Json, judge
from tests.property.settled import NOTHING_OPEN
from tests.property.vague import full_or_vague, put


def same_verdict(one: Json, other: Json) -> bool:
    a, b = judge(one), judge(other)
    return (a.verdict, a.possible_verdicts, a.injuries, a.next_step) == (
        b.verdict,
        b.possible_verdicts,
        b.injuries,
        b.next_step,
    )


def _mirrored_across(value: Any) -> Any:
    if isinstance(value, dict):
        return {"low": -value["high"], "high": -value["low"]}
    return None if value is None else -value


def _mirrored_direction(value: Any) -> Any:
    """180 degrees less the direction, a turn on where that would be negative; a range of directions keeps its width."""
    if isinstance(value, dict):
        turn = 540 if value["low"] >= 180 else 180
        return {"low": turn - value["high"], "high": turn - value["low"]}
    return None if value is None else (180 - value) % 360


def mirrored(case: Json) -> Json:
    mirror: Json = deep(case)
    for injury in mirror.get("injuries") or ():
        for name, flip in (
            ("across_mm", _mirrored_across),
            ("other_side_across_mm", _mirrored_across),
            ("lean_toward_deg", _mirrored_direction),
        ):
            if injury.get(name) is not None:
                injury[name] = flip(injury[name])
    for repair in mirror.get("earlier_repairs") or ():
        if repair.get("across_mm") is not None:
            repair["across_mm"] = _mirrored_across(repair["across_mm"])
    return mirror


@st.composite
def mirrorable(draw: st.DrawFn) -> Json:
    """A case, full or vague, in which no range of directions lies on both sides of 180 degrees: mirrored, such a range
    would run through 0 and could not be written as one.
    """
    drawn: Drawn = draw(full_cases(injuries=(1, 3)))
    case = draw(full_or_vague(drawn))
    for index, injury in enumerate(case.get("injuries") or ()):
        toward = injury.get("lean_toward_deg")
        if isinstance(toward, dict) and toward["low"] < 180 < toward["high"]:
            kept = draw(st.sampled_from(({"low": toward["low"], "high": 180}, {"low": 180, "high": toward["high"]})))
            case = put(case, f"/injuries/{index}/lean_toward_deg", kept)
    return case


@share(0.3)
@given(mirrorable())
def test_mirrored_it_is_judged_the_same(case: Json) -> None:
    assert same_verdict(mirrored(case), case)


@st.composite
def turnable(draw: st.DrawFn) -> tuple[Json, float, float]:
    """A case, its circumference at the tread and the liner's share of it, all places along the tread plain or unknown.

    The size gives the diameter: a place cannot be turned by a share of what nobody knows. Places given at the liner lie
    on a smaller circle: they can be turned along only where its radius is known. Their
    hundredths are all different and no limit has any, so that no distance is a limit to the last bit.
    """
    drawn: Drawn = draw(full_cases(NOTHING_OPEN, injuries=(1, 3)))
    case: Json = deep(drawn.case)
    circumference = drawn.marking_facts.circumference.high
    thickness = case["tyre"]["crown_thickness_mm"] + case["tyre"]["tread_depth_mm"]
    at_liner = 1 - thickness / (circumference / (2 * pi))
    places = [*case["injuries"], *case["earlier_repairs"]]
    vague = draw(st.booleans())
    for index, place in enumerate(places):
        place.pop("other_side_across_mm", None)
        place["around_mm"] = min(place["around_mm"], circumference * 0.9) + 0.0137 * (index + 1)
        if vague:
            place["measured_from"] = "outside"
        elif place["measured_from"] == "inside":
            place["around_mm"] *= at_liner
    if vague:
        for pointer in draw(st.lists(st.sampled_from(_unknowns(case)), unique=True, max_size=5)):
            case = put(case, pointer, None)
    return case, circumference, at_liner


def _unknowns(case: Json) -> list[str]:
    """Fields that may be left out without losing where along the tread a place is to be turned."""
    fields = ["/tyre/tread_width_mm", "/tyre/crown_thickness_mm", "/tyre/tread_depth_mm", "/vehicle/kind"]
    for group in ("injuries", "earlier_repairs"):
        for index, place in enumerate(case[group]):
            fields += [f"/{group}/{index}/{name}" for name in place if name != "measured_from"]
    return fields


def turned(case: Json, by: float, circumference: float, at_liner: float) -> Json:
    """Every place moved along the tread by the same share of a turn."""
    turn: Json = deep(case)
    for place in (*turn["injuries"], *turn["earlier_repairs"]):
        if place.get("around_mm") is not None:
            circle = at_liner if place.get("measured_from") == "inside" else 1.0
            place["around_mm"] = (place["around_mm"] + by * circumference * circle) % (circumference * circle)
    return turn


@share(0.3)
@given(turnable(), st.sampled_from((0.0001, 0.1, 0.25, 0.5, 0.77, 0.999)))
def test_turned_it_is_judged_the_same(case: tuple[Json, float, float], by: float) -> None:
    whole, circumference, at_liner = case
    assert same_verdict(turned(whole, by, circumference, at_liner), whole)
