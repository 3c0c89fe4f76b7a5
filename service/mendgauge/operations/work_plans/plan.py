"""The plan of a job: how far it goes, where it waits, and its steps, times and consumables together."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.citation import sources_of
from mendgauge.answers.figure import span
from mendgauge.answers.questions import first_of
from mendgauge.core.errors import CaseError
from mendgauge.core.interval import YES
from mendgauge.operations.outline import asks_nothing_more
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.work_plans.answer import Drying, Minutes, WorkPlan, WorkStep
from mendgauge.operations.work_plans.asking import CHECK_CLIMATE, questions
from mendgauge.operations.work_plans.consumables import unknown_codes as unknown_quantities
from mendgauge.operations.work_plans.consumables import used_up
from mendgauge.operations.work_plans.job import Job, job_of
from mendgauge.operations.work_plans.step_times import total, usual_minutes
from mendgauge.operations.work_plans.step_times import unknown_codes as unknown_times
from mendgauge.operations.work_plans.steps import Ready, ready_steps, steps_of
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.schema.procedure import PlanWords

DECIDE: Final = "decide"
DRY: Final = "dry"


class Laid(msgspec.Struct, frozen=True):
    """The work on a tyre laid out: how far it goes, and all its steps."""

    scope: str
    ready: tuple[Ready, ...]
    steps: tuple[WorkStep, ...]


@part
def laid_out(workup: Workup) -> Laid:
    """Return how far the work goes, with every step of it."""
    job = job_of(workup)
    scope = _scope(job, units_of(workup).verdict, verdict_of(workup).next_step)
    ready = ready_steps(scope, job.bound, job.conditions)
    return Laid(scope, ready, steps_of(job, ready))


@part
def plan_of(workup: Workup) -> WorkPlan:
    """Return the work plan of a case.

    Raises:
        CaseError: The shop times a step, or gives a quantity of a consumable, that no plan has.
    """
    units, job = units_of(workup), job_of(workup)
    flaws = [
        *unknown_times(job.procedure, job.house.minutes),
        *unknown_quantities(job.procedure, job.house.quantities),
    ]
    if flaws:
        raise CaseError(flaws)
    next_step = verdict_of(workup).next_step
    laid = laid_out(workup)
    scope, steps = laid.scope, laid.steps
    times = {step.code: step.minutes for step in steps}
    waits_at = next((step for step, _ in _waits(job, scope)), None)
    return WorkPlan(
        reference=units.reference,
        codes=units.codes,
        rulebook=units.rulebook,
        assessed_on=units.assessed_on,
        verdict=units.verdict,
        offer=units.offer,
        decided_by=units.decided_by,
        scope=scope,
        says=tuple(_says(job, scope, next_step)),
        waits_at=waits_at,
        steps=steps if job.bound.full else _up_to(waits_at, steps),
        minutes=total(times.values()),
        minutes_to_decision=total(step.minutes for step in steps if step.part != "repair"),
        usual_minutes=usual_minutes(job.bound, job.conditions) if job.bound.full and scope == "repair" else None,
        drying=_drying(job, times[DRY]) if DRY in times else None,
        # In outline they are reckoned only where they are charged for.
        consumables=tuple(used_up(job))
        if scope == "repair" and (workup.case.price_book is not None or not job.bound.outline)
        else (),
        to_establish=()
        if asks_nothing_more(workup)
        else first_of(tuple(questions(job, trims_of(workup).to_establish, laid.ready)), job.bound),
        cautions=units.cautions,
        sources=sources_of(units.decided_by),
    )


def _up_to(waits_at: str | None, steps: tuple[WorkStep, ...]) -> tuple[WorkStep, ...]:
    """Return the steps that may be begun: up to the one at which the work waits."""
    if waits_at is None:
        return steps
    last = next(place for place, step in enumerate(steps) if step.code == waits_at)
    return steps[: last + 1]


def _scope(job: Job, verdict: str, next_step: str) -> str:
    if next_step == "find_the_leak" or (next_step == "no_repair_needed" and job.facts.injuries):
        return "none" if job.procedure.says.leak_search is None else "leak_search"
    if not job.channels:
        return "none"
    if job.offer != "withheld":
        return "repair"
    return "inspection" if verdict == "inspect" else "none"


def _waits(job: Job, scope: str) -> Iterator[tuple[str, str]]:
    """Yield every step at which the work waits as the case stands, with the reason."""
    says = job.procedure.says
    if scope != "repair":
        return
    if job.offer == "conditional":
        yield DECIDE, says.waits_for_verdict
    if job.without_unit:
        yield DECIDE, says.waits_for_unit
    if job.climate.stopped == YES:
        yield CHECK_CLIMATE, says.waits_for_climate


def _says(job: Job, scope: str, next_step: str) -> Iterator[str]:
    says, in_language = job.procedure.says, job.bound.in_language
    of_scope = {
        "repair": says.repair,
        "inspection": says.inspection,
        "leak_search": says.leak_search,
        "none": _says_of_no_work(says, next_step),
    }
    yield in_language(of_scope[scope] or says.none)
    yield from (in_language(why) for _, why in _waits(job, scope))


def _says_of_no_work(says: PlanWords, next_step: str) -> str:
    if next_step == "no_repair_needed" and says.nothing_to_do is not None:
        return says.nothing_to_do
    return says.nothing_through if next_step in ("no_repair_needed", "find_the_leak") else says.none


def _drying(job: Job, minutes: Minutes) -> Drying:
    climate = job.climate
    return Drying(
        minutes=minutes,
        slow=CERTAIN[climate.slow],
        stopped=CERTAIN[climate.stopped],
        dew_point_c=span(climate.dew_point) if climate.air_known else None,
    )
