"""The plan of a job: how far it goes, where it waits, and its steps, times and consumables together."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Final, TypeAlias

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.citation import sources_of
from mendgauge.answers.figure import span
from mendgauge.answers.questions import first_of
from mendgauge.core.errors import CaseError
from mendgauge.core.interval import YES
from mendgauge.operations.outline import asks_nothing_more
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.offer import deciding_findings
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.service_limits.limits import limits_of
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.work_plans.answer import ConsumableUsed, Drying, Minutes, PlanQuestion, WorkPlan, WorkStep
from mendgauge.operations.work_plans.asking import CHECK_CLIMATE, questions
from mendgauge.operations.work_plans.consumables import unknown_codes as unknown_quantities
from mendgauge.operations.work_plans.consumables import used_up
from mendgauge.operations.work_plans.job import Job, job_of
from mendgauge.operations.work_plans.scope import Scope, scope_of
from mendgauge.operations.work_plans.step_times import unknown_codes as unknown_times
from mendgauge.operations.work_plans.step_times import usual_minutes
from mendgauge.operations.work_plans.steps import WorkSteps, figured_steps, timed_steps
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.schema.procedure import PlanWords

DECIDE: Final = "decide"

_Waits: TypeAlias = tuple[tuple[str, str], ...]
"""The steps at which the work waits, each with the reason."""


@part
def timed_of(workup: Workup) -> WorkSteps:
    """Return every step of the work, as far as it goes, with the time it takes."""
    return timed_steps(scope_of(workup), job_of(workup))


@part
def consumables_of(workup: Workup) -> tuple[ConsumableUsed, ...]:
    """Return what a repair uses up; nothing where there is none."""
    return tuple(used_up(job_of(workup))) if scope_of(workup) == "repair" else ()


@part
def asked_of(workup: Workup) -> tuple[PlanQuestion, ...]:
    """Return what the work hangs on, beside what was asked for already."""
    if asks_nothing_more(workup):
        return ()
    job, scope, asked = job_of(workup), scope_of(workup), trims_of(workup).to_establish
    if scope == "repair" and asks_nothing_more(workup, chain(asked, limits_of(workup).to_establish)):
        return ()
    return first_of(tuple(questions(job, asked, scope)), job.bound)


def asked_short_of_repair(workup: Workup, scope: Scope) -> tuple[PlanQuestion, ...]:
    """Return what verdict and unit hang on, and the work as far as `scope`: no stem is trimmed there."""
    asked = units_of(workup).to_establish
    if asks_nothing_more(workup, asked):
        return ()
    job = job_of(workup)
    return first_of(tuple(questions(job, asked, scope)), job.bound)


@part
def plan_of(workup: Workup) -> WorkPlan:
    """Return the work plan of a case.

    Raises:
        CaseError: The shop times a step, or gives a quantity of a consumable, that no plan has.
    """
    check_house_times(workup)
    verdict, job, scope, timed = verdict_of(workup), job_of(workup), scope_of(workup), timed_of(workup)
    bound, waits = job.bound, tuple(_waits(job)) if scope == "repair" else ()
    decided_by = () if bound.outline else deciding_findings(verdict)
    # What is only perhaps done has no figures in outline.
    steps = figured_steps(scope, job) if job.offer == "offered" or not bound.outline else timed.steps
    return WorkPlan(
        reference=verdict.reference,
        codes=verdict.codes,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=job.offer,
        decided_by=decided_by,
        scope=scope,
        says=tuple(_says(job, scope, verdict.next_step, waits)),
        waits_at=waits[0][0] if waits else None,
        steps=steps if bound.full or not waits else _up_to(waits[0][0], steps),
        minutes=timed.minutes,
        minutes_to_decision=timed.to_decision,
        usual_minutes=usual_minutes(bound, job.conditions) if bound.full and scope == "repair" else None,
        drying=None if timed.dries is None else _drying(job, timed.dries),
        consumables=() if bound.outline else consumables_of(workup),
        to_establish=asked_of(workup),
        # An outline has them with its verdict and its units.
        cautions=() if bound.outline else units_of(workup).cautions,
        sources=sources_of(decided_by),
    )


def check_house_times(workup: Workup) -> None:
    """Refuse times and quantities of the shop for what no plan has.

    Raises:
        CaseError: The shop times a step, or gives a quantity of a consumable, that is not there.
    """
    house, procedure = workup.case.house_times, workup.edition.procedure
    if house is not None:
        flaws = [*unknown_times(procedure, house.minutes), *unknown_quantities(procedure, house.quantities)]
        if flaws:
            raise CaseError(flaws)


def _up_to(waits_at: str, steps: tuple[WorkStep, ...]) -> tuple[WorkStep, ...]:
    """Return the steps that may be begun: up to the one at which the work waits."""
    last = next(place for place, step in enumerate(steps) if step.code == waits_at)
    return steps[: last + 1]


def _waits(job: Job) -> Iterator[tuple[str, str]]:
    """Yield the steps of a repair at which the work waits as the case stands, with the reasons."""
    says = job.procedure.says
    if job.offer == "conditional":
        yield DECIDE, says.waits_for_verdict
    if job.without_unit:
        yield DECIDE, says.waits_for_unit
    if job.climate.stopped == YES:
        yield CHECK_CLIMATE, says.waits_for_climate


def _says(job: Job, scope: Scope, next_step: str, waits: _Waits) -> Iterator[str]:
    says, in_language = job.procedure.says, job.bound.in_language
    of_scope: str | None = _says_of_no_work(says, next_step) if scope == "none" else getattr(says, scope)
    yield in_language(of_scope or says.none)
    yield from (in_language(why) for _, why in waits)


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
