"""The steps of a plan as the answer gives them: those of the procedure, then with the case's own figures and times."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import msgspec
from msgspec.structs import replace

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.operations.work_plans.answer import TimePart, WorkStep
from mendgauge.operations.work_plans.bound_procedure import BoundProcedure, bound_procedure
from mendgauge.operations.work_plans.case_figures import case_figures, cures
from mendgauge.operations.work_plans.conditions import JobConditions, Named
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.scope import Scope
from mendgauge.operations.work_plans.step_selection import PickedStep, named_at, pick_step, step_parameter
from mendgauge.operations.work_plans.step_texts import Quoted, quote, word_step
from mendgauge.operations.work_plans.step_times import Timed, step_time
from mendgauge.rulebooks.schema.procedure import Procedure, StepRule

_AS_FAR_AS_DECIDED: Final = ("inspection", "decision")
_THE_WHOLE_JOB: Final = ("inspection", "decision", "repair")


class Ready(msgspec.Struct, frozen=True, eq=False):
    """A step as far as it does not hang on the case's own figures, and without any of its figures."""

    picked: PickedStep
    step: WorkStep
    times: tuple[TimePart, ...]


@lru_cache(maxsize=4096)
def ready_steps(scope: Scope, bound: BoundProcedure, conditions: JobConditions) -> tuple[Ready, ...]:
    """Return the steps of a plan that goes so far, in the order of the work, as they are under every book."""
    found: dict[int, Ready] = {}
    for hangs_on, places in _alike(scope, bound.procedure):
        found |= _ready_alike(bound, conditions.as_named(hangs_on), places)
    return tuple([found[place] for place in sorted(found)])


@lru_cache(maxsize=2048)
def worded_steps(scope: Scope, bound: BoundEdition, conditions: JobConditions) -> tuple[Ready, ...]:
    """Return the same steps with what is said at each, which quotes the figures of a book."""
    ready = ready_steps(scope, bound_procedure(bound), conditions)
    return tuple([_worded(bound, one, quote(bound, conditions, one.picked)) for one in ready])


@lru_cache(maxsize=4096)
def _worded(bound: BoundEdition, ready: Ready, quoted: Quoted) -> Ready:
    said = word_step(bound, ready.picked, quoted)
    step = replace(
        ready.step,
        do=said.do,
        tools=said.tools if bound.full else (),
        hold=said.hold,
        basis=said.basis if bound.full else None,
        source=said.source if bound.full else None,
    )
    return Ready(ready.picked, step, ready.times)


@lru_cache(maxsize=256)
def _alike(scope: Scope, procedure: Procedure) -> tuple[tuple[Named, tuple[int, ...]], ...]:
    """Return the circumstances that steps of a plan can hang on, with the places of those steps in the procedure."""
    alike: dict[Named, list[int]] = {}
    for place, rule in enumerate(procedure.steps):
        if _belongs(rule, scope):
            alike.setdefault(named_at(procedure, rule), []).append(place)
    return tuple((hangs_on, tuple(places)) for hangs_on, places in alike.items())


def _belongs(step: StepRule, scope: Scope) -> bool:
    """Return whether a step is done where the plan goes so far."""
    if scope == "leak_search":
        return step.part == "leak_search" or step.for_leak_search
    return scope != "none" and step.part in (_AS_FAR_AS_DECIDED if scope == "inspection" else _THE_WHOLE_JOB)


@lru_cache(maxsize=4096)
def _ready_alike(bound: BoundProcedure, conditions: JobConditions, places: tuple[int, ...]) -> dict[int, Ready]:
    """Return steps that hang on the same few circumstances, by which they are kept, of the many of a job."""
    steps = bound.procedure.steps
    picked = {place: pick_step(bound, conditions, steps[place]) for place in places}
    return {place: _ready(bound, conditions, step) for place, step in picked.items() if step is not None}


def _ready(bound: BoundProcedure, conditions: JobConditions, step: PickedStep) -> Ready:
    time = step_time(bound.procedure, conditions, step, {}, {})
    return Ready(step, _step(bound, step, time), time.parts)


def _step(bound: BoundProcedure, step: PickedStep, time: Timed) -> WorkStep:
    return WorkStep(
        code=step.rule.code,
        part=step.rule.part,
        title=step.title,
        only_if=step.applied.only_if,
        injuries=tuple(injury for injury, _ in step.at),
        minutes=time.minutes,
        times=time.parts if bound.full else (),
        cautions=step.cautions,
    )


def has_figures(job: Job) -> bool:
    """Return whether steps have figures or times of the case's own; in outline none that are only perhaps done."""
    return _with_figures(job) or bool(job.house.minutes) or job.conditions.fill is not None


def _with_figures(job: Job) -> bool:
    return job.offer == "offered" or not job.bound.outline


def steps_of(job: Job, ready: tuple[Ready, ...]) -> tuple[WorkStep, ...]:
    """Return the steps with the figures and the times of the case."""
    return tuple(_steps_of_case(job, ready))


def _steps_of_case(job: Job, ready: tuple[Ready, ...]) -> Iterator[WorkStep]:
    house, of_cures, with_figures = job.house.minutes, cures(job), _with_figures(job)
    words = bound_procedure(job.bound)
    for one in ready:
        picked, step, times = one.picked, one.step, one.times
        cured = of_cures and any(rule.case is not None for rule, _ in picked.extra_times)
        if cured or (house and any(part.code in house for part in times)):
            time = step_time(job.procedure, job.conditions, picked, house, of_cures)
            times = time.parts
            step = replace(step, minutes=time.minutes, times=times if job.bound.full else ())
        if not with_figures:
            yield step
            continue
        figures = tuple(
            step_parameter(figure.name, figure.title, value, applied.only_if, words)
            for figure, applied in picked.figures
            for value in case_figures(job, figure, step.injuries, times)
        )
        shown = figures + quote(job.bound, job.conditions, picked).figures + picked.parameters
        yield replace(step, parameters=shown) if shown else step
