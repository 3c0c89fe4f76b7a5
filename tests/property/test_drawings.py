"""Whatever is known of a tyre, its drawing is well formed, within its sheet, and the same each time."""

from __future__ import annotations

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from tests.drawn import Drawn
from tests.property.cases import full_cases
from tests.property.effort import share
from tests.property.judging import Json
from tests.property.vague import full_or_vague

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.drawings import draw_tyre


@st.composite
def any_case(draw: st.DrawFn) -> Json:
    return draw(full_or_vague(draw(full_cases())))


@share(0.2)
@given(any_case())
def test_a_drawing_of_any_case_stays_within_its_sheet(case: Json) -> None:
    asked = msgspec.convert(case, Case)
    try:
        picture = draw_tyre(asked)
    except CaseError:
        return
    drawn = Drawn(picture.svg)
    assert not drawn.off_the_sheet()
    assert "nan" not in picture.svg
    assert "inf" not in picture.svg.replace("inflat", "")
    assert drawn.description == picture.description
    assert draw_tyre(asked).svg == picture.svg
