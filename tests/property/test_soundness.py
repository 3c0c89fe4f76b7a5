"""The verdict is sound: completing an unknown or narrowing a range never overturns a firm verdict."""

from __future__ import annotations

from typing import Final

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import MARKINGS, TERSE_MARKINGS, Drawn, full_cases
from tests.property.effort import share
from tests.property.houses import with_house_rules
from tests.property.judging import Json, judge, possible
from tests.property.vague import full_or_vague, put, vaguer


@st.composite
def ever_vaguer(draw: st.DrawFn) -> tuple[Json, Json, Json]:
    """A full case, the same known less well, and less well again."""
    drawn: Drawn = draw(with_house_rules(draw(full_cases(markings=MARKINGS + TERSE_MARKINGS))))
    partly = draw(vaguer(drawn, drawn.case))
    return drawn.case, partly, draw(vaguer(drawn, partly))


@given(ever_vaguer())
def test_what_becomes_of_a_case_was_possible_before_it_was_known(cases: tuple[Json, Json, Json]) -> None:
    full, partly, barely = cases
    assert possible(full) <= possible(partly) <= possible(barely)


@share(0.1)
@given(ever_vaguer())
def test_a_verdict_is_firm_exactly_when_one_is_possible(cases: tuple[Json, Json, Json]) -> None:
    for case in cases:
        answer = judge(case)
        verdicts = answer.possible_verdicts
        assert verdicts
        assert answer.verdict == (verdicts[0] if len(verdicts) == 1 else "inspect")


IN_FULL: Final = {
    "205/55R16": ("205/55R16 91V", "205/55R16 91H"),
    "225/45ZR17": ("225/45ZR17 (94Y)",),
    "LT265/70R17": ("LT265/70R17 121/118S E",),
    "31x10.50R15LT": ("31x10.50R15LT 109Q",),
    "315/80R22.5": ("315/80R22.5 156/150L",),
    "120/70R17M/C": ("120/70R17M/C 58W",),
}


@st.composite
def more_of_the_marking(draw: st.DrawFn) -> tuple[Json, Json]:
    """A case with the whole marking, and with its size alone."""
    size = draw(st.sampled_from(tuple(IN_FULL)))
    case = draw(full_or_vague(draw(full_cases(markings=IN_FULL[size]))))
    return case, put(case, "/tyre/marking", size)


@share(0.2)
@given(more_of_the_marking())
def test_more_of_the_marking_brings_no_new_verdict(cases: tuple[Json, Json]) -> None:
    in_full, size_alone = cases
    assert possible(in_full) <= possible(size_alone)


TOLERANCES: Final = {"ruler_mm": 1.0, "calliper_mm": 0.2, "depth_gauge_mm": 0.3, "probe_deg": 3.0}


@st.composite
def less_well_measured(draw: st.DrawFn) -> tuple[Json, Json, Json]:
    """A case, the same with the tolerances of some instruments stated, and with larger ones."""
    case = draw(full_or_vague(draw(full_cases())))
    instruments = draw(st.sets(st.sampled_from(tuple(TOLERANCES)), min_size=1))
    measuring = {name: TOLERANCES[name] for name in sorted(instruments)}
    larger = {name: tolerance * 3 for name, tolerance in measuring.items()}
    return case, {**case, "measuring": measuring}, {**case, "measuring": larger}


@share(0.2)
@given(less_well_measured())
def test_a_tolerance_takes_no_verdict_away(cases: tuple[Json, Json, Json]) -> None:
    exact, measured, roughly = cases
    assert possible(exact) <= possible(measured) <= possible(roughly)
