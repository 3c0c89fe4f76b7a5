"""The work on a tyre, step by step: what to do, the figures to work to, where to stop, how long, what it uses up.

The plan goes no farther than the verdict lets it: the whole job where the tyre may be repaired, the inspection where
only that can tell, nothing where it is settled that no bench repairs it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import lru_cache
from typing import Final

import msgspec
from msgspec.structs import replace

from mendgauge.answers.figure import span
from mendgauge.case.case import Case
from mendgauge.case.fields import pattern_of
from mendgauge.core.errors import CaseError
from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.intake.intake import Intake, take_in
from mendgauge.operations.repair_units import units_for
from mendgauge.operations.repair_units.answer import RepairUnits
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.stem_trim import trims_for
from mendgauge.operations.stem_trim.answer import StemTrims
from mendgauge.operations.work_plans.answer import Drying, Minutes, PlanQuestion, WorkPlan, WorkStep
from mendgauge.operations.work_plans.case_figures import case_figures, cures
from mendgauge.operations.work_plans.conditions import JobConditions, unknown_behind
from mendgauge.operations.work_plans.consumables import unknown_codes as unknown_quantities
from mendgauge.operations.work_plans.consumables import used_up
from mendgauge.operations.work_plans.job import Job
from mendgauge.operations.work_plans.step_selection import PickedStep, pick_steps, told
from mendgauge.operations.work_plans.step_times import step_time, total, usual_minutes
from mendgauge.operations.work_plans.step_times import unknown_codes as unknown_times
from mendgauge.rulebooks import Edition
from mendgauge.wording import in_language, wording

DECIDE: Final = "decide"
CHECK_CLIMATE: Final = "check_climate"
DRY: Final = "dry"
_TOLD: Final[dict[Truth, str]] = {YES: "yes", NO: "no", EITHER: "open"}


def plan_work(case: Case, today: date | None = None) -> WorkPlan:
    """The work on a tyre from finding the leak to checking the wheel nuts again, as far as its verdict lets it go.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself, names a
    rulebook that is not there, or times a step that no plan has.
    """
    intake, verdict = take_in(case, today), check_repairability(case, today)
    units = units_for(intake, verdict)
    return plan_for(intake, verdict, units, trims_for(intake, verdict, units))


def plan_for(intake: Intake, verdict: Repairability, units: RepairUnits, trims: StemTrims) -> WorkPlan:
    """The same, of a case that was taken in and judged, whose units were chosen and stems trimmed."""
    job = Job(intake, units, trims)
    flaws = [
        *unknown_times(job.procedure, job.house.minutes),
        *unknown_quantities(job.procedure, job.house.quantities),
    ]
    if flaws:
        raise CaseError(flaws)
    scope = _scope(job, verdict)
    ready = _within(scope, _ready(job.edition, job.conditions)) if scope != "none" else ()
    steps = tuple(_steps(job, ready))
    times = {step.code: step.minutes for step in steps}
    return WorkPlan(
        reference=verdict.reference,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=units.offer,
        decided_by=units.decided_by,
        scope=scope,
        says=tuple(_says(job, scope)),
        waits_at=_waits_at(job, scope),
        steps=steps,
        minutes=total(times.values()),
        minutes_to_decision=total(step.minutes for step in steps if step.part != "repair"),
        usual_minutes=usual_minutes(job.edition, job.conditions) if scope == "repair" else None,
        drying=_drying(job, times[DRY]) if DRY in times else None,
        consumables=tuple(used_up(job)) if scope == "repair" else (),
        to_establish=tuple(_questions(job, trims, ready)),
        cautions=units.cautions,
    )


def _scope(job: Job, verdict: Repairability) -> str:
    if not job.channels:
        return "none"
    if job.offer != "withheld":
        return "repair"
    return "inspection" if verdict.verdict == "inspect" else "none"


def _within(scope: str, ready: tuple[Ready, ...]) -> tuple[Ready, ...]:
    return ready if scope == "repair" else tuple([one for one in ready if one.step.part != "repair"])


def _waits(job: Job, scope: str) -> Iterator[tuple[str, str]]:
    """Every step at which the work waits as the case stands, with the reason."""
    says = job.procedure.says
    if scope != "repair":
        return
    if job.offer == "conditional":
        yield DECIDE, says.waits_for_verdict
    if job.without_unit:
        yield DECIDE, says.waits_for_unit
    if job.climate.stopped == YES:
        yield CHECK_CLIMATE, says.waits_for_climate


def _waits_at(job: Job, scope: str) -> str | None:
    return next((step for step, _ in _waits(job, scope)), None)


def _says(job: Job, scope: str) -> Iterator[str]:
    says, language = job.procedure.says, job.edition.book.language
    of_scope = {"repair": says.repair, "inspection": says.inspection, "none": says.none}[scope]
    yield in_language(language, of_scope if job.channels or scope != "none" else says.nothing_through)
    yield from (in_language(language, why) for _, why in _waits(job, scope))


def _steps(job: Job, ready: tuple[Ready, ...]) -> Iterator[WorkStep]:
    """The steps with the figures and the times of the case."""
    house, of_cures = job.house.minutes, cures(job)
    for one in ready:
        picked, step = one.picked, one.step
        cured = of_cures and any(rule.case is not None for rule, _ in picked.extra_times)
        if cured or (house and any(part.code in house for part in step.times)):
            time = step_time(job.edition, job.conditions, picked, house, of_cures)
            step = replace(step, minutes=time.minutes, times=time.parts)
        figures = tuple(
            told(figure.name, figure.title, value, applied.only_if, job.edition)
            for figure, applied in picked.figures
            for value in case_figures(job, figure, step.injuries, step.times)
        )
        yield replace(step, parameters=figures + step.parameters) if figures else step


class Ready(msgspec.Struct, frozen=True, eq=False):
    """A step as far as it does not hang on the case's own figures."""

    picked: PickedStep
    step: WorkStep


@lru_cache(maxsize=4096)
def _ready(edition: Edition, conditions: JobConditions) -> tuple[Ready, ...]:
    """The steps of a scene in the order of the work."""
    return tuple(Ready(step, _told(edition, conditions, step)) for step in pick_steps(edition, conditions))


def _told(edition: Edition, conditions: JobConditions, step: PickedStep) -> WorkStep:
    rule = step.rule
    time = step_time(edition, conditions, step, {}, {})
    return WorkStep(
        code=rule.code,
        part=rule.part,
        title=step.title,
        only_if=step.applied.only_if,
        injuries=tuple(injury for injury, _ in step.at),
        do=step.do,
        parameters=step.parameters,
        tools=step.tools,
        minutes=time.minutes,
        times=time.parts,
        hold=step.hold,
        cautions=step.cautions,
        basis=rule.basis,
        source=edition.procedure.source(rule),
    )


def _drying(job: Job, minutes: Minutes) -> Drying:
    climate = job.climate
    return Drying(
        minutes=minutes,
        slow=_TOLD[climate.slow],
        stopped=_TOLD[climate.stopped],
        dew_point_c=span(climate.dew_point) if climate.air_known else None,
    )


def _questions(job: Job, trims: StemTrims, ready: tuple[Ready, ...]) -> Iterator[PlanQuestion]:
    """The verdict's questions, those of unit and trim, then those that only the plan asks, in the order of the work."""
    words = wording(job.edition.book.language).questions
    steps = _steps_behind(job, ready)
    for one in trims.to_establish:
        yield PlanQuestion(
            field=one.field,
            asks=one.asks,
            how=one.how,
            demounted=one.demounted,
            settles=one.settles,
            steps=tuple(steps.pop(one.field, ())),
        )
    for field, codes in steps.items():
        question = words[pattern_of(field)]
        yield PlanQuestion(
            field=field,
            asks=question.asks,
            how=question.how,
            demounted=question.demounted,
            settles=(),
            steps=tuple(codes),
        )


def _steps_behind(job: Job, ready: tuple[Ready, ...]) -> dict[str, list[str]]:
    """The steps that hang on each missing field of the case."""
    found: dict[str, list[str]] = {}
    for step in [one.picked for one in ready]:
        hangs_on = sorted(step.hangs_on)
        fields = dict.fromkeys(
            field for name in hangs_on for field in unknown_behind(name, job.intake, job.facts, job.climate)
        )
        if step.rule.code == CHECK_CLIMATE and job.climate.stopped == EITHER:
            fields |= dict.fromkeys(job.climate.missing())
        for field in fields:
            found.setdefault(field, []).append(step.rule.code)
    return found
