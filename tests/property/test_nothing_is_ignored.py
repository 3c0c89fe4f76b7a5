"""No fact that was reported is ignored: what is wrong with a tyre is found under every book, whatever it runs on."""

from __future__ import annotations

from typing import Any, Final

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.property.effort import share
from tests.property.judging import Json, judge
from tests.property.vague import put

from mendgauge.case.fields import FIELDS
from mendgauge.rulebooks import list_editions
from mendgauge.tyre.marking_facts import marking_facts_of

NOTHING_WRONG: Final = {
    "/position/steered": "says which axle it is",
    "/history/losing_air": "says what the driver may do until it is seen to",
    "/injuries/*/object_in_place": "says whether there is something to take out",
    "/in_service/winter_tyre": "says what the tyre is made for",
    "/in_service/speed_label": "says what the driver can read",
    "/bench/pressure_sensor": "says what the wheel has in it",
}
"""Yes-or-no facts of which neither answer speaks against a repair; that each counts somewhere is tested elsewhere."""

GOOD_WHERE_TRUE: Final = frozenset({"/earlier_repairs/*/proper"})
WRONG: Final = {
    pattern: pattern not in GOOD_WHERE_TRUE
    for pattern, field in FIELDS.items()
    if field.choices == (True, False) and not pattern.endswith("/complete") and pattern not in NOTHING_WRONG
}
"""Every yes-or-no fact of the case, with the answer that speaks against a repair."""

NEWEST: Final = {edition.book.id: edition for edition in reversed(list_editions())}
MARKINGS: Final = ("205/55R16 91V", "205/75R16C 110/108R", "315/80R22.5 156/150L", "100/90-19 57P", "7.50-16")


@st.composite
def sound_tyres(draw: st.DrawFn) -> Json:
    """A tyre with nothing wrong, on anything that it may run on, of which every plies' cord is said or none is."""
    marking = draw(st.sampled_from(MARKINGS))
    return {
        "detail": "full",
        "rulebook": NEWEST[draw(st.sampled_from(sorted(NEWEST)))].reference,
        "assessed_on": "2026-11-26",
        "vehicle": {"kind": draw(st.sampled_from(marking_facts_of(marking).kinds))},
        "tyre": {
            "marking": marking,
            "tread_depth_mm": 5,
            "body_ply": draw(st.sampled_from(("steel", "textile", None))),
            "traits": {"complete": True},
        },
        "injuries": [{"region": "tread", "depth": "through", "across_mm": 0, "diameter_mm": 3, "stage": "found"}],
        "earlier_repairs": [{"method": "one_piece", "proper": True}],
        "inspection": {"complete": True},
        "history": {"complete": True, "pressure_found_percent": 100},
    }


@pytest.mark.parametrize("pattern", WRONG)
@share(0.1)
@given(case=sound_tyres())
def test_a_fact_that_speaks_against_a_repair_is_found(pattern: str, case: Json) -> None:
    reported = put(case, pattern.replace("*", "0"), WRONG[pattern])
    assert spoken_of(reported) > spoken_of(case)


@share(0.1)
@given(case=sound_tyres(), kilometres=st.sampled_from((1, 30, {"low": 1, "high": 90})))
def test_a_distance_driven_flat_is_driven_flat(case: Json, kilometres: Any) -> None:
    assert "run_low" in spoken_of(put(case, "/history/flat_distance_km", kilometres)) - spoken_of(case)


@share(0.1)
@given(case=sound_tyres(), percent=st.sampled_from((0, 40, 80)))
def test_a_pressure_at_or_under_four_fifths_is_run_low(case: Json, percent: float) -> None:
    assert "run_low" in spoken_of(put(case, "/history/pressure_found_percent", percent)) - spoken_of(case)


def spoken_of(case: Json) -> set[str]:
    """The rules that a case breaks, or breaks unless the tyre's maker says otherwise."""
    return {finding.rule for finding in judge(case).findings if finding.outcome in ("broken", "open")}


@pytest.mark.parametrize("pattern", NOTHING_WRONG)
def test_what_speaks_against_nothing_is_still_a_yes_or_no_fact(pattern: str) -> None:
    assert FIELDS[pattern].choices == (True, False)
