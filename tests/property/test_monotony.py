"""What speaks against a tyre never speaks for it: with more of it, neither the best nor the worst verdict gets better.

Each holds of full cases and of vague ones. Where the geometry makes a case better on one count as it makes it worse on
another, the property is stated for the cases in which it cannot.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, Final, TypeAlias

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, deep, full_cases
from tests.property.effort import share
from tests.property.judging import Json, never_better
from tests.property.vague import WHOLE, full_or_vague, get, put, span

from mendgauge.facts.yes_no import SIGNS

Pair: TypeAlias = tuple[Json, Json]
"""A case made worse, and the case."""

BUT_LISTS: Final = tuple(group for group in WHOLE if group not in ("/injuries", "/earlier_repairs"))


def moved(case: Json, pointer: str, by: float, least: float, most: float) -> Json:
    """The case with a measurement moved, at both ends if it is a range, as far as the contract lets it."""
    value: Any = get(case, pointer)
    if value is None:
        return case
    low, high = (max(least, min(end + by, most)) for end in span(value))
    return put(case, pointer, {"low": low, "high": high} if isinstance(value, dict) else low)


@st.composite
def larger_injury(draw: st.DrawFn) -> Pair:
    drawn: Drawn = draw(full_cases(injuries=(1, 3)))
    case = draw(full_or_vague(drawn, BUT_LISTS))
    index = draw(st.integers(0, len(case["injuries"]) - 1))
    by = draw(st.sampled_from((0.1, 0.5, 1, 2, 5, 50)))
    return moved(case, f"/injuries/{index}/diameter_mm", by, 0.1, 500), case


@share(0.2)
@given(larger_injury())
def test_a_larger_injury_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@st.composite
def more_lean(draw: st.DrawFn) -> Pair:
    """A channel that leans more, and is alone or was measured at the liner.

    The end that was measured stays where it is and must be in the band too; |a + t u| is convex in the slope u and
    starts at |a|, so the other end can only lead farther out. But the place at the liner moves with the lean, and may
    move away from a neighbour, unless it is the place that was measured.
    """
    alone = draw(st.booleans())
    drawn: Drawn = draw(full_cases(injuries=(1, 1), earlier=(0, 0)) if alone else full_cases(injuries=(1, 3)))
    for injury in drawn.case["injuries"]:
        # Where it comes out follows from the lean: held fast, it would contradict more of it.
        injury.pop("other_side_across_mm", None)
    case = draw(full_or_vague(drawn, BUT_LISTS))
    leaning = [index for index, injury in enumerate(drawn.case["injuries"]) if injury["depth"] == "through"]
    if not leaning:
        return case, case
    index = draw(st.sampled_from(leaning))
    if not alone:
        case = put(case, f"/injuries/{index}/measured_from", "inside")
    by = draw(st.sampled_from((1, 5, 10, 20, 40)))
    return moved(case, f"/injuries/{index}/lean_deg", by, 0, 80), case


@share(0.2)
@given(more_lean())
def test_more_lean_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@st.composite
def less_tread(draw: st.DrawFn) -> Pair:
    """A more worn tyre, whose one injury comes out in a groove.

    Where a channel comes out on a lug less tread makes a thinner crown, and a leaning channel comes out nearer. Arcs at
    the liner are longer under a thinner crown, so neighbours given by their place at the tread lie farther apart.
    """
    drawn: Drawn = draw(full_cases(injuries=(1, 1), earlier=(0, 0)))
    drawn.case["injuries"][0].pop("other_side_across_mm", None)
    case = put(draw(full_or_vague(drawn, BUT_LISTS)), "/injuries/0/emerges_in", "groove")
    return moved(case, "/tyre/tread_depth_mm", -draw(st.sampled_from((0.1, 0.5, 2, 5))), 0, 50), case


@share(0.2)
@given(less_tread())
def test_less_tread_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@st.composite
def one_more(draw: st.DrawFn, group: str) -> Pair:
    drawn: Drawn = draw(full_cases(injuries=(1, 3), earlier=(1, 3)))
    case = draw(full_or_vague(drawn, BUT_LISTS))
    fewer: Json = deep(case)
    fewer[group].pop(draw(st.integers(0, len(fewer[group]) - 1)))
    return case, fewer


@share(0.2)
@given(one_more("earlier_repairs"))
def test_one_more_earlier_repair_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@share(0.2)
@given(one_more("injuries"))
def test_one_more_injury_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


BAD_SIGNS: Final = [f"/inspection/{sign}" for sign in SIGNS] + [
    "/history/driven_flat",
    "/history/sealant_used",
    "/tyre/traits/temporary_spare",
]


@st.composite
def one_more_bad_sign(draw: st.DrawFn) -> Pair:
    case = draw(full_or_vague(draw(full_cases())))
    return put(case, draw(st.sampled_from(BAD_SIGNS)), True), case


@share(0.2)
@given(one_more_bad_sign())
def test_one_more_bad_sign_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@st.composite
def older(draw: st.DrawFn) -> Pair:
    case = draw(full_or_vague(draw(full_cases())))
    code = get(case, "/tyre/date_code")
    if code is None:
        return case, case
    # By no more than leaves the year in this century, since a date code has but two figures for it.
    made = date.fromisocalendar(2000 + int(code[2:]), int(code[:2]), 1) - timedelta(weeks=draw(st.integers(1, 100)))
    year, week, _ = made.isocalendar()
    return put(case, "/tyre/date_code", f"{min(week, 52):02d}{year % 100:02d}"), case


@share(0.2)
@given(older())
def test_an_older_tyre_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)


@st.composite
def lower_pressure(draw: st.DrawFn) -> Pair:
    case = draw(full_or_vague(draw(full_cases())))
    return moved(case, "/history/pressure_found_percent", -draw(st.integers(1, 60)), 0, 200), case


@share(0.2)
@given(lower_pressure())
def test_less_pressure_is_never_better(pair: Pair) -> None:
    assert never_better(*pair)
