"""A case judged by every rule that speaks of it: what is not simply met, and what all of it can come to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

import msgspec

from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks import Edition
from mendgauge.rules.binding import BoundRules, bind_rules, judged_by_yes_no
from mendgauge.rules.engine import BoundRule, may_apply, where_through
from mendgauge.rules.house import NO_HOUSE_RULES, HouseRuleSet, bind_house_rules
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome, join, lowest, may_exceed, settled

Key: TypeAlias = tuple[str, int | None]
"""A rule by its name, and the injury it speaks of."""


class Judged(msgspec.Struct, frozen=True, gc=False):
    """What one rule came to for one subject."""

    rule: BoundRule[Any]
    subject: TyreFacts | InjuryFacts
    found: Outcome

    @property
    def key(self) -> Key:
        """The rule and the injury."""
        return self.rule.name, self.subject.index


class Assessment(msgspec.Struct, frozen=True):
    """A case judged for one use of the tyre."""

    facts: TyreFacts
    rules: BoundRules
    house: HouseRuleSet
    notable: tuple[Judged, ...]
    floor: Outcome
    possible: Outcome

    def each_rule(self) -> Iterator[tuple[BoundRule[Any], TyreFacts | InjuryFacts]]:
        """Yield every rule with every subject it judged."""
        for rule in (*self.rules.tyre, *self.house.tyre):
            yield rule, self.facts
        for injury in self.facts.injuries:
            for injury_rule in (*self.rules.injury, *self.house.injury):
                yield injury_rule, injury

    def count_rules(self) -> int:
        """Return how many judgements were made."""
        on_injury = len(self.rules.injury + self.house.injury)
        return len(self.rules.tyre + self.house.tyre) + on_injury * len(self.facts.injuries)


def assess_tyre(facts: TyreFacts, edition: Edition) -> Assessment:
    """Judge the facts of a case by every rule."""
    rules = bind_rules(edition, facts.use, facts.marking_facts.size_and_speed)
    house = facts.case.house_rules
    return judged_by(facts, rules, NO_HOUSE_RULES if house is None else bind_house_rules(house))


def judged_by(facts: TyreFacts, rules: BoundRules, house: HouseRuleSet) -> Assessment:
    """Return what a tyre comes to under some rules."""
    notable = [Judged(rule, facts, found) for rule, found in judged_by_yes_no(rules, facts.yes_no)]
    # Each `judge` gets a name before it is called: the interpreter looks a field up much faster than a method.
    for rule in rules.by_measure + house.tyre:
        judge = rule.judge
        found = judge(facts)
        if found != MET:
            notable.append(Judged(rule, facts, found))
    injury_rules = rules.injury + house.injury
    for injury in facts.injuries:
        for injury_rule in injury_rules:
            judge_injury = injury_rule.judge
            found = judge_injury(injury)
            if found != MET and injury_rule.channel:
                found = where_through(found, injury)
            if found != MET:
                notable.append(Judged(injury_rule, injury, found))
    floor = union = MET
    for judged in notable:
        floor = max(floor, lowest(judged.found))
        union |= judged.found
    return Assessment(facts, rules, house, tuple(notable), floor, join(floor, union))


class Merged(msgspec.Struct, frozen=True, gc=False):
    """What one rule came to over everything the tyre may be in use as; the gravest judgement stands for all."""

    judged: Judged
    varies: bool


def merge(assessed: list[Assessment]) -> dict[Key, Merged]:
    """Return the rules that are not simply met, by rule and injury."""
    if len(assessed) == 1:
        return {judged.key: Merged(judged, varies=False) for judged in assessed[0].notable}
    by_key: dict[Key, list[Judged]] = {}
    for one in assessed:
        for judged in one.notable:
            by_key.setdefault(judged.key, []).append(judged)
    return {key: _merged(group, met_elsewhere=len(group) < len(assessed)) for key, group in by_key.items()}


def every_rule(assessed: list[Assessment], found: dict[Key, Merged]) -> Iterator[Judged]:
    """Yield every rule that may apply: those `found` as they came out over all uses, every other as met."""
    yield from (one.judged for one in found.values())
    first = assessed[0]
    for rule, subject in first.each_rule():
        met = Judged(rule, subject, MET)
        if met.key not in found and may_apply(rule.branches, first.facts):
            yield met


def _merged(group: list[Judged], *, met_elsewhere: bool) -> Merged:
    gravest = group[0]
    together = MET if met_elsewhere else 0
    for judged in group:
        together |= judged.found
        if judged.found > gravest.found:
            gravest = judged
    varies = met_elsewhere or any(judged.found != gravest.found for judged in group)
    return Merged(Judged(gravest.rule, gravest.subject, together), varies)


def deciding(assessed: list[Assessment], found: dict[Key, Merged]) -> dict[Key, Merged]:
    """Return the open rules of a case that can still make the verdict worse than it must be, of those `found`."""
    floor = max(min(one.floor for one in assessed), NOT_HERE)
    return {
        key: merged
        for key, merged in found.items()
        if not settled(merged.judged.found) and may_exceed(merged.judged.found, floor)
    }
