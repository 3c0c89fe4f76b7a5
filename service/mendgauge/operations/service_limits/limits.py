"""All that a tyre may do after its repair, put together."""

from __future__ import annotations

from mendgauge.answers.citation import sources_of
from mendgauge.answers.questions import in_answer
from mendgauge.facts.position import PositionFacts
from mendgauge.operations.outline import asks_nothing_more
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.service_limits.answer import ServiceLimits
from mendgauge.operations.service_limits.asking import asks_of_service
from mendgauge.operations.service_limits.caveats import CaveatInputs, caveats
from mendgauge.operations.service_limits.follow_up import follow_ups
from mendgauge.operations.service_limits.load import axle_loading, service_load
from mendgauge.operations.service_limits.position import (
    assess_position,
    position_findings,
    position_outcome,
    service_position,
)
from mendgauge.operations.service_limits.speed import service_speed, speed_after_repair
from mendgauge.operations.workup import Workup, part
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome


@part
def limits_of(workup: Workup) -> ServiceLimits:
    """Return the service limits of a case."""
    bound, edition, on = workup.bound, workup.edition, workup.on
    repairability = verdict_of(workup)
    tyres = [PositionFacts(tyre, edition) for tyre in workup.facts]
    assessed = [assess_position(tyre, edition) for tyre in tyres]
    speed = speed_after_repair(tyres, edition)
    axle = axle_loading(assessed, tyres, edition)
    position = position_outcome(assessed)
    verdict = repairability.verdict
    ended = verdict == "not_repairable"
    found = position_findings(assessed, bound)
    of_speed, of_load = service_speed(speed, tyres, bound), service_load(axle, tyres, bound)
    return ServiceLimits(
        reference=repairability.reference,
        codes=repairability.codes,
        rulebook=repairability.rulebook,
        assessed_on=on,
        verdict=verdict,
        possible_verdicts=repairability.possible_verdicts,
        fit=_fit(repairability.possible_verdicts, axle.found, position),
        next_step=_next_step(repairability.next_step, position),
        says=bound.words.limits.first[verdict],
        speed=of_speed,
        load=of_load,
        position=service_position(position, verdict, bound),
        findings=found,
        caveats=caveats(CaveatInputs(verdict, speed, axle, position, tyres, assessed, bound)),
        follow_ups=() if ended or (bound.outline and verdict != "repairable") else follow_ups(tyres, bound, on),
        to_establish=()
        if asks_nothing_more(workup)
        else in_answer(asks_of_service(tyres, assessed, None if ended else speed), bound),
        rules_checked=assessed[0].count_rules() if bound.full else None,
        sources=sources_of(found, (of_speed, of_load), of_speed.ceilings),
    )


def _next_step(of_repair: str, position: Outcome) -> str:
    return "repair_for_another_position" if of_repair == "repair" and position == NOT_HERE else of_repair


def _fit(verdicts: tuple[str, ...], load: Outcome, position: Outcome) -> str:
    if "repairable" in verdicts and load & position & MET:
        return "fit" if verdicts == ("repairable",) and load == position == MET else "open"
    # A specialist, or its maker's consent, may still save it, where nothing else speaks against it.
    return "open" if {"specialist", "not_covered"} & set(verdicts) and load & position & MET else "not_fit"
