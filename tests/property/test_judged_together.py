"""Rules that are judged together, once for all tyres of which the same is known, come to what each says of its own."""

from __future__ import annotations

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.judging import Json
from tests.property.vague import full_or_vague

from mendgauge.case.case import Case
from mendgauge.intake.intake import take_in
from mendgauge.judging.assessment import Judged, assess_tyre
from mendgauge.rules.outcome import MET


@st.composite
def any_case(draw: st.DrawFn) -> Json:
    drawn: Drawn = draw(full_cases())
    return draw(full_or_vague(drawn))


@share(0.3)
@given(any_case())
def test_a_rule_comes_to_the_same_alone(case: Json) -> None:
    intake = take_in(msgspec.convert(case, Case))
    for use in intake.uses:
        one = assess_tyre(intake.facts(use), intake.edition)
        together = {judged.key: judged.found for judged in one.notable}
        alone = (Judged(rule, subject, rule.outcome(subject)) for rule, subject in one.each_rule())
        assert together == {judged.key: judged.found for judged in alone if judged.found != MET}
