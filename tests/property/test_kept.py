"""What is kept between cases never changes an answer: not after others that share all but a few facts with one."""

from __future__ import annotations

import functools
import sys
from collections.abc import Iterator
from typing import Any, Final

from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.judging import Json, judge
from tests.property.vague import full_or_vague

ROOMS: Final = ("mendgauge.judging", "mendgauge.answers", "mendgauge.operations.repairability")
"""Where what is kept hangs on facts of a case."""


def caches() -> Iterator[Any]:
    """Yield every function of those rooms whose results are kept."""
    for name, module in tuple(sys.modules.items()):
        if name.startswith(ROOMS):
            yield from (one for one in vars(module).values() if isinstance(one, functools._lru_cache_wrapper))


def forget() -> None:
    for one in caches():
        one.cache_clear()


@st.composite
def near_cases(draw: st.DrawFn) -> list[Json]:
    """One tyre as three callers may know it."""
    drawn: Drawn = draw(full_cases())
    return [draw(full_or_vague(drawn)) for _ in range(3)]


def test_there_is_something_to_forget() -> None:
    judge_by_yes_no = "mendgauge.judging.assessment.judged_by_yes_no"
    assert judge_by_yes_no in {f"{one.__module__}.{one.__name__}" for one in caches()}


@share(0.2)
@given(near_cases())
def test_an_answer_is_the_same_after_near_cases_as_from_nothing_kept(cases: list[Json]) -> None:
    alone = []
    for case in cases:
        forget()
        alone.append(judge(case))
    forget()
    for case in cases:
        judge(case)
    assert [judge(case) for case in reversed(cases)] == alone[::-1]
