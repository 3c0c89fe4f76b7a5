"""Which missing fields decide the steps, beside those that decide verdict, unit and trim."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from mendgauge.case.fields import field_at, pattern_of
from mendgauge.core.interval import EITHER
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.work_plans.answer import PlanQuestion
from mendgauge.operations.work_plans.conditions import unknown_behind
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.step_texts import quote
from mendgauge.operations.work_plans.steps import Ready

CHECK_CLIMATE: Final = "check_climate"


def questions(job: Job, asked: Sequence[ToEstablish], steps: Sequence[Ready]) -> Iterator[PlanQuestion]:
    """Yield the questions asked already with the steps they decide, then the plan's own in the order of the work."""
    words = job.bound.words.questions
    behind = _steps_behind(job, steps)
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


def _steps_behind(job: Job, steps: Sequence[Ready]) -> dict[str, list[str]]:
    """Return the steps that hang on each missing field of the case."""
    found: dict[str, list[str]] = {}
    behind: dict[str, tuple[str, ...]] = {}
    for step in (one.picked for one in steps):
        fields: dict[str, None] = {}
        for name in sorted(step.hangs_on | quote(job.bound, job.conditions, step).hangs_on):
            if name not in behind:
                behind[name] = unknown_behind(name, job.uses, job.facts, job.climate)
            fields |= dict.fromkeys(behind[name])
        if step.rule.code == CHECK_CLIMATE and job.climate.stopped == EITHER:
            fields |= dict.fromkeys(job.climate.missing())
        for field in fields:
            found.setdefault(field, []).append(step.rule.code)
    return found
