"""The tyre's speed symbol against the vehicle's top speed, with the exceptions of winter tyres and temporary spares.

Limit: Council Directive 92/23/EEC, recalled; in America common practice of the American trade.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, any_of, both
from mendgauge.facts.position import VEHICLE_KMH, PositionFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.limits import SpeedNeed
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, MET, POSITION_EFFECT, Outcome


def covers(rated_kmh: Interval, vehicle_kmh: Interval) -> Truth:
    """Return whether the tyre is rated for the vehicle's top speed.

    An H tyre, for 210 km/h, on a car that reaches 225:

    >>> from mendgauge.core.interval import point
    >>> covers(point(210.0), vehicle_kmh=point(225.0)) == NO
    True
    """
    if vehicle_kmh.high <= rated_kmh.low:
        return YES
    return NO if vehicle_kmh.low > rated_kmh.high else EITHER


def excused(winter_with_label: Truth, temporary_spare: Truth) -> Truth:
    """Return whether a slower tyre is allowed: a winter tyre with its speed on a label, or a temporary spare."""
    return any_of(temporary_spare, winter_with_label)


def _judge(provision: SpeedNeed, _: Setting) -> Callable[[PositionFacts], Outcome]:
    broken = POSITION_EFFECT[provision.effect]

    def judge(tyre: PositionFacts) -> Outcome:
        covered = covers(tyre.rated_kmh, tyre.vehicle_kmh)
        if covered == YES:
            return MET
        labelled = both(tyre.winter, tyre.labelled) if provision.winter_label else NO
        excuse = excused(labelled, tyre.traits["temporary_spare"])
        slower = (0 if excuse == NO else CAUTION) | (0 if excuse == YES else broken)
        return slower if covered == NO else MET | slower

    return judge


def _evidence(tyre: PositionFacts, _: SpeedNeed) -> Evidence:
    vehicle = tyre.vehicle_kmh
    return Evidence(observed=None if vehicle == VEHICLE_KMH else vehicle, limit=tyre.rated_kmh, unit="km/h")


DEFINITION = RuleDefinition[PositionFacts, SpeedNeed](
    name="speed_symbol",
    depends_on=("vehicle_kmh", "rated_kmh", "temporary_spare"),
    provisions=under("speed_need"),
    judge=_judge,
    evidence=_evidence,
    also_depends_on=lambda provision: ("winter", "labelled") if provision.winter_label else (),
)
