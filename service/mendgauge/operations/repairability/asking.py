"""Which missing fields decide the verdict, and which of them to ask first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

from mendgauge.case.contract import Pointer
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.assessment import Assessment, Key, deciding, merge
from mendgauge.judging.questions import Ask, fields_of_use, missing, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.repairability.assessed import assessed_of
from mendgauge.operations.repairability.until_then import losing_air_counts
from mendgauge.operations.workup import Workup
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.outcome import MET, NOT_HERE, Outcome, settled
from mendgauge.rules.repair import history

_KIND: Final = "/vehicle/kind"
_RUN_LOW: Final = history.RUN_LOW.name
_SEALANT: Final = history.SEALANT.name
_LOSING_AIR: Final = Ask("/history/losing_air", ("until_then",), 0, 0.0)
"""What the driver is told hangs on it, and no rule does."""


def asks_of(workup: Workup) -> tuple[Ask, ...]:
    """Return the missing fields, most useful first. Where the use is not known, answers are tried on the first one.

    Of a tyre that may be repaired whatever they are, those that decide of its position.
    """
    case, assessed = workup.case, assessed_of(workup)
    first = assessed[0]
    rules = {rule.name: rule for rule, _ in first.each_rule()}
    of_use = fields_of_use(workup.uses)
    decisive = deciding(assessed)
    of_position = {key: one for key, one in merge(assessed).items() if one.judged.found == MET | NOT_HERE}
    fields = (dict(_of_the_road(first)) if decisive else {}) | {
        key: (*(of_use if one.varies else ()), *missing(one.judged.rule.depends_on, one.judged.subject))
        for key, one in (decisive | of_position).items()
    }

    def try_answers(field: Pointer) -> Iterable[Any]:
        return first.facts.marking_facts.kinds if field == _KIND else answers(field, first.facts)

    def settled_by(field: Pointer, answer: Any, keys: list[Key]) -> int:
        if field == _KIND:
            of_kind = merge([one for one in assessed if one.facts.kind == answer])
            return sum(key not in of_kind or settled(of_kind[key].judged.found) for key in keys)
        facts = TyreFacts(put(case, field, answer), first.facts.use, workup.edition, workup.on)
        return sum(settled(_judge_one(rules, facts, key)) for key in keys)

    asks = rank(fields, try_answers, settled_by)
    if not losing_air_counts(first.facts):
        return asks
    # It decides no verdict: it comes after what may, and before what cannot by itself.
    place = sum(ask.on_average > 0 for ask in asks)
    return (*asks[:place], _LOSING_AIR, *asks[place:])


def _of_the_road(one: Assessment) -> Iterator[tuple[Key, tuple[Pointer, ...]]]:
    """Yield the rules on what happened on the road, with what the driver can still say of it.

    Where they are cautions they decide no verdict, but how the tyre is handled and what is looked for inside it.
    """
    open_rules = {judged.rule.name for judged in one.notable if not settled(judged.found)}
    for rule in one.rules.tyre:
        if rule.name == _RUN_LOW:
            pressure = ("pressure",) if _RUN_LOW in open_rules else ()
            yield (_RUN_LOW, None), missing(("driven_flat", "flat_distance", *pressure), one.facts)
        elif rule.name == _SEALANT:
            yield (_SEALANT, None), missing(("sealant",), one.facts)


def _judge_one(rules: dict[str, BoundRule[Any]], facts: TyreFacts, key: Key) -> Outcome:
    name, index = key
    rule = rules.get(name)
    if rule is None:
        return MET
    return rule.outcome(facts if index is None else facts.injuries[index])
