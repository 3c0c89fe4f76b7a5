"""A case judged by every rule that speaks of it: what is not simply met, and what all of it can come to."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any, Final, TypeAlias

import msgspec

from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YesNoFacts
from mendgauge.judging.missing import Subject
from mendgauge.rulebooks import Edition
from mendgauge.rules.binding import BoundRules, bind_rules
from mendgauge.rules.engine import BoundRule, may_apply, where_through
from mendgauge.rules.house import NO_HOUSE_RULES, HouseRuleSet, bind_house_rules
from mendgauge.rules.outcome import MET, Outcome, join, lowest

Key: TypeAlias = tuple[str, int | None]
"""A rule by its name, and the injury it speaks of."""


class Judged(msgspec.Struct, frozen=True, gc=False):
    """What one rule came to for one subject; `varies` where that hangs on what the tyre is in use as."""

    rule: BoundRule[Any]
    subject: Subject
    found: Outcome
    varies: bool = False

    @property
    def key(self) -> Key:
        """The rule and the injury."""
        return self.rule.name, self.subject.index


class JudgedAlike(msgspec.Struct, frozen=True, eq=False, gc=False):
    """What the rules on yes-or-no facts alone come to, for every tyre with the same facts; those met are left out.

    Compared by identity, so that what follows from it is found once, too. `floor` and `union` are as `join` takes them.
    """

    judged: tuple[Judged, ...]
    floor: Outcome
    union: Outcome


_NONE_ALIKE: Final = JudgedAlike((), MET, MET)


class Notable(msgspec.Struct, frozen=True, eq=False, gc=False):
    """The rules that are not simply met: those judged `alike` for many tyres, and this one's `own`."""

    alike: JudgedAlike
    own: tuple[Judged, ...]

    def __iter__(self) -> Iterator[Judged]:
        """Yield all of them."""
        return iter(self.alike.judged + self.own)


class Assessment(msgspec.Struct, frozen=True):
    """A case judged for one use of the tyre."""

    facts: TyreFacts
    rules: BoundRules
    house: HouseRuleSet
    notable: Notable
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
    alike = judged_by_yes_no(rules, facts.yes_no)
    own: list[Judged] = []
    # Each `judge` gets a name before it is called: the interpreter looks a field up much faster than a method.
    for rule in rules.by_measure + house.tyre:
        judge = rule.judge
        found = judge(facts)
        if found != MET:
            own.append(Judged(rule, facts, found))
    injury_rules = rules.injury + house.injury
    for injury in facts.injuries:
        for injury_rule in injury_rules:
            judge_injury = injury_rule.judge
            found = judge_injury(injury)
            if found != MET and injury_rule.channel:
                found = where_through(found, injury)
            if found != MET:
                own.append(Judged(injury_rule, injury, found))
    floor, union = _together({judged.found for judged in own}, alike.floor, alike.union)
    return Assessment(facts, rules, house, Notable(alike, tuple(own)), floor, join(floor, union))


@lru_cache(maxsize=2048)
def judged_by_yes_no(rules: BoundRules, known: YesNoFacts) -> JudgedAlike:
    """Judge by the rules that depend on yes-or-no facts alone."""
    each = (Judged(rule, known, rule.judge(known)) for rule in rules.by_yes_no)
    judged = tuple(one for one in each if one.found != MET)
    return JudgedAlike(judged, *_together({one.found for one in judged}, MET, MET))


def _together(outcomes: set[Outcome], floor: Outcome, union: Outcome) -> tuple[Outcome, Outcome]:
    """Return the worst of each rule's best, and every bit that any can take, with the floor and union of others."""
    for found in outcomes:
        floor = max(floor, lowest(found))
        union |= found
    return floor, union


def merge(assessed: list[Assessment]) -> Notable:
    """Return the rules that are not simply met, over everything the tyre may be in use as."""
    if len(assessed) == 1:
        return assessed[0].notable
    by_key: dict[Key, list[Judged]] = {}
    for one in assessed:
        for judged in one.notable:
            # Its `key`, written out: of a vehicle nobody named there are a few hundred.
            by_key.setdefault((judged.rule.name, judged.subject.index), []).append(judged)
    groups = by_key.values()
    return Notable(_NONE_ALIKE, tuple(_merged(group, met_elsewhere=len(group) < len(assessed)) for group in groups))


def every_rule(assessed: list[Assessment], notable: Notable) -> Iterator[Judged]:
    """Yield every rule that may apply: the `notable` as they came out over all uses, every other as met."""
    yield from notable
    first, keys = assessed[0], {judged.key for judged in notable}
    for rule, subject in first.each_rule():
        met = Judged(rule, subject, MET)
        if met.key not in keys and may_apply(rule.branches, first.facts):
            yield met


def _merged(group: list[Judged], *, met_elsewhere: bool) -> Judged:
    """Return what one rule came to over all uses; the gravest judgement stands for all."""
    first = gravest = group[0]
    together, varies = MET if met_elsewhere else 0, met_elsewhere
    for judged in group:
        found = judged.found
        together |= found
        varies |= found != first.found
        if found > gravest.found:
            gravest = judged
    return Judged(gravest.rule, gravest.subject, together, varies)
