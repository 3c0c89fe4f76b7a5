"""The verdict is sound: completing an unknown or narrowing a range never overturns a firm verdict."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import MARKINGS, TERSE_MARKINGS, Drawn, full_cases
from tests.property.effort import share
from tests.property.houses import with_house_rules
from tests.property.judging import Json, judge, possible
from tests.property.vague import vaguer


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
