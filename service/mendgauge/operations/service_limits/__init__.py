"""What a tyre may do after its repair: how fast, how much, where, what to tell, and what to look at again.

Every part is sound: a status is firm only where every completion of what is unknown comes to the same. A tyre that may
not be repaired is answered for too, as it is marked, and the answer says so first.
"""

from __future__ import annotations

from datetime import date

from mendgauge.answers.base import rulebook_used
from mendgauge.case.case import Case
from mendgauge.facts.position import PositionFacts
from mendgauge.intake.intake import Intake, take_in
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.service_limits.answer import (
    ServiceLimits,
)
from mendgauge.operations.service_limits.asking import questions
from mendgauge.operations.service_limits.caveats import CaveatInputs, caveats
from mendgauge.operations.service_limits.follow_up import follow_ups
from mendgauge.operations.service_limits.load import axle_loading, tell_load
from mendgauge.operations.service_limits.position import (
    assess_position,
    position_findings,
    position_outcome,
    tell_position,
)
from mendgauge.operations.service_limits.speed import speed_after_repair, tell_speed
from mendgauge.rules.outcome import MET, Outcome
from mendgauge.wording import wording


def find_service_limits(case: Case, today: date | None = None) -> ServiceLimits:
    """What the tyre may do after its repair under the case's rulebook.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself or names a
    rulebook that is not there.
    """
    return service_limits_of(take_in(case, today), check_repairability(case, today))


def service_limits_of(intake: Intake, repairability: Repairability) -> ServiceLimits:
    """The service limits of a case that was taken in, whose repairability is known."""
    case, edition, on = intake.case, intake.edition, intake.on
    words = wording(edition.book.language)
    tyres = [PositionFacts(case, use, edition, on) for use in intake.uses]
    assessed = [assess_position(case, tyre, edition, on) for tyre in tyres]
    speed = speed_after_repair(case, tyres, edition, on)
    axle = axle_loading(assessed, tyres, edition, on)
    position = position_outcome(assessed)
    verdict = repairability.verdict
    found = CaveatInputs(verdict, speed, axle, position, tyres, assessed, edition, on)
    return ServiceLimits(
        reference=case.reference,
        rulebook=rulebook_used(edition),
        assessed_on=on,
        verdict=verdict,
        possible_verdicts=repairability.possible_verdicts,
        fit=_fit(repairability.possible_verdicts, axle.found, position),
        says=words.limits.first[verdict],
        speed=tell_speed(speed, tyres, edition, on, words),
        load=tell_load(axle, tyres, edition, on, words),
        position=tell_position(position, words),
        findings=position_findings(case, assessed, edition, words),
        caveats=caveats(found, words),
        follow_ups=() if verdict == "not_repairable" else follow_ups(tyres, edition, on, words),
        to_establish=questions(
            case, tyres, assessed, edition, on, words, None if verdict == "not_repairable" else speed
        ),
        rules_checked=assessed[0].count_rules(),
    )


def _fit(verdicts: tuple[str, ...], load: Outcome, position: Outcome) -> str:
    if "repairable" in verdicts and load & position & MET:
        return "fit" if verdicts == ("repairable",) and load == position == MET else "open"
    # A specialist may still save it, where nothing else speaks against it.
    return "open" if "specialist" in verdicts and load & position & MET else "not_fit"
