"""House rules only tighten: with them no verdict is better than without."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.houses import house_rules
from tests.property.judging import Json, never_better
from tests.property.vague import full_or_vague


@st.composite
def with_and_without(draw: st.DrawFn) -> tuple[Json, Json]:
    drawn: Drawn = draw(full_cases())
    case = draw(full_or_vague(drawn))
    return {**case, "house_rules": draw(house_rules(drawn.edition, drawn.marking_facts))}, case


@share(0.3)
@given(with_and_without())
def test_a_house_rule_never_makes_a_verdict_better(cases: tuple[Json, Json]) -> None:
    assert never_better(*cases)
