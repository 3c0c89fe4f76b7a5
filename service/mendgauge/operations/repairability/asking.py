"""Which missing fields decide the verdict, and which of them to ask first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

from mendgauge.answers.questions import ASKED_IN_BRIEF
from mendgauge.case.contract import Pointer
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.assessment import Assessment, Key, Merged, deciding, merge
from mendgauge.judging.effort import cost_of_facts, cost_of_judging
from mendgauge.judging.questions import Ask, OpenRule, ask_for, fields_of_use, missing, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.repairability.assessed import assessed_of
from mendgauge.operations.repairability.until_then import hangs_on_losing_air
from mendgauge.operations.workup import Workup
from mendgauge.rules.outcome import CAUTION, MET, NOT_HERE, Outcome, may_exceed, settled, worst
from mendgauge.rules.repair import history

_KIND: Final = "/vehicle/kind"
_RUN_LOW: Final = history.RUN_LOW.name
_SEALANT: Final = history.SEALANT.name
_LOSING_AIR: Final = ask_for("/history/losing_air", ("until_then",))
"""What to tell the driver hangs on it, and no rule does."""


def asks_of(workup: Workup) -> tuple[Ask, ...]:
    """Return the missing fields, in the order in which they can be answered.

    Where the use is not known, answers are tried on the first one. Of a tyre that may be
    repaired whatever they are, those that decide of its position.
    """
    assessed = assessed_of(workup)
    of_use = fields_of_use(workup.uses)
    decisive = deciding(assessed)
    of_position = {key: one for key, one in merge(assessed).items() if one.judged.found == MET | NOT_HERE}
    open_rules = (dict(_of_the_road(assessed[0])) if decisive else {}) | {
        key: OpenRule(
            (*(of_use if one.varies else ()), *missing(one.judged.rule.depends_on, one.judged.subject)),
            worst(one.judged.found),
        )
        for key, one in (decisive | of_position).items()
    }
    asks = rank(open_rules, _Trials(workup, assessed))
    if not any(ask.decides and ask.asked_at != "bench" for ask in asks):
        # Nothing short of the bench decides: what decides there is asked first.
        asks = tuple(sorted(asks, key=lambda ask: ask.asked_at != "bench"))
    if not hangs_on_losing_air(workup):
        return asks
    # It decides no verdict, but the driver waits for an answer: it is the last asked by phone, or in a brief answer.
    by_phone = sum(ask.asked_at in ("record", "phone") for ask in asks)
    place = min(ASKED_IN_BRIEF - 1, by_phone if asks and asks[0].asked_at != "bench" else len(asks))
    return (*asks[:place], _LOSING_AIR, *asks[place:])


class _Trials:
    """Trial answers on the tyre in the first of its uses; the kind of vehicle is tried by taking the others."""

    def __init__(self, workup: Workup, assessed: list[Assessment]) -> None:
        self._workup, self._assessed, self._facts = workup, assessed, assessed[0].facts
        self._rules = {rule.name: rule for rule, _ in assessed[0].each_rule()}
        self._floor = max(min(one.floor for one in assessed), CAUTION)
        self._by_kind: dict[str, dict[Key, Merged]] = {}

    def answers(self, field: Pointer) -> Sequence[Any]:
        return self._facts.marking_facts.kinds if field == _KIND else answers(field, self._facts)

    def cost(self, keys: Sequence[Key]) -> int:
        injuries, rules = self._facts.injuries, self._rules
        return cost_of_facts(self._facts) + cost_of_judging(
            (rules[name], self._facts if index is None else injuries[index]) for name, index in keys if name in rules
        )

    def settled_by(self, field: Pointer, answer: Any, keys: Sequence[Key]) -> tuple[int, bool]:
        if field == _KIND:
            of_kind = self._of_kind(answer)
            return self._count(of_kind[key].judged.found if key in of_kind else MET for key in keys)
        workup = self._workup
        facts = TyreFacts(put(workup.case, field, answer), self._facts.use, workup.edition, workup.on)
        found = [self._judge(facts, key) for key in keys]
        facts.release()
        return self._count(found)

    def _count(self, found: Iterable[Outcome]) -> tuple[int, bool]:
        done = [one for one in found if settled(one)]
        return len(done), any(may_exceed(one, self._floor) for one in done)

    def _of_kind(self, kind: str) -> dict[Key, Merged]:
        if kind not in self._by_kind:
            self._by_kind[kind] = merge([one for one in self._assessed if one.facts.kind == kind])
        return self._by_kind[kind]

    def _judge(self, facts: TyreFacts, key: Key) -> Outcome:
        name, index = key
        rule = self._rules.get(name)
        if rule is None:
            return MET
        return rule.outcome(facts if index is None else facts.injuries[index])


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
