"""What is kept between cases never changes an answer: not after others that share all but a few facts with one."""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable, Iterator
from typing import Any, Final, get_args

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.judging import Json, judge
from tests.property.vague import full_or_vague

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.core.vocabulary import Detail
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_plans.answer import RepairPlan
from mendgauge.rulebooks import find_edition, list_editions
from mendgauge.wording import wording

ROOMS: Final = ("mendgauge.judging", "mendgauge.answers", "mendgauge.operations")
"""Where what is kept hangs on facts of a case."""

READ: Final = (wording, list_editions, find_edition)


def caches() -> Iterator[Any]:
    """Yield every function known in those rooms whose results are kept, but those that read files: what these hold
    hangs on no case, and is slow to read.
    """
    for name, module in tuple(sys.modules.items()):
        if name.startswith(ROOMS):
            kept = (one for one in vars(module).values() if isinstance(one, functools._lru_cache_wrapper))
            yield from (one for one in kept if one not in READ)


CACHES: Final = tuple(caches())


def forget() -> None:
    for one in CACHES:
        one.cache_clear()


@st.composite
def near_cases(draw: st.DrawFn) -> list[Json]:
    """One tyre as three callers may know it."""
    drawn: Drawn = draw(full_cases())
    return [draw(full_or_vague(drawn)) for _ in range(3)]


def test_there_is_something_to_forget() -> None:
    found = {f"{one.__module__}.{one.__name__}" for one in CACHES}
    assert "mendgauge.judging.assessment.judged_by_yes_no" in found
    assert "mendgauge.operations.work_plans.steps.ready_steps" in found


def plan(case: Json) -> RepairPlan | str:
    """A plan, or why the case is refused: what is no contradiction under one book may be one under another."""
    try:
        return plan_repair(msgspec.convert(case, Case))
    except CaseError as refused:
        return str(refused)


@given(near_cases())
@pytest.mark.parametrize("answer", [judge, plan], ids=["check", "plan"])
def test_an_answer_is_the_same_after_near_cases_as_from_nothing_kept(
    answer: Callable[[Json], Any], cases: list[Json]
) -> None:
    alone = []
    for case in cases:
        forget()
        alone.append(answer(case))
    forget()
    for case in cases:
        answer(case)
    assert [answer(case) for case in reversed(cases)] == alone[::-1]


@share(0.2)
@given(full_cases(), st.data(), st.sampled_from(get_args(Detail)))
def test_a_plan_is_the_same_after_those_of_other_books_on_the_same_procedure(
    drawn: Drawn, data: st.DataObject, detail: Detail
) -> None:
    case = {**data.draw(full_or_vague(drawn)), "detail": detail}
    under = [{**case, "rulebook": book} for book in ("gb", "au", "us")]
    alone = []
    for one in under:
        forget()
        alone.append(plan(one))
    forget()
    assert [plan(one) for one in under] == alone
