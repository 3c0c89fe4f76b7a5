"""The steps of a plan as the answer gives them: those of the procedure, then with the case's own figures and times."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import msgspec
from msgspec.structs import replace

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.operations.work_plans.answer import Minutes, TimePart, WorkStep
from mendgauge.operations.work_plans.bound_procedure import BoundProcedure, bound_procedure
from mendgauge.operations.work_plans.case_figures import case_figures, cures
from mendgauge.operations.work_plans.conditions import JobConditions, Named
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.scope import Scope
from mendgauge.operations.work_plans.step_selection import PickedStep, named_at, pick_step, step_parameter
from mendgauge.operations.work_plans.step_texts import Quoted, quote, word_step
from mendgauge.operations.work_plans.step_times import Timed, step_time, total
from mendgauge.rulebooks.schema.procedure import Procedure, StepRule

DRY: Final = "dry"
_AS_FAR_AS_DECIDED: Final = ("inspection", "decision")
_THE_WHOLE_JOB: Final = ("inspection", "decision", "repair")


class Ready(msgspec.Struct, frozen=True, eq=False):
    """A step as far as it does not hang on the case's own figures, and without any of its figures."""

    picked: PickedStep
    step: WorkStep
    times: tuple[TimePart, ...]


class WorkSteps(msgspec.Struct, frozen=True, eq=False):
    """The steps of a job in the order of the work, with the time they take: in all, and to the decision.

    `ready` are the steps with what they were made from, `steps` the same as the answer gives them, without figures;
    `dries` is how long cement dries, where it does.
    """

    ready: tuple[Ready, ...]
    steps: tuple[WorkStep, ...]
    minutes: Minutes
    to_decision: Minutes
    dries: Minutes | None


def timed_steps(scope: Scope, job: Job) -> WorkSteps:
    """Return the steps of work that goes so far, with the times of the case."""
    steps = ready_steps(scope, bound_procedure(job.bound), job.conditions)
    return _in_order(tuple(_timed(job, steps.ready))) if _has_times(job) else steps


def figured_steps(scope: Scope, job: Job) -> tuple[WorkStep, ...]:
    """Return the same steps with figures, and in all but an outline with what is said at each."""
    ready = worded_steps(scope, job.bound, job.conditions)
    if _has_times(job):
        ready = tuple(_timed(job, ready))
    words = bound_procedure(job.bound)
    return tuple([_with_figures(job, one, words) if one.picked.figures else one.step for one in ready])


def _has_times(job: Job) -> bool:
    return bool(job.house.minutes) or job.conditions.fill is not None


@lru_cache(maxsize=4096)
def ready_steps(scope: Scope, bound: BoundProcedure, conditions: JobConditions) -> WorkSteps:
    """Return the steps of work that goes so far, as they are under every book; in outline with each caution once."""
    found: dict[int, Ready] = {}
    for hangs_on, places in _alike(scope, bound.procedure):
        found |= _ready_alike(bound, conditions.as_named(hangs_on), places)
    ready = tuple([found[place] for place in sorted(found)])
    if bound.outline:
        ready = tuple(_cautioned_once(ready))
    return _in_order(ready)


@lru_cache(maxsize=2048)
def worded_steps(scope: Scope, bound: BoundEdition, conditions: JobConditions) -> tuple[Ready, ...]:
    """Return the same steps with the figures of a book, and in all but an outline with what is said at each."""
    ready = ready_steps(scope, bound_procedure(bound), conditions).ready
    return tuple([_worded(bound, one, quote(bound, conditions, one.picked)) for one in ready])


def _in_order(ready: tuple[Ready, ...]) -> WorkSteps:
    steps = tuple([one.step for one in ready])
    times = {step.code: step.minutes for step in steps}
    return WorkSteps(
        ready,
        steps,
        total(times.values()),
        total(step.minutes for step in steps if step.part != "repair"),
        times.get(DRY),
    )


def _cautioned_once(ready: tuple[Ready, ...]) -> Iterator[Ready]:
    """Yield steps with each caution at the first that has it."""
    said: set[str] = set()
    for one in ready:
        if not one.step.cautions:
            yield one
            continue
        new = tuple([caution for caution in one.step.cautions if caution.says not in said])
        said.update([caution.says for caution in new])
        same = len(new) == len(one.step.cautions)
        yield one if same else Ready(one.picked, replace(one.step, cautions=new), one.times)


@lru_cache(maxsize=4096)
def _worded(bound: BoundEdition, ready: Ready, quoted: Quoted) -> Ready:
    picked, parameters = ready.picked, quoted.figures + ready.picked.parameters
    if bound.outline:
        return Ready(picked, replace(ready.step, parameters=parameters), ready.times) if parameters else ready
    said = word_step(bound, picked, quoted)
    step = replace(
        ready.step,
        do=said.do,
        parameters=parameters,
        tools=said.tools if bound.full else (),
        hold=said.hold,
        basis=said.basis if bound.full else None,
        source=said.source if bound.full else None,
    )
    return Ready(picked, step, ready.times)


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


def _timed(job: Job, ready: tuple[Ready, ...]) -> Iterator[Ready]:
    """Yield the steps with the shop's own times and those of the case."""
    house, of_cures = job.house.minutes, cures(job)
    for one in ready:
        cured = of_cures and any(rule.case is not None for rule, _ in one.picked.extra_times)
        if cured or (house and any(part.code in house for part in one.times)):
            time = step_time(job.procedure, job.conditions, one.picked, house, of_cures)
            step = replace(one.step, minutes=time.minutes, times=time.parts if job.bound.full else ())
            yield Ready(one.picked, step, time.parts)
        else:
            yield one


def _with_figures(job: Job, one: Ready, words: BoundProcedure) -> WorkStep:
    """Return a step with the figures of the case before those of the book."""
    figures = tuple(
        [
            step_parameter(figure.name, figure.title, value, applied.only_if, words)
            for figure, applied in one.picked.figures
            for value in case_figures(job, figure, one.step.injuries, one.times)
        ]
    )
    return replace(one.step, parameters=figures + one.step.parameters) if figures else one.step
