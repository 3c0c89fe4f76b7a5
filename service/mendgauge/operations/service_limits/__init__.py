"""What a tyre may do after its repair: how fast, how much, where, what to tell, and what to look at again.

Every part is sound: a status is firm only where every completion of what is unknown comes to the same. A tyre that may
not be repaired is answered for too, as it is marked, and the answer says so first.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated

from msgspec import Meta

from mendgauge.answers.base import Answer, open_words, rulebook_used
from mendgauge.answers.finding import Finding
from mendgauge.case.case import Case
from mendgauge.facts.position import FittedTyre
from mendgauge.intake.intake import Intake, take_in
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability import Repairability, check_repairability
from mendgauge.operations.service_limits.answer import Caveat, FollowUpDue, ServiceLoad, ServicePosition, ServiceSpeed
from mendgauge.operations.service_limits.asking import questions
from mendgauge.operations.service_limits.caveats import Found, caveats
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

_VERDICTS = open_words("repairable", "specialist", "not_repairable", "inspect")


class ServiceLimits(Answer, frozen=True, kw_only=True):
    """What the tyre may do after its repair, as far as the case is known."""

    verdict: Annotated[
        str,
        Meta(
            description="Whether the tyre may be repaired, as `/v1/repairability` says: what follows hangs on it.",
            examples=["repairable"],
            extra_json_schema=_VERDICTS,
        ),
    ]
    possible_verdicts: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=_VERDICTS)], ...],
        Meta(max_length=3, description="All the verdict may become, best first.", examples=[["repairable"]]),
    ]
    fit: Annotated[
        str,
        Meta(
            description="`fit`: the tyre may be repaired and run here under this load; `not_fit`: it may not; `open` "
            "while that is not settled. The speed is apart, since a driver can keep to one.",
            examples=["fit"],
            extra_json_schema=open_words("fit", "not_fit", "open"),
        ),
    ]
    says: Annotated[str, Meta(description="The verdict in words, and what it means for the limits.")]
    speed: ServiceSpeed
    load: ServiceLoad
    position: ServicePosition
    findings: Annotated[
        tuple[Finding, ...],
        Meta(
            max_length=100,
            description="Rules on position and load, broken or open, the gravest first; those met too if asked for.",
        ),
    ]
    caveats: Annotated[
        tuple[Caveat, ...], Meta(max_length=40, description="What to print, what must be acknowledged first.")
    ]
    follow_ups: Annotated[
        tuple[FollowUpDue, ...],
        Meta(max_length=20, description="What to look at again after the repair, and when; none without one."),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(max_length=100, description="Missing facts that may change these limits, most useful question first."),
    ]
    rules_checked: Annotated[int, Meta(description="How many rules on position and load were checked.", examples=[9])]


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
    tyres = [FittedTyre(case, use, edition, on) for use in intake.uses]
    assessed = [assess_position(case, tyre, edition, on) for tyre in tyres]
    speed = speed_after_repair(case, tyres, edition, on)
    axle = axle_loading(assessed, tyres, edition, on)
    position = position_outcome(assessed)
    verdict = repairability.verdict
    found = Found(verdict, speed, axle, position, tyres, assessed, edition, on)
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
