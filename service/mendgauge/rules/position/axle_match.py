"""What the tyres of one axle have in common: size, construction, and about as much tread.

Size and construction: common practice of the tyre trade. Differences of tread: recalled, not seen in a document.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from mendgauge.case.service import MatePlace
from mendgauge.core.interval import EITHER, YES, Interval, Truth, at_most, both, truth
from mendgauge.facts.position import MateFacts, PositionFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.limits import AxleMatch, TreadDifference
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import MET, POSITION_EFFECT, Outcome, outcome
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.marking_facts import MarkingFacts


def same_size(one: Marking, other: Marking) -> Truth:
    """Two tyres have the same size designation."""
    return truth(_size(one) == _size(other))


def same_construction(one: Marking, other: Marking) -> Truth:
    """Two tyres are built alike: radial, bias belted or bias; open where a size does not say."""
    if one.structure is None or other.structure is None:
        return EITHER
    return truth(one.structure == other.structure)


def _size(marking: Marking) -> tuple[object, ...]:
    return marking.width_mm, marking.width_in, marking.overall_in, marking.aspect, marking.rim_code, marking.rim_is_mm


_SAME = {"size": same_size, "construction": same_construction}


def all_alike(tyre: PositionFacts, alike: Callable[[Marking, Marking], Truth]) -> Truth:
    """Every other tyre of the axle is like this one; a spare has no axle yet."""
    if tyre.axle == "spare":
        return YES
    found: Truth = YES if tyre.mates_known else EITHER
    for mate in tyre.mates:
        found = both(found, _with(tyre.marking_facts, mate.marking_facts, alike))
    return found


def _with(own: MarkingFacts, mate: MarkingFacts | None, alike: Callable[[Marking, Marking], Truth]) -> Truth:
    return EITHER if mate is None else alike(own.marking, mate.marking)


def at_place(tyre: PositionFacts, place: MatePlace) -> Iterator[tuple[MateFacts, Truth]]:
    """Yield the other tyres that may be at a place, and whether each surely is."""
    for mate in tyre.mates:
        if place in mate.places:
            yield mate, YES if mate.places == (place,) else EITHER


def every_mate(tyre: PositionFacts, place: MatePlace, kept: Callable[[MateFacts], Truth]) -> Truth:
    """Something holds of every tyre at a place; open where none is known there.

    At the place of a dual mate there is a tyre wherever the rule applies; at the other end there may be none.
    """
    if tyre.axle == "spare":
        return YES
    there = list(at_place(tyre, place))
    if not there:
        return YES if tyre.mates_known and place == "other_end" else EITHER
    # A pair has two tyres: where none given is surely the mate, it may be one that nobody mentioned.
    found: Truth = YES if place == "other_end" or YES in (certain for _, certain in there) else EITHER
    for mate, certain in there:
        holds = kept(mate)
        found = both(found, holds if certain == YES or holds == YES else EITHER)
    return found


def difference(one: Interval, other: Interval) -> Interval:
    """Return every difference of two measurements, without its sign, in the decimals of the gauges.

    A tyre with 8 mm of tread beside one with 4.5 to 5 mm:

    >>> from mendgauge.core.interval import point
    >>> difference(point(8.0), Interval(4.5, 5.0))
    Interval(low=3.0, high=3.5)
    """
    return Interval(round(one.low - other.high, 9), round(one.high - other.low, 9)).magnitude()


def widest(tyre: PositionFacts, place: MatePlace, measure: Callable[[MateFacts], Interval]) -> Interval | None:
    """Return the difference to the tyre at a place that may differ most; none where no tyre is known there."""
    return max((measure(mate) for mate, _ in at_place(tyre, place)), key=lambda span: span.high, default=None)


def _judge_match(provision: AxleMatch, _: Setting) -> Callable[[PositionFacts], Outcome]:
    alike, broken = _SAME[provision.same], POSITION_EFFECT[provision.effect]
    return lambda tyre: outcome(all_alike(tyre, alike), broken)


def _judge_tread(provision: TreadDifference, _: Setting) -> Callable[[PositionFacts], Outcome]:
    place, most, broken = provision.between, provision.max_mm, POSITION_EFFECT[provision.effect]

    def judge(tyre: PositionFacts) -> Outcome:
        if place == "dual_mate" and tyre.single == YES:
            return MET
        return outcome(
            every_mate(tyre, place, lambda mate: at_most(difference(tyre.tread_depth, mate.tread_depth), most)), broken
        )

    return judge


def _tread_evidence(tyre: PositionFacts, provision: TreadDifference) -> Evidence:
    observed = widest(tyre, provision.between, lambda mate: difference(tyre.tread_depth, mate.tread_depth))
    return Evidence(observed=observed, limit=provision.max_mm, unit="mm")


MATCHES = tuple(
    RuleDefinition[PositionFacts, AxleMatch](
        name=f"axle_{same}",
        depends_on=("mates_known", "mates.marking_facts"),
        provisions=under("axle_match", same),
        judge=_judge_match,
    )
    for same in ("size", "construction")
)

_TREADS: tuple[tuple[str, MatePlace], ...] = (("dual_tread", "dual_mate"), ("axle_tread", "other_end"))

TREADS = tuple(
    RuleDefinition[PositionFacts, TreadDifference](
        name=name,
        depends_on=("mates_known", "mates.places", "mates.tread_depth", "tread_depth"),
        provisions=under("tread_difference", between),
        judge=_judge_tread,
        evidence=_tread_evidence,
    )
    for name, between in _TREADS
)
