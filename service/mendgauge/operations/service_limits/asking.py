"""Which question settles the most of what a tyre may do: the fields behind what is open, in the order worth asking."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import Any, Final

from mendgauge.case.case import Case
from mendgauge.core.interval import EITHER, NO, YES, Interval
from mendgauge.facts.load import LOAD
from mendgauge.facts.position import PositionFacts
from mendgauge.judging.assessment import Assessment, Key, merge
from mendgauge.judging.questions import FACTS, Ask, Pointer, ToEstablish, fields_of_use, in_words, rank
from mendgauge.judging.trial_answers import answers, put
from mendgauge.operations.service_limits.position import assess_position
from mendgauge.operations.service_limits.speed import Speed, speed_after_repair
from mendgauge.rulebooks import Edition
from mendgauge.rules.outcome import MET, NOT_HERE, settled
from mendgauge.tyre.load import load_of
from mendgauge.tyre.tyre_class import Use
from mendgauge.wording import Wording

_RATING: Final = "speed_rating"
_COVERS: Final = "covers_vehicle"
_LIMITS: Final = "speed_limits"
_KIND: Final = "/vehicle/kind"
_POLICY: Final = "/tyre/maker_policy/speed_rating_after_repair"
_CAP: Final = "/tyre/maker_policy/speed_cap_kmh"
_CAPS: Final = (50.0, 500.0)


def questions(
    case: Case,
    tyres: list[PositionFacts],
    assessed: list[Assessment],
    edition: Edition,
    on: date,
    words: Wording,
    speed: Speed | None,
) -> tuple[ToEstablish, ...]:
    """The missing fields that may still change the speed, the load or the position, the most useful first.

    Where the vehicle is not known, answers are tried on its first kind. A tyre that cannot be repaired has no `speed`
    after a repair to ask for.
    """
    fields = dict(_open_rules(assessed, tyres))
    if speed is not None:
        fields |= dict(_open_speed(case, speed, tyres))
    if not fields:
        return ()

    def try_answers(field: Pointer) -> Iterable[Any]:
        if field == _KIND:
            return [one.facts.use for one in assessed]
        return _CAPS if field == _CAP else answers(field, tyres[0])

    def settled_by(field: Pointer, answer: Any, keys: list[Key]) -> int:
        changed, use = (case, answer) if field == _KIND else (put(case, field, answer), tyres[0].use)
        done = _settled(changed, use, edition, on)
        return sum(name in done for name, _ in keys)

    return tuple(in_words(ask, words) for ask in _ranked(fields, try_answers, settled_by))


def _ranked(
    fields: dict[Key, tuple[Pointer, ...]],
    try_answers: Callable[[Pointer], Iterable[Any]],
    settled_by: Callable[[Pointer, Any, list[Key]], int],
) -> tuple[Ask, ...]:
    return rank({key: behind for key, behind in fields.items() if behind}, try_answers, settled_by)


def _open_rules(assessed: list[Assessment], tyres: list[PositionFacts]) -> Iterable[tuple[Key, tuple[Pointer, ...]]]:
    """The rules on the position and the load that may still turn out badly, with the fields behind them."""
    for key, merged in merge(assessed).items():
        judged = merged.judged
        if not settled(judged.found) and judged.found & NOT_HERE:
            of_use = fields_of_use([tyre.use for tyre in tyres]) if merged.varies else ()
            yield key, (*of_use, *missing(judged.rule.depends_on, tyres[0]))


def _open_speed(case: Case, speed: Speed, tyres: list[PositionFacts]) -> Iterable[tuple[Key, tuple[Pointer, ...]]]:
    """What is open of the speed, with the fields behind it."""
    tyre = tyres[0]
    rating = _behind_rating(case, speed, tyre)
    if not speed.settled:
        yield (_RATING, None), rating
    if speed.covers_vehicle == EITHER:
        yield (_COVERS, None), (*rating, *missing(("vehicle_kmh", "rated_kmh"), tyre))
    if not _limits_known(speed):
        unsure = [limit for limit in speed.limits if limit.holds != YES]
        of_use = fields_of_use([tyre.use for tyre in tyres]) if unsure else ()
        traits = [limit.provision.trait for limit in unsure if limit.provision.trait]
        yield (_LIMITS, None), (*of_use, *rating, *missing((*traits, "rated_kmh"), tyre))


def _limits_known(speed: Speed) -> bool:
    return speed.ceiling_settled and all(limit.holds == YES for limit in speed.limits)


def _behind_rating(case: Case, speed: Speed, tyre: PositionFacts) -> tuple[Pointer, ...]:
    if speed.settled:
        return ()
    policy = case.tyre.maker_policy
    told = policy is not None and (policy.speed_rating_after_repair is not None or policy.speed_cap_kmh is not None)
    repaired = missing(("repaired",), tyre)
    if not told:
        return (_POLICY, *repaired)
    return (_CAP, *repaired) if speed.statuses == ("capped",) else repaired


def _settled(case: Case, use: Use, edition: Edition, on: date) -> set[str]:
    """What is settled of a case, by name."""
    tyre = PositionFacts(case, use, edition, on)
    speed = speed_after_repair(case, [tyre], edition, on)
    one = assess_position(case, tyre, edition, on)
    found = {judged.rule.name: judged.found for judged in one.notable}
    done = {rule.name for rule, _ in one.each_rule() if settled(found.get(rule.name, MET))}
    return done | {
        name
        for name, known in (
            (_RATING, speed.settled),
            (_COVERS, speed.covers_vehicle != EITHER),
            (_LIMITS, _limits_known(speed)),
        )
        if known
    }


def missing(depends_on: Iterable[str], tyre: PositionFacts) -> tuple[Pointer, ...]:
    """The fields of the case that leave open what a rule looks at, each once."""
    found = (pointer for fact in depends_on for pointer in (_FITTED.get(fact) or FACTS[fact])(tyre))
    return tuple(dict.fromkeys(found))


def _one(fact: str, pointer: Pointer) -> Callable[[Any], Iterable[Pointer]]:
    def find(tyre: Any) -> Iterable[Pointer]:
        value = getattr(tyre, fact)
        unknown = not value.known if isinstance(value, Interval) else value == EITHER
        return (pointer,) if unknown else ()

    return find


def _repaired(tyre: Any) -> Iterable[Pointer]:
    if tyre.repaired != EITHER:
        return ()
    return (*FACTS["injury_depths"](tyre), *FACTS["earlier_repairs"](tyre))


def _load(tyre: Any) -> Iterable[Pointer]:
    """What leaves the load of one tyre open: its moulded figures, its index, and the speed it is taken at."""
    one, index = tyre.loading, load_of(tyre.marking_facts.marking)
    in_pair = tyre.single != YES
    if index is None or tyre.marking_facts.marking.light_truck:
        if tyre.max_load == LOAD:
            yield "/tyre/max_load_kg"
        if in_pair and tyre.max_load_dual == LOAD:
            yield "/in_service/max_load_dual_kg"
    elif in_pair and index.dual_kg is None and tyre.max_load_dual == LOAD:
        yield "/in_service/max_load_dual_kg"
    if index is None:
        yield "/tyre/marking"
    if not one.at_kmh.known and not (one.single.known and (one.dual.known or not in_pair)):
        yield "/vehicle/max_speed_kmh"


def _mates(tyre: Any) -> Iterable[Pointer]:
    unpaired = tyre.single == NO and not any("dual_mate" in mate.places for mate in tyre.mates)
    return ("/in_service/axle_mates",) if not tyre.mates_known or unpaired else ()


def _of_mates(field: str, unknown: Callable[[Any], bool]) -> Callable[[Any], Iterable[Pointer]]:
    return lambda tyre: [f"/in_service/axle_mates/{mate.index}/{field}" for mate in tyre.mates if unknown(mate)]


_FITTED: Final[dict[str, Callable[[Any], Iterable[Pointer]]]] = {
    "vehicle_kmh": _one("vehicle_kmh", "/vehicle/max_speed_kmh"),
    "axle_load": _one("axle_load", "/position/axle_load_kg"),
    "front": _one("front", "/position/axle"),
    "winter": _one("winter", "/in_service/winter_tyre"),
    "speed_label": _one("labelled", "/in_service/speed_label"),
    "overall_diameter": _one("overall_diameter", "/in_service/overall_diameter_mm"),
    "repaired": _repaired,
    "load": _load,
    "mates": _mates,
    "mate_markings": _of_mates("marking", lambda mate: mate.marking_facts is None),
    "mate_places": _of_mates("place", lambda mate: len(mate.places) > 1),
    "mate_treads": _of_mates("tread_depth_mm", lambda mate: not mate.tread_depth.known),
    "mate_diameters": _of_mates("overall_diameter_mm", lambda mate: not mate.overall_diameter.known),
}
