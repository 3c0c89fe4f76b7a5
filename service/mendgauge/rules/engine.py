"""How a question of the trade becomes a rule that judges a tyre.

A question is a few pure functions in a module of its own. Bound to an edition, a tyre's marking, a vehicle and a day
it becomes a `Rule`: a closure over the provisions in force, which are read from the top until one surely applies.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import inf
from typing import Any, Generic, TypeVar

import msgspec

from mendgauge.core.interval import NO, YES, Interval
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.resolver import Condition, condition_of, unshadowed
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rules.outcome import MET, Outcome
from mendgauge.tyre.marking_facts import SizeAndSpeed
from mendgauge.tyre.tyre_class import TyreClass

P = TypeVar("P", bound=Provision)
S = TypeVar("S", bound=TyreFacts | InjuryFacts)


class Evidence(msgspec.Struct, frozen=True):
    """What a rule saw and what it held it against; `None` where the rule is not about a quantity."""

    observed: Interval | None = None
    limit: float | Interval | None = None
    unit: str = ""
    inclusive: bool = True
    at_least: bool = False


NOTHING_MEASURED = Evidence()


class RuleDefinition(msgspec.Struct, Generic[S, P], frozen=True, eq=False):
    """One question of the trade.

    `depends_on` names the facts that can settle it. `provisions` finds what an edition says of it. `judge` makes of one
    provision a function from a subject to an outcome, `evidence` says what was seen; none where the question is not
    about a quantity. For a limit on a measurement `headroom` says by how much it is kept, at the worst. A question that
    several provisions answer together, each its own part, names by `cites` which of them to cite. One on the `channel`
    speaks only of an injury that goes through. One that asks what lies `beyond` a minor repair depends on the
    conditions of that, too. One that is not `exact` takes each thing it looks at for itself, though one fact may stand
    behind several of them.
    """

    name: str
    depends_on: tuple[str, ...]
    provisions: Callable[[Edition, TyreClass], tuple[P, ...]]
    judge: Callable[[P, Setting], Callable[[S], Outcome]]
    evidence: Callable[[S, P], Evidence] | None = None
    headroom: Callable[[P, Setting], Callable[[S], float]] | None = None
    also_depends_on: Callable[[P], tuple[str, ...]] = lambda _provision: ()
    cites: Callable[[S, P], bool] | None = None
    channel: bool = False
    beyond: bool = False
    exact: bool = True


class Setting(msgspec.Struct, frozen=True, gc=False):
    """What a rule may know beyond its own provision: the vehicle, what conditions make of the marking, and what lies
    beyond a minor repair.

    `marked` stands for every marking that no condition of the edition distinguishes: its figures are no tyre's own.
    """

    kind: VehicleKind
    marked: SizeAndSpeed
    beyond_minor: Callable[[TyreFacts], Outcome]
    beyond_sidewall: Callable[[TyreFacts], Outcome]
    beyond_bead: Callable[[TyreFacts], Outcome]
    depends_on: tuple[str, ...]


class Branch(msgspec.Struct, Generic[S], frozen=True, eq=False, gc=False):
    """One provision of a rule, with the test of whether it applies; no evidence where it is not about a quantity."""

    provision: Provision
    applies: Condition
    judge: Callable[[S], Outcome]
    evidence: Callable[[S], Evidence] | None
    depends_on: tuple[str, ...]
    headroom: Callable[[S], float] | None = None

    def seen(self, subject: S) -> Evidence:
        """Return what the provision looked at in a subject."""
        return NOTHING_MEASURED if self.evidence is None else self.evidence(subject)


class BoundRule(msgspec.Struct, Generic[S], frozen=True, eq=False, gc=False):
    """A question bound to an edition, a class of tyre and a day; `measures` where it is about a quantity.

    `judge` takes an injury to go through where the rule is on its `channel`; `where_through` makes up for that.
    """

    name: str
    depends_on: tuple[str, ...]
    judge: Callable[[S], Outcome]
    branches: tuple[Branch[S], ...]
    cites: Callable[[S, Any], bool] | None = None
    channel: bool = False
    exact: bool = True
    measures: bool = False

    def outcome(self, subject: S) -> Outcome:
        """Return what the rule comes to for a subject."""
        found = self.judge(subject)
        return where_through(found, subject) if self.channel and isinstance(subject, InjuryFacts) else found

    def headroom(self, subject: S) -> float:
        """By how much the subject keeps the limits that may apply, at the worst; without end where none is measured."""
        applying = may_apply(self.branches, subject.tyre)
        return min((branch.headroom(subject) for branch in applying if branch.headroom is not None), default=inf)

    def deciding(self, subject: S) -> Branch[S]:
        """Return the provision that speaks worst of the subject among those that may apply to it."""
        if len(self.branches) == 1:
            return self.branches[0]
        cites = self.cites
        cited = [branch for branch in self.branches if cites is None or cites(subject, branch.provision)]
        return max(may_apply(cited, subject.tyre) or self.branches, key=lambda branch: branch.judge(subject))


def where_through(found: Outcome, injury: InjuryFacts) -> Outcome:
    """Return what a rule on the channel comes to: an injury that does not go through has no channel to speak of."""
    if injury.through == YES:
        return found
    return MET if injury.through == NO else found | MET


def may_apply(branches: Iterable[Branch[S]], tyre: TyreFacts) -> tuple[Branch[S], ...]:
    """Return the branches that may apply to a tyre: up to the first that surely does."""
    found = []
    for branch in branches:
        applies = branch.applies if isinstance(branch.applies, int) else branch.applies(tyre)
        if applies != NO:
            found.append(branch)
        if applies == YES:
            break
    return tuple(found)


def bind(question: RuleDefinition[S, P], provisions: tuple[P, ...], setting: Setting) -> BoundRule[S] | None:
    """Return the rule that a question becomes under the provisions that may apply; none where none does."""
    branches = applying([_branch(question, provision, setting) for provision in provisions])
    if not branches:
        return None
    depends_on = (
        *question.depends_on,
        *(setting.depends_on if question.beyond else ()),
        *(fact for branch in branches for fact in branch.depends_on),
    )
    judge = branches[0].judge if question.cites is not None else first_that_applies(branches)
    return BoundRule(
        question.name,
        tuple(dict.fromkeys(depends_on)),
        judge,
        branches,
        question.cites,
        question.channel,
        question.exact,
        question.evidence is not None,
    )


def _branch(question: RuleDefinition[S, P], provision: P, setting: Setting) -> Branch[S]:
    applies, depends_on = condition_of(provision, setting.kind, setting.marked)
    return Branch(
        provision,
        applies,
        question.judge(provision, setting),
        _evidence(question.evidence, provision),
        (*question.also_depends_on(provision), *depends_on),
        None if question.headroom is None else question.headroom(provision, setting),
    )


def _evidence(of: Callable[[S, P], Evidence] | None, provision: P) -> Callable[[S], Evidence] | None:
    return None if of is None else lambda subject: of(subject, provision)


def applying(branches: Iterable[Branch[S]]) -> tuple[Branch[S], ...]:
    """Drop branches that cannot apply and branches shadowed by one that always applies."""
    return unshadowed(branches, about=lambda branch: branch.provision.about, applies=lambda branch: branch.applies)


def first_that_applies(branches: tuple[Branch[S], ...], otherwise: Outcome = MET) -> Callable[[S], Outcome]:
    """Judge by the first branch whose condition holds, and by every one before it whose condition may hold."""
    if branches[0].applies == YES:
        return branches[0].judge
    pairs = tuple((branch.judge, branch.applies) for branch in branches)
    judges = tuple(branch.judge for branch in branches)

    def judge(subject: S) -> Outcome:
        for judge_branch in judges:
            if judge_branch(subject) != otherwise:
                return judge_applying(subject)
        # What every provision comes to, whichever applies, needs no condition tried.
        return otherwise

    def judge_applying(subject: S) -> Outcome:
        tyre = subject.tyre
        found = 0
        for judge_branch, applies in pairs:
            holds = applies if isinstance(applies, int) else applies(tyre)
            if holds == NO:
                continue
            found |= judge_branch(subject)
            if holds == YES:
                return found
        return found | otherwise

    return judge
