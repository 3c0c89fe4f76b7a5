"""Whether the tyre may run where it is meant to: the rules on a position, judged like those on a repair."""

from __future__ import annotations

from typing import Final

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.finding import Finding, findings, findings_of_note
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, every_rule, judged_by, merge
from mendgauge.operations.service_limits.answer import ServicePosition
from mendgauge.rulebooks import Edition
from mendgauge.rules.binding import bind_position_rules
from mendgauge.rules.house import NO_HOUSE_RULES, bind_house_position_rules
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome
from mendgauge.rules.position import axle_load

_STATUS: Final[dict[Outcome, str]] = {MET: "allowed", NOT_HERE: "not_allowed", MET | NOT_HERE: "open"}


def assess_position(tyre: PositionFacts, edition: Edition) -> Assessment:
    """Judge a tyre by every rule on a position."""
    rules = bind_position_rules(edition, tyre.use, tyre.marking_facts.size_and_speed)
    house = tyre.case.house_rules
    return judged_by(tyre, rules, NO_HOUSE_RULES if house is None else bind_house_position_rules(house))


def position_outcome(assessed: list[Assessment]) -> Outcome:
    """Return what the position comes to, `MET`, `NOT_HERE` or both, leaving the axle's load aside."""
    possible = 0
    for one in assessed:
        found = [judged.found for judged in one.notable if judged.rule.name != axle_load.DEFINITION.name]
        refused = NOT_HERE in found
        may_be = any(each & NOT_HERE for each in found)
        possible |= NOT_HERE if refused else MET | NOT_HERE if may_be else MET
    return possible


def service_position(found: Outcome, verdict: str, bound: BoundEdition) -> ServicePosition:
    """Return the position as the answer gives it; a tyre that may be repaired may run in another."""
    status = _STATUS[found]
    text = "elsewhere" if found == NOT_HERE and verdict == "repairable" else status
    return ServicePosition(status=status, says=bound.words.limits.position[text])


def position_findings(assessed: list[Assessment], bound: BoundEdition) -> tuple[Finding, ...]:
    """Return every rule that applies; in a brief answer those broken, and those open that say why."""
    found = merge(assessed)
    if bound.full:
        return findings(every_rule(assessed, found), bound)
    return findings_of_note(found, bound)
