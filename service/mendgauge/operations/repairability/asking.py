"""Which missing fields decide the verdict, and which of them to ask first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, Final

import msgspec

from mendgauge.answers.questions import ASKED_IN_BRIEF
from mendgauge.case.contract import Pointer
from mendgauge.case.fields import field_at
from mendgauge.core.interval import EITHER, NO, YES
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YES_NO_FACTS, YesNoFacts
from mendgauge.judging.assessment import Assessment, Judged, Key, Merged, merge
from mendgauge.judging.effort import Effort, cost_of_facts, cost_of_judging
from mendgauge.judging.missing import fields_of_use, missing
from mendgauge.judging.questions import Ask, OpenRule, ask_for, in_order, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.repairability.assessed import assessed_of, decisive_of, merged_of
from mendgauge.operations.repairability.until_then import hangs_on_losing_air
from mendgauge.operations.workup import Workup
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.outcome import CAUTION, MET, NOT_HERE, Outcome, may_exceed, settled, worst
from mendgauge.rules.repair import history

_KIND: Final = "/vehicle/kind"
_MAKER: Final = "/tyre/maker_policy/repair"
_RUN_FLAT: Final = "/tyre/traits/run_flat"
_WITH_RUN_FLATS: Final = frozenset({"car", "van"})
_RUN_LOW: Final = history.RUN_LOW.name
_SEALANT: Final = history.SEALANT.name
_LOSING_AIR: Final = ask_for("/history/losing_air", ("until_then",))
"""What to tell the driver hangs on it, and no rule does."""


def asks_of(workup: Workup) -> tuple[Ask, ...]:
    """Return the missing fields, in the order in which they can be answered.

    Of a tyre that may be repaired whatever they are, those that decide of its position.
    """
    assessed = assessed_of(workup)
    of_use = fields_of_use(workup.uses)
    decisive = decisive_of(workup)
    of_position = {key: one for key, one in merged_of(workup).items() if one.judged.found == MET | NOT_HERE}
    found = decisive | of_position
    open_rules = (dict(_of_the_road(assessed[0])) if decisive else {}) | {
        key: OpenRule(
            (*(of_use if one.varies else ()), *missing(one.judged.rule.depends_on, one.judged.subject)),
            worst(one.judged.found),
        )
        for key, one in found.items()
    }
    asks = _of_run_flats(rank(open_rules, _Trials(workup, assessed, found).decide), assessed[0].facts)
    if not any(ask.decides and ask.asked_at != "bench" for ask in asks):
        # Nothing short of the bench decides: what decides there is asked first.
        asks = tuple(sorted(asks, key=lambda ask: ask.asked_at != "bench"))
    if not hangs_on_losing_air(workup):
        return asks
    # It decides no verdict, but the driver waits for an answer: it is the last asked by phone, or in a brief answer.
    by_phone = sum(ask.asked_at in ("record", "phone") and not ask.waits for ask in asks)
    place = min(ASKED_IN_BRIEF - 1, by_phone if asks and asks[0].asked_at != "bench" else len(asks))
    return (*asks[:place], _LOSING_AIR, *asks[place:])


# Judgements spent on trial answers to the questions of one case: about 5 ms.
_MOST_JUDGEMENTS: Final = 2_000


def _of_run_flats(asks: tuple[Ask, ...], facts: TyreFacts) -> tuple[Ask, ...]:
    """Return the questions, of a run-flat with its maker's word before it is booked in: most that forbid mean these.

    Whether it is one is asked first, on a car or a van: run-flats are made for these (common practice).
    """
    run_flat = facts.traits["run_flat"]
    may_be_one = run_flat == YES or (run_flat == EITHER and facts.kind in _WITH_RUN_FLATS)
    if not may_be_one or not any(ask.field == _MAKER for ask in asks):
        return asks
    sooner = {_MAKER: {"waits": False}} if run_flat == YES else {_RUN_FLAT: {"decides": True}}
    return in_order(msgspec.structs.replace(ask, **sooner[ask.field]) if ask.field in sooner else ask for ask in asks)


class _Trials:
    """Trial answers: whether one alone breaks a rule. The kind of vehicle is tried by taking the uses on it."""

    def __init__(self, workup: Workup, assessed: list[Assessment], found: Mapping[Key, Merged]) -> None:
        self._workup, self._assessed, self._found = workup, assessed, found
        self._floor = max(min(one.floor for one in assessed), CAUTION)
        self._effort = Effort(_MOST_JUDGEMENTS)

    def decide(self, field: Pointer, keys: Sequence[Key]) -> bool:
        """Return whether some answer to a question breaks one of the rules that it touches, whatever else is open.

        Beyond the effort of a case, and where the answers are too many to try, none is taken to.
        """
        if field == _KIND:
            kinds = self._assessed[0].facts.marking_facts.kinds
            return any(self._broken(self._judged_on(kind, keys)) for kind in kinds)
        judged = [one.judged for key in keys if (one := self._found.get(key)) and not _hangs_on_depth(one.judged)]
        (fact, *_) = field_at(field).entry.facts or ("",)
        if fact in YES_NO_FACTS:
            known = self._workup.facts[0].yes_no
            rules = [one.rule for one in judged if YES_NO_FACTS.issuperset(one.rule.depends_on)]
            if self._broken(found for rule in rules for found in _either_way(rule, known, fact)):
                return True
            judged = [one for one in judged if one.rule not in rules]
        return any(self._tried(field, tyre, judged) for tyre in {one.subject.tyre for one in judged})

    def _judged_on(self, kind: str, keys: Iterable[Key]) -> Iterator[Outcome]:
        of_kind = merge([one for one in self._assessed if one.facts.kind == kind])
        return (of_kind[key].judged.found for key in keys if key in of_kind)

    def _tried(self, field: Pointer, tyre: TyreFacts, judged: Iterable[Judged]) -> bool:
        rules = [(one.rule, one.subject) for one in judged if one.subject.tyre is tyre]
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
        return any(settled(one) and may_exceed(one, self._floor) for one in found)


@lru_cache(maxsize=4096)
def _either_way(rule: BoundRule[Any], known: YesNoFacts, fact: str) -> tuple[Outcome, Outcome]:
    """Return what a rule on yes-or-no facts alone comes to with either answer to one of them."""
    return rule.judge(known.supposing(fact, YES)), rule.judge(known.supposing(fact, NO))


def _hangs_on_depth(judged: Judged) -> bool:
    """Return whether a rule is met unless the injury goes through, which only the bench sees."""
    subject = judged.subject
    return judged.rule.channel and isinstance(subject, InjuryFacts) and subject.through == EITHER


def _of_the_road(one: Assessment) -> Iterator[tuple[Key, OpenRule]]:
    """Yield the rules on what happened on the road, with what the driver can still say of it.

    Where they are cautions they decide no verdict, but how the tyre is handled and what is looked for inside it.
    """
    open_rules = {judged.rule.name for judged in one.notable if not settled(judged.found)}
    for rule in one.rules.tyre:
        if rule.name == _RUN_LOW:
            pressure = ("pressure",) if _RUN_LOW in open_rules else ()
            yield (_RUN_LOW, None), OpenRule(missing(("driven_flat", "flat_distance", *pressure), one.facts), CAUTION)
        elif rule.name == _SEALANT:
            yield (_SEALANT, None), OpenRule(missing(("sealant",), one.facts), CAUTION)
