"""How a question of the trade becomes a rule that judges a tyre.

A question is a few pure functions in a module of its own. Bound to an edition, a class of tyre and a day it becomes a
`Rule`: a closure over the provisions in force, which are read from the top until one surely applies.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Generic, TypeVar

import msgspec

from mendgauge.facts import InjuryFacts, TyreFacts
from mendgauge.quantity import EITHER, NO, YES, Interval, Truth, at_most, both, negate
from mendgauge.rulebooks.schema import Edition, Provision
from mendgauge.rules.outcome import MET, Outcome
from mendgauge.tyre.speed import kmh_of

P = TypeVar("P", bound=Provision)
S = TypeVar("S", TyreFacts, InjuryFacts)


class Evidence(msgspec.Struct, frozen=True):
    """What a rule saw and what it held it against; `None` where the rule is not about a quantity."""

    observed: Interval | None = None
    limit: float | Interval | None = None
    unit: str = ""
    inclusive: bool = True
    at_least: bool = False


NOTHING_MEASURED = Evidence()


class Question(msgspec.Struct, Generic[S, P], frozen=True):
    """One question of the trade.

    `looks_at` names the facts that can settle it. `provisions` finds what an edition says of it. `judge` makes of one
    provision a function from a subject to an outcome, `evidence` says what was seen. A question that several
    provisions answer together, each for its own part, tells by `cites` which of them to name.
    """

    name: str
    looks_at: tuple[str, ...]
    provisions: Callable[[Edition], tuple[P, ...]]
    judge: Callable[[P, Setting], Callable[[S], Outcome]]
    evidence: Callable[[S, P], Evidence]
    also_looks_at: Callable[[P], tuple[str, ...]] = lambda _provision: ()
    cites: Callable[[S, P], bool] | None = None


class Setting(msgspec.Struct, frozen=True):
    """What a rule may know of the edition beyond its own provision: what lies beyond a minor repair, and where."""

    beyond_minor: Callable[[TyreFacts], Outcome]
    beyond_sidewall: Callable[[TyreFacts], Outcome]
    beyond_bead: Callable[[TyreFacts], Outcome]
    looks_at: tuple[str, ...]


class Rule(msgspec.Struct, Generic[S], frozen=True):
    """A question bound to an edition, a class of tyre and a day."""

    name: str
    looks_at: tuple[str, ...]
    judge: Callable[[S], Outcome]
    branches: tuple[Branch[S], ...]
    cites: Callable[[S, Any], bool] | None

    def deciding(self, subject: S) -> Branch[S]:
        """The provision that speaks worst of the subject among those that may apply to it."""
        cites = self.cites
        may_apply = []
        for branch in self.branches:
            if cites is not None and not cites(subject, branch.provision):
                continue
            applies = branch.applies(subject.tyre)
            if applies != NO:
                may_apply.append(branch)
            if applies == YES:
                break
        return max(may_apply or self.branches, key=lambda branch: branch.judge(subject))


class Branch(msgspec.Struct, Generic[S], frozen=True):
    """One provision of a rule, with the test of whether it applies."""

    provision: Provision
    applies: Callable[[TyreFacts], Truth]
    judge: Callable[[S], Outcome]
    evidence: Callable[[S], Evidence]
    looks_at: tuple[str, ...]


def bind(question: Question[S, P], provisions: tuple[P, ...], setting: Setting) -> Rule[S]:
    """The rule that a question becomes under the given provisions, of which there is at least one."""
    branches = tuple(_branch(question, provision, setting) for provision in provisions)
    looks_at = (*question.looks_at, *setting.looks_at, *(fact for branch in branches for fact in branch.looks_at))
    alone = question.cites is not None or branches[0].provision.unconditional
    judge = branches[0].judge if alone else first_that_applies(branches)
    return Rule(question.name, tuple(dict.fromkeys(looks_at)), judge, branches, question.cites)


def _branch(question: Question[S, P], provision: P, setting: Setting) -> Branch[S]:
    applies, looks_at = condition(provision)
    return Branch(
        provision,
        applies,
        question.judge(provision, setting),
        lambda subject: question.evidence(subject, provision),
        (*question.also_looks_at(provision), *looks_at),
    )


def first_that_applies(branches: tuple[Branch[S], ...], otherwise: Outcome = MET) -> Callable[[S], Outcome]:
    """Judges by the first branch whose condition holds, and by every one before it whose condition may hold."""
    pairs = tuple((branch.applies, branch.judge) for branch in branches)

    def judge(subject: S) -> Outcome:
        tyre = subject.tyre
        found = 0
        for applies, judge_branch in pairs:
            holds = applies(tyre)
            if holds == NO:
                continue
            found |= judge_branch(subject)
            if holds == YES:
                return found
        return found | otherwise

    return judge


def condition(provision: Provision) -> tuple[Callable[[TyreFacts], Truth], tuple[str, ...]]:
    """Whether a provision applies to a tyre, as a function, and the facts that it looks at."""
    tests: list[Callable[[TyreFacts], Truth]] = []
    looks_at: list[str] = []
    if provision.kinds is not None:
        kinds = frozenset(provision.kinds)
        tests.append(lambda tyre: YES if tyre.kind in kinds else NO)
    if provision.mass_over_kg is not None or provision.mass_to_kg is not None:
        tests.append(_between("mass", provision.mass_over_kg, provision.mass_to_kg))
        looks_at.append("mass")
    if provision.speed_over is not None or provision.speed_to is not None:
        over, to = (None if symbol is None else kmh_of(symbol) for symbol in (provision.speed_over, provision.speed_to))
        tests.append(_between("rated_kmh", over, to))
        looks_at.append("rated_kmh")
    if provision.section_over_mm is not None or provision.section_to_mm is not None:
        tests.append(_between("section_width", provision.section_over_mm, provision.section_to_mm))
        looks_at.append("section_width")
    if provision.steered is not None:
        tests.append((lambda tyre: tyre.steered) if provision.steered else (lambda tyre: negate(tyre.steered)))
        looks_at.append("steered")
    if provision.fitment is not None:
        tests.append(
            (lambda tyre: tyre.single) if provision.fitment == "single" else (lambda tyre: negate(tyre.single))
        )
        looks_at.append("single")
    if provision.trait is not None:
        trait = provision.trait
        tests.append(lambda tyre: tyre.traits[trait])
        looks_at.append(trait)
    return _all(tuple(tests)), tuple(looks_at)


def _between(fact: str, over: float | None, to: float | None) -> Callable[[TyreFacts], Truth]:
    def test(tyre: TyreFacts) -> Truth:
        value: Interval = getattr(tyre, fact)
        above = YES if over is None else negate(at_most(value, over))
        below = YES if to is None else at_most(value, to)
        return both(above, below)

    return test


def _all(tests: tuple[Callable[[TyreFacts], Truth], ...]) -> Callable[[TyreFacts], Truth]:
    if len(tests) == 1:
        return tests[0]

    def test(tyre: TyreFacts) -> Truth:
        found: Truth = YES
        for one in tests:
            answer = one(tyre)
            if answer == NO:
                return NO
            if answer == EITHER:
                found = EITHER
        return found

    return test


def through_only(judge: Callable[[InjuryFacts], Outcome]) -> Callable[[InjuryFacts], Outcome]:
    """A rule on the channel speaks only of an injury that goes through the crown: else there is no channel."""

    def judge_through(injury: InjuryFacts) -> Outcome:
        through = injury.through
        if through == YES:
            return judge(injury)
        return MET if through == NO else MET | judge(injury)

    return judge_through
