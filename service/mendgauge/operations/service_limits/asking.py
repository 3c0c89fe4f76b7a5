"""Which question settles the most of what a tyre may do: the fields behind what is open, in the order worth asking."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import Final

from mendgauge.case.contract import Pointer
from mendgauge.core.interval import EITHER, YES
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, merge
from mendgauge.judging.missing import fields_of_use, missing
from mendgauge.judging.questions import Ask, OpenRule, OpenRules, rank
from mendgauge.operations.service_limits.speed import Speed
from mendgauge.rules.outcome import CAUTION, NOT_HERE, settled

_RATING: Final = "speed_rating"
_COVERS: Final = "covers_vehicle"
_LIMITS: Final = "speed_limits"
_POLICY: Final = "/tyre/maker_policy/speed_rating_after_repair"
_CAP: Final = "/tyre/maker_policy/speed_cap_kmh"


def asks_of_service(tyres: list[PositionFacts], assessed: list[Assessment], speed: Speed | None) -> tuple[Ask, ...]:
    """Return the missing fields that may still change the speed, the load or the position, the most useful first.

    A tyre that cannot be repaired has no `speed` after a repair to ask for.
    """
    of_speed = () if speed is None else _open_speed(speed, tyres)
    return _ranked((*_open_rules(assessed, tyres), *of_speed))


@lru_cache(maxsize=1024)
def _ranked(open_rules: OpenRules) -> tuple[Ask, ...]:
    return rank(open_rules)


def _open_rules(assessed: list[Assessment], tyres: list[PositionFacts]) -> Iterable[OpenRule]:
    """Yield the rules on the position and the load that may still turn out badly, with the fields behind them."""
    for judged in merge(assessed):
        if not settled(judged.found) and judged.found & NOT_HERE:
            of_use = fields_of_use([tyre.use for tyre in tyres]) if judged.varies else ()
            fields = (*of_use, *missing(judged.rule.depends_on, tyres[0]))
            yield OpenRule(judged.rule.name, fields, judged.found)


def _open_speed(speed: Speed, tyres: list[PositionFacts]) -> Iterable[OpenRule]:
    """Yield what is open of the speed, with the fields behind it."""
    tyre = tyres[0]
    rating = _behind_rating(speed, tyre)
    if not speed.settled:
        yield OpenRule(_RATING, rating, CAUTION)
    if speed.covers_vehicle == EITHER:
        yield OpenRule(_COVERS, (*rating, *missing(("vehicle_kmh", "rated_kmh"), tyre)), CAUTION)
    if not _limits_known(speed):
        unsure = [limit for limit in speed.limits if limit.holds != YES]
        of_use = fields_of_use([tyre.use for tyre in tyres]) if unsure else ()
        traits = [limit.provision.trait for limit in unsure if limit.provision.trait]
        yield OpenRule(_LIMITS, (*of_use, *rating, *missing((*traits, "rated_kmh"), tyre)), CAUTION)


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
