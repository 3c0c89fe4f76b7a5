"""Which missing fields decide the verdict, and which of them to ask first."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache, reduce
from operator import or_
from typing import Any, Final

import msgspec

from mendgauge.answers.questions import ASKED_IN_BRIEF
from mendgauge.case.contract import Pointer
from mendgauge.case.fields import field_at
from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YES_NO_FACTS, YesNoFacts
from mendgauge.judging.assessment import Assessment, Judged, Key
from mendgauge.judging.effort import Effort, cost_of_facts, cost_of_judging
from mendgauge.judging.missing import fields_of_use, missing
from mendgauge.judging.questions import (
    Ask,
    OpenRule,
    OpenRules,
    ToEstablish,
    ask_for,
    in_order,
    in_words,
    open_alike,
    open_rule,
    rank,
)
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.repairability.assessed import assessed_of, notable_of
from mendgauge.operations.repairability.until_then import hangs_on_losing_air
from mendgauge.operations.workup import Workup
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.outcome import BROKEN_ABOVE, CAUTION, MET, NOT_HERE, OPEN_ABOVE, SETTLED, Outcome, may_exceed
from mendgauge.rules.repair import history
from mendgauge.wording import Wording

_KIND: Final = "/vehicle/kind"
_MAKER: Final = "/tyre/maker_policy/repair"
_RUN_FLAT: Final = "/tyre/traits/run_flat"
_WITH_RUN_FLATS: Final = frozenset({"car", "van"})
_RUN_LOW: Final = history.RUN_LOW.name
_SEALANT: Final = history.SEALANT.name
_LOSING_AIR: Final = ask_for("/history/losing_air", ("until_then",))
"""What to tell the driver hangs on it, and no rule does."""


class Questions(msgspec.Struct, frozen=True, gc=False):
    """The questions of an answer; `may_decide` whether one that is asked before the tyre is booked in may decide it."""

    to_establish: tuple[ToEstablish, ...]
    may_decide: bool


NO_QUESTIONS: Final = Questions((), may_decide=False)


def questions_of(workup: Workup) -> Questions:
    """Return the questions for the missing fields, in the order in which they can be answered.

    Of a tyre that may be repaired whatever they are, those for what decides of its position.
    """
    assessed, notable = assessed_of(workup), notable_of(workup)
    floor = min(one.floor for one in assessed)
    alike, decisive = open_alike(notable.alike, max(floor, NOT_HERE)), OPEN_ABOVE[max(floor, NOT_HERE)]
    own = [one for one in notable.own if one.found in decisive]
    of_the_road = _of_the_road(assessed[0], own) if own or alike.judged else ()
    own += [one for one in notable.own if one.found == MET | NOT_HERE]
    of_use = fields_of_use(workup.uses)
    grave = (*alike.rules, *[open_rule(one, of_use) for one in own])
    open_rules = (*of_the_road, *grave)
    trials = _Trials(workup, assessed, (*alike.judged, *own), max(floor, CAUTION))
    to_try, worded = (_to_try, _worded) if len(open_rules) <= _MOST_KEPT else (_to_try.__wrapped__, _worded.__wrapped__)
    return worded(
        open_rules,
        frozenset([field for field, places in to_try(grave) if trials.decide(field, places)]),
        _may_be_run_flat(assessed[0].facts),
        _LOSING_AIR if hangs_on_losing_air(workup) else None,
        workup.bound.words,
        None if workup.bound.full else ASKED_IN_BRIEF,
    )


# Open rules of a case whose questions are kept: with more, it is long, and hardly comes again.
_MOST_KEPT: Final = 64


@lru_cache(maxsize=1024)
def _to_try(grave: OpenRules) -> tuple[tuple[Pointer, tuple[int, ...]], ...]:
    """Return the fields of which only trial answers show whether they decide something, of rules more than a caution.

    With each come the places of the rules that it leaves open and that an answer to it alone may break: one that is met
    unless the injury goes through hangs on what only the bench sees.
    """
    behind: dict[Pointer, list[int]] = {}
    for place, rule in enumerate(grave):
        for field in rule.fields:
            behind.setdefault(field, []).append(place)
    found = []
    for field, places in behind.items():
        if field_at(field).entry.asked_at != "bench" and all(len(grave[place].fields) > 1 for place in places):
            alone = tuple(place for place in places if field == _KIND or not grave[place].if_through)
            if alone:
                found.append((field, alone))
    return tuple(found)


@lru_cache(maxsize=1024)
def _worded(
    open_rules: OpenRules,
    deciding: frozenset[Pointer],
    run_flat: Truth,
    last: Ask | None,
    words: Wording,
    most: int | None,
) -> Questions:
    """Return the questions behind open rules in words, the first `most` of them.

    `deciding` are the fields that trials showed to decide something, `last` the question that decides no verdict.
    """
    asks = _of_run_flats(rank(open_rules, deciding), run_flat)
    if not any(ask.decides and ask.asked_at != "bench" for ask in asks):
        # Nothing short of the bench decides: what decides there is asked first.
        asks = tuple(sorted(asks, key=lambda ask: ask.asked_at != "bench"))
    if last is not None:
        # The driver waits for an answer: it is the last asked by phone, or in a brief answer.
        by_phone = sum(ask.asked_at in ("record", "phone") and not ask.waits for ask in asks)
        place = min(ASKED_IN_BRIEF - 1, by_phone if asks and asks[0].asked_at != "bench" else len(asks))
        asks = (*asks[:place], last, *asks[place:])
    return Questions(tuple(in_words(ask, words) for ask in asks[:most]), _may_decide(asks, open_rules))


def _may_decide(asks: tuple[Ask, ...], open_rules: OpenRules) -> bool:
    """Return whether a question may decide the verdict before the tyre is booked in, and not only its position.

    What waits for the workshop is asked for once nothing is left to see at the bench.
    """
    decisive = {rule.name for rule in open_rules if may_exceed(rule.found, NOT_HERE)}
    deciding = [ask for ask in asks if ask.decides and not decisive.isdisjoint(ask.settles)]
    at_bench = any(ask.asked_at == "bench" for ask in deciding)
    return any(ask.asked_at != "bench" and not (ask.waits and at_bench) for ask in deciding)


# Judgements spent on trial answers to the questions of one case: about 5 ms.
_MOST_JUDGEMENTS: Final = 2_000


def _may_be_run_flat(facts: TyreFacts) -> Truth:
    """Return whether it is a run-flat; none but on a car or a van, for which they are made (common practice)."""
    run_flat = facts.traits["run_flat"]
    return NO if run_flat == EITHER and facts.kind not in _WITH_RUN_FLATS else run_flat


def _of_run_flats(asks: tuple[Ask, ...], run_flat: Truth) -> tuple[Ask, ...]:
    """Return the questions, of a run-flat with its maker's word before it is booked in: most that forbid mean these.

    Whether it is one is asked first.
    """
    if run_flat == NO or not any(ask.field == _MAKER for ask in asks):
        return asks
    sooner = {_MAKER: {"waits": False}} if run_flat == YES else {_RUN_FLAT: {"decides": True}}
    return in_order(msgspec.structs.replace(ask, **sooner[ask.field]) if ask.field in sooner else ask for ask in asks)


class _Trials:
    """Trial answers: whether one alone breaks a rule. The kind of vehicle is tried by taking the uses on it."""

    def __init__(
        self, workup: Workup, assessed: list[Assessment], open_rules: tuple[Judged, ...], floor: Outcome
    ) -> None:
        self._workup, self._assessed, self._open = workup, assessed, open_rules
        self._breaking = BROKEN_ABOVE[floor]
        self._effort = Effort(_MOST_JUDGEMENTS)

    def decide(self, field: Pointer, places: Sequence[int]) -> bool:
        """Return whether some answer to a question breaks one of the rules that it touches, whatever else is open.

        Beyond the effort of a case, and where the answers are too many to try, none is taken to.
        """
        judged = [self._open[place] for place in places]
        if field == _KIND:
            keys = {one.key for one in judged}
            return any(self._broken_on(kind, keys) for kind in self._assessed[0].facts.marking_facts.kinds)
        (fact, *_) = field_at(field).entry.facts or ("",)
        on_measure: list[tuple[BoundRule[Any], TyreFacts | InjuryFacts]] = []
        for one in judged:
            subject = one.subject
            if isinstance(subject, YesNoFacts):
                if fact in YES_NO_FACTS and self._broken(_either_way(one.rule, subject, fact)):
                    return True
            else:
                on_measure.append((one.rule, subject))
        if not on_measure:
            return False
        # Each tyre once in the order of the rules: a set has that of their addresses, and the effort spent on one is
        # lacking for the next.
        tyres = dict.fromkeys(subject.tyre for _, subject in on_measure)
        return any(self._tried(field, tyre, on_measure) for tyre in tyres)

    def _broken_on(self, kind: str, keys: Collection[Key]) -> bool:
        """Return whether some of the open rules are broken in every use on one kind of vehicle."""
        uses = [one.notable for one in self._assessed if one.facts.kind == kind]
        found: dict[Key, list[Outcome]] = {}
        for notable in uses:
            for judged in notable:
                if judged.key in keys:
                    found.setdefault(judged.key, []).append(judged.found)
        # A rule that is met is not notable.
        return self._broken(reduce(or_, each) for each in found.values() if len(each) == len(uses))

    def _tried(
        self,
        field: Pointer,
        tyre: TyreFacts,
        on_measure: Iterable[tuple[BoundRule[Any], TyreFacts | InjuryFacts]],
    ) -> bool:
        rules = [(rule, subject) for rule, subject in on_measure if subject.tyre is tyre]
        tried, workup = answers(field, tyre), self._workup
        if not self._effort.spend(len(tried) * (cost_of_facts(tyre) + cost_of_judging(rules))):
            return False
        for answer in tried:
            facts = TyreFacts(put(workup.case, field, answer), tyre.use, workup.edition, workup.on)
            broken = self._broken(
                rule.outcome(facts.injuries[subject.index] if isinstance(subject, InjuryFacts) else facts)
                for rule, subject in rules
            )
            facts.release()
            if broken:
                return True
        return False

    def _broken(self, found: Iterable[Outcome]) -> bool:
        return not self._breaking.isdisjoint(found)


@lru_cache(maxsize=4096)
def _either_way(rule: BoundRule[Any], known: YesNoFacts, fact: str) -> tuple[Outcome, Outcome]:
    """Return what a rule on yes-or-no facts alone comes to with either answer to one of them."""
    return rule.judge(known.supposing(fact, YES)), rule.judge(known.supposing(fact, NO))


def _of_the_road(one: Assessment, decisive: Iterable[Judged]) -> Iterator[OpenRule]:
    """Yield the rules on what happened on the road, with what the driver can still say of it.

    Where they are cautions they decide no verdict, but how the tyre is handled and what is looked for inside it.
    """
    names = _names(one.rules)
    if _RUN_LOW in names:
        left_open = _RUN_LOW in [judged.rule.name for judged in one.notable.own if judged.found not in SETTLED]
        asked = ("driven_flat", "flat_distance", "pressure") if left_open else ("driven_flat", "flat_distance")
        yield OpenRule(_RUN_LOW, missing(asked, one.facts), CAUTION)
    if _SEALANT in names and _SEALANT not in [judged.rule.name for judged in decisive]:
        yield OpenRule(_SEALANT, missing(("sealant",), one.facts), CAUTION)


@lru_cache(maxsize=512)
def _names(rules: BoundRules) -> frozenset[str]:
    return frozenset(rule.name for rule in rules.tyre)
