"""The steps of a plan as the answer gives them: those of the procedure, then with the case's own figures and times."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import msgspec
from msgspec.structs import replace

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.operations.work_plans.answer import TimePart, WorkStep
from mendgauge.operations.work_plans.case_figures import case_figures, cures
from mendgauge.operations.work_plans.conditions import JobConditions
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.step_selection import PickedStep, named_at, pick_step, step_parameter
from mendgauge.operations.work_plans.step_times import Timed, step_time
from mendgauge.rulebooks.schema.procedure import Circumstance


class Ready(msgspec.Struct, frozen=True, eq=False):
    """A step as far as it does not hang on the case's own figures, and without any of its figures."""

    picked: PickedStep
    step: WorkStep
    times: tuple[TimePart, ...]


def ready_steps(bound: BoundEdition, conditions: JobConditions) -> tuple[Ready, ...]:
    """Return the steps under some conditions in the order of the work, without the case's own figures."""
    all_named = _named_at_steps(bound)
    seen = {one: conditions.as_named(one[0], per_injury=one[1]) for one in set(all_named)}
    found = [_ready_step(bound, seen[one], place) for place, one in enumerate(all_named)]
    return tuple([one for one in found if one is not None])


@lru_cache(maxsize=64)
def _named_at_steps(bound: BoundEdition) -> tuple[tuple[frozenset[Circumstance], bool], ...]:
    """Return for each step of the procedure which circumstances it can hang on, and whether it is done per injury."""
    procedure = bound.edition.procedure
    return tuple((named_at(procedure, rule), rule.per_injury) for rule in procedure.steps)


@lru_cache(maxsize=4096)
def _ready_step(bound: BoundEdition, conditions: JobConditions, place: int) -> Ready | None:
    """Return one step of the procedure. Kept by the few circumstances that it hangs on, of the many of a job."""
    step = pick_step(bound, conditions, bound.edition.procedure.steps[place])
    if step is None:
        return None
    time = step_time(bound, conditions, step, {}, {})
    return Ready(step, _step(bound, step, time), time.parts)


def _step(bound: BoundEdition, step: PickedStep, time: Timed) -> WorkStep:
    rule = step.rule
    return WorkStep(
        code=rule.code,
        part=rule.part,
        title=step.title,
        only_if=step.applied.only_if,
        injuries=tuple(injury for injury, _ in step.at),
        do=step.do,
        parameters=(),
        tools=step.tools if bound.full else (),
        minutes=time.minutes,
        times=time.parts if bound.full else (),
        hold=step.hold,
        cautions=step.cautions,
        basis=step.basis if bound.full else None,
        source=step.source if bound.full else None,
    )


def steps_of(job: Job, ready: tuple[Ready, ...]) -> tuple[WorkStep, ...]:
    """Return the steps with the figures and the times of the case.

    What is only perhaps done has no figures in outline.
    """
    house, of_cures = job.house.minutes, cures(job)
    with_figures = job.offer == "offered" or not job.bound.outline
    if not (house or of_cures or with_figures):
        return tuple([one.step for one in ready])
    return tuple(_steps_of_case(job, ready, with_figures=with_figures))


def _steps_of_case(job: Job, ready: tuple[Ready, ...], *, with_figures: bool) -> Iterator[WorkStep]:
    house, of_cures = job.house.minutes, cures(job)
    for one in ready:
        picked, step, times = one.picked, one.step, one.times
        cured = of_cures and any(rule.case is not None for rule, _ in picked.extra_times)
        if cured or (house and any(part.code in house for part in times)):
            time = step_time(job.bound, job.conditions, picked, house, of_cures)
            times = time.parts
            step = replace(step, minutes=time.minutes, times=times if job.bound.full else ())
        if not with_figures:
            yield step
            continue
        figures = tuple(
            step_parameter(figure.name, figure.title, value, applied.only_if, job.bound)
            for figure, applied in picked.figures
            for value in case_figures(job, figure, step.injuries, times)
        )
        shown = figures + picked.parameters
        yield replace(step, parameters=shown) if shown else step
