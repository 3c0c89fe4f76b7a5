"""How far the overall diameters of a dual pair may differ: the larger tyre carries the load, the smaller one scrubs.

Limits: US Army TM 9-2610-200-14, Table 2-1.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.facts.position import MateFacts, PositionFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.limits import DualMatch
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import POSITION_EFFECT, Outcome, outcome
from mendgauge.rules.position.axle_match import at_place, difference, every_mate


def largest_difference(smaller_mm: float, provision: DualMatch) -> float:
    """Return the largest difference of diameter, mm, that goes with the smaller diameter of a pair."""
    return provision.max_difference_mm[bisect_left(provision.to_diameter_mm, smaller_mm)]


def allowed(one: Interval, other: Interval, provision: DualMatch) -> Interval:
    """Return the differences the table may allow for a pair of such diameters, mm."""
    return Interval(
        largest_difference(min(one.low, other.low), provision), largest_difference(min(one.high, other.high), provision)
    )


def dual_match(one: Interval, other: Interval, provision: DualMatch) -> Truth:
    """Return whether the two diameters of a dual pair differ by no more than the table allows.

    Two tyres of a pair, 1058 and 1040 mm in diameter:

    >>> from mendgauge.core.interval import point
    >>> from mendgauge.rulebooks.loader import find_edition
    >>> (table,) = DEFINITION.provisions(find_edition("us"), "truck")
    >>> dual_match(point(1058.0), point(1040.0), table) == NO
    True
    """
    apart, most = difference(one, other), allowed(one, other, provision)
    if apart.high <= most.low:
        return YES
    return NO if apart.low > most.high else EITHER


def _judge(provision: DualMatch, _: Setting) -> Callable[[PositionFacts], Outcome]:
    broken = POSITION_EFFECT[provision.effect]

    def judge(tyre: PositionFacts) -> Outcome:
        def matched(mate: MateFacts) -> Truth:
            return dual_match(tyre.overall_diameter, mate.overall_diameter, provision)

        return outcome(every_mate(tyre, "dual_mate", matched), broken)

    return judge


def _evidence(tyre: PositionFacts, provision: DualMatch) -> Evidence:
    own = tyre.overall_diameter
    mates = [mate.overall_diameter for mate, _ in at_place(tyre, "dual_mate")]
    if not mates:
        return Evidence(limit=allowed(own, own, provision), unit="mm")
    mate = max(mates, key=lambda there: difference(own, there).high)
    return Evidence(observed=difference(own, mate), limit=allowed(own, mate, provision), unit="mm")


DEFINITION = RuleDefinition[PositionFacts, DualMatch](
    name="dual_match",
    depends_on=("mates_known", "mates.places", "mates.overall_diameter", "overall_diameter"),
    provisions=under("dual_match"),
    judge=_judge,
    evidence=_evidence,
)
