"""Which question settles the most of what a tyre may do: the fields behind what is open, in the order worth asking."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, Final

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.case.case import Case
from mendgauge.case.contract import Pointer
from mendgauge.core.interval import EITHER, YES
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, Key, merge
from mendgauge.judging.effort import cost_of_facts
from mendgauge.judging.questions import OpenRule, ToEstablish, fields_of_use, in_words, missing, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.service_limits.position import assess_position
from mendgauge.operations.service_limits.speed import Speed, speed_after_repair
from mendgauge.rulebooks import Edition
from mendgauge.rules.outcome import CAUTION, MET, NOT_HERE, settled, worst
from mendgauge.tyre.tyre_class import Use

_RATING: Final = "speed_rating"
_COVERS: Final = "covers_vehicle"
_LIMITS: Final = "speed_limits"
_KIND: Final = "/vehicle/kind"
_POLICY: Final = "/tyre/maker_policy/speed_rating_after_repair"
_CAP: Final = "/tyre/maker_policy/speed_cap_kmh"
_CAPS: Final = (50.0, 500.0)


def questions(
    tyres: list[PositionFacts],
    assessed: list[Assessment],
    speed: Speed | None,
    bound: BoundEdition,
    on: date,
) -> tuple[ToEstablish, ...]:
    """Return the missing fields that may still change the speed, the load or the position, the most useful first.

    Where the vehicle is not known, answers are tried on its first kind. A tyre that cannot be repaired has no `speed`
    after a repair to ask for.
    """
    open_rules = dict(_open_rules(assessed, tyres))
    if speed is not None:
        open_rules |= dict(_open_speed(speed, tyres))
    open_rules = {key: rule for key, rule in open_rules.items() if rule.fields}
    if not open_rules:
        return ()
    return tuple(in_words(ask, bound.words) for ask in rank(open_rules, _Trials(tyres, assessed, bound.edition, on)))


class _Trials:
    """Trial answers on the tyre as it is fitted, in the first of its uses. All that is open is found anew for each."""

    def __init__(self, tyres: list[PositionFacts], assessed: list[Assessment], edition: Edition, on: date) -> None:
        self._tyres, self._assessed, self._edition, self._on = tyres, assessed, edition, on

    def answers(self, field: Pointer) -> Sequence[Any]:
        if field == _KIND:
            return [one.facts.use for one in self._assessed]
        return _CAPS if field == _CAP else answers(field, self._tyres[0])

    def cost(self, _keys: Sequence[Key]) -> int:
        tyre = self._tyres[0]
        return cost_of_facts(tyre) + len(tyre.mates) + self._assessed[0].count_rules()

    def settled_by(self, field: Pointer, answer: Any, keys: Sequence[Key]) -> tuple[int, bool]:
        tyre = self._tyres[0]
        changed, use = (tyre.case, answer) if field == _KIND else (put(tyre.case, field, answer), tyre.use)
        done = _settled(changed, use, self._edition, self._on)
        return sum(name in done for name, _ in keys), False


def _open_rules(assessed: list[Assessment], tyres: list[PositionFacts]) -> Iterable[tuple[Key, OpenRule]]:
    """Yield the rules on the position and the load that may still turn out badly, with the fields behind them."""
    for key, merged in merge(assessed).items():
        judged = merged.judged
        if not settled(judged.found) and judged.found & NOT_HERE:
            of_use = fields_of_use([tyre.use for tyre in tyres]) if merged.varies else ()
            yield key, OpenRule((*of_use, *missing(judged.rule.depends_on, tyres[0])), worst(judged.found))


def _open_speed(speed: Speed, tyres: list[PositionFacts]) -> Iterable[tuple[Key, OpenRule]]:
    """Yield what is open of the speed, with the fields behind it."""
    tyre = tyres[0]
    rating = _behind_rating(speed, tyre)
    if not speed.settled:
        yield (_RATING, None), OpenRule(rating, CAUTION)
    if speed.covers_vehicle == EITHER:
        yield (_COVERS, None), OpenRule((*rating, *missing(("vehicle_kmh", "rated_kmh"), tyre)), CAUTION)
    if not _limits_known(speed):
        unsure = [limit for limit in speed.limits if limit.holds != YES]
        of_use = fields_of_use([tyre.use for tyre in tyres]) if unsure else ()
        traits = [limit.provision.trait for limit in unsure if limit.provision.trait]
        yield (_LIMITS, None), OpenRule((*of_use, *rating, *missing((*traits, "rated_kmh"), tyre)), CAUTION)


def _limits_known(speed: Speed) -> bool:
    return speed.ceiling_settled and all(limit.holds == YES for limit in speed.limits)


def _behind_rating(speed: Speed, tyre: PositionFacts) -> tuple[Pointer, ...]:
    if speed.settled:
        return ()
    policy = tyre.case.tyre.maker_policy
    says = policy is not None and (policy.speed_rating_after_repair is not None or policy.speed_cap_kmh is not None)
    repaired = missing(("repaired",), tyre)
    if not says:
        return (_POLICY, *repaired)
    return (_CAP, *repaired) if speed.statuses == ("capped",) else repaired


def _settled(case: Case, use: Use, edition: Edition, on: date) -> set[str]:
    """Return what is settled of a case, by name."""
    tyre = PositionFacts(case, use, edition, on)
    speed = speed_after_repair([tyre], edition)
    one = assess_position(tyre, edition)
    found = {judged.rule.name: judged.found for judged in one.notable}
    done = {rule.name for rule, _ in one.each_rule() if settled(found.get(rule.name, MET))}
    tyre.release()
    return done | {
        name
        for name, known in (
            (_RATING, speed.settled),
            (_COVERS, speed.covers_vehicle != EITHER),
            (_LIMITS, _limits_known(speed)),
        )
        if known
    }
