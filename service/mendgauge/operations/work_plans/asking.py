"""Which missing fields decide the steps, beside those that decide verdict, unit and trim."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Final

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.case.fields import field_at, pattern_of
from mendgauge.core.interval import EITHER
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.work_plans.answer import PlanQuestion
from mendgauge.operations.work_plans.bound_procedure import bound_procedure
from mendgauge.operations.work_plans.conditions import JobConditions, unknown_behind
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.scope import Scope
from mendgauge.operations.work_plans.step_texts import quote
from mendgauge.operations.work_plans.steps import ready_steps

CHECK_CLIMATE: Final = "check_climate"


def questions(job: Job, asked: Sequence[ToEstablish], scope: Scope) -> Iterator[PlanQuestion]:
    """Yield the questions asked already with the steps they decide, then the plan's own in the order of the work."""
    words = job.bound.words.questions
    behind = _steps_behind(job, scope)
    for one in asked:
        decides = tuple(behind.pop(one.field, ()))
        yield PlanQuestion(
            field=one.field,
            asks=one.asks,
            how=one.how,
            asked_at=one.asked_at,
            waits=one.waits,
            parts=one.parts,
            settles=one.settles if job.bound.full else (),
            steps=decides if job.bound.full else (),
        )
    for field, codes in behind.items():
        question, entry = words[pattern_of(field)], field_at(field).entry
        yield PlanQuestion(
            field=field,
            asks=question.asks,
            how=question.how,
            asked_at=entry.asked_at,
            waits=entry.waits,
            settles=(),
            steps=tuple(codes) if job.bound.full else (),
        )


def _steps_behind(job: Job, scope: Scope) -> dict[str, list[str]]:
    """Return the steps that hang on each missing field of the case."""
    found: dict[str, list[str]] = {}
    behind: dict[str, tuple[str, ...]] = {}
    for code, hangs_on in _hanging(scope, job.bound, job.conditions):
        fields: dict[str, None] = {}
        for name in hangs_on:
            if name not in behind:
                behind[name] = unknown_behind(name, job.uses, job.facts, job.climate)
            fields |= dict.fromkeys(behind[name])
        if code == CHECK_CLIMATE and job.climate.stopped == EITHER:
            fields |= dict.fromkeys(job.climate.missing())
        for field in fields:
            found.setdefault(field, []).append(code)
    return found


@lru_cache(maxsize=2048)
def _hanging(scope: Scope, bound: BoundEdition, conditions: JobConditions) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Return the steps that hang on what is open, they or their figures, with the names of that; and the climate's."""
    found = (
        (one.picked.rule.code, tuple(sorted(one.picked.hangs_on | quote(bound, conditions, one.picked).hangs_on)))
        for one in ready_steps(scope, bound_procedure(bound), conditions).ready
    )
    return tuple((code, hangs_on) for code, hangs_on in found if hangs_on or code == CHECK_CLIMATE)
