"""Whether the tyre may run where it is meant to: the rules on a position, judged like those on a repair."""

from __future__ import annotations

from datetime import date
from typing import Final

from mendgauge.answers.finding import Finding, finding
from mendgauge.case.case import Case
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, Judged, judged_by, merge
from mendgauge.operations.service_limits.answer import ServicePosition
from mendgauge.rulebooks import Edition
from mendgauge.rules.binding import bind_position_rules
from mendgauge.rules.engine import may_apply
from mendgauge.rules.house import NO_HOUSE_RULES, bind_house_position_rules
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome, settled
from mendgauge.rules.position import axle_load
from mendgauge.wording import Wording

_STATUS: Final[dict[Outcome, str]] = {MET: "allowed", NOT_HERE: "not_allowed", MET | NOT_HERE: "open"}


def assess_position(case: Case, tyre: PositionFacts, edition: Edition, on: date) -> Assessment:
    """Judges a tyre by every rule on a position."""
    rules = bind_position_rules(edition, tyre.use, tyre.marking_facts, on)
    house = NO_HOUSE_RULES if case.house_rules is None else bind_house_position_rules(case.house_rules)
    return judged_by(tyre, rules, house)


def position_outcome(assessed: list[Assessment]) -> Outcome:
    """`MET`, `NOT_HERE` or both: what the position comes to, the axle's load apart."""
    possible = 0
    for one in assessed:
        found = [judged.found for judged in one.notable if judged.rule.name != axle_load.DEFINITION.name]
        refused = NOT_HERE in found
        may_be = any(each & NOT_HERE for each in found)
        possible |= NOT_HERE if refused else MET | NOT_HERE if may_be else MET
    return possible


def tell_position(found: Outcome, words: Wording) -> ServicePosition:
    """The position as it is answered."""
    status = _STATUS[found]
    return ServicePosition(status=status, says=words.limits.position[status])


def position_findings(case: Case, assessed: list[Assessment], edition: Edition, words: Wording) -> tuple[Finding, ...]:
    """The rules broken or open, the gravest first; those met too, and open cautions, where the case asks for them."""
    judged = [merged.judged for merged in merge(assessed).values()]
    if not case.explain:
        judged = [one for one in judged if settled(one.found) or one.found & NOT_HERE]
    else:
        told = {one.key for one in judged}
        facts = assessed[0].facts
        everything = (
            Judged(rule, facts, MET) for rule, _ in assessed[0].each_rule() if may_apply(rule.branches, facts)
        )
        judged += [met for met in everything if met.key not in told]
    judged.sort(key=_gravity, reverse=True)
    return tuple(finding(one.rule, one.subject, one.found, edition, words) for one in judged)


def _gravity(judged: Judged) -> tuple[int, Outcome]:
    """Broken before open before met, the gravest of each first."""
    if judged.found == MET:
        return 0, MET
    return (2 if settled(judged.found) else 1), judged.found
