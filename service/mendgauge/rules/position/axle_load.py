"""The load of the axle against what its tyres may carry together at the vehicle's top speed.

Limit: the load indices on the tyres; that they carry the axle together is common practice of the tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.facts.load import Loading
from mendgauge.facts.position import AXLE_LOAD, PositionFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.limits import AxleLoad
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import NOT_HERE, Outcome, outcome


def capacity(one: Loading, single: Truth, provision: AxleLoad) -> Interval:
    """Return what the tyres of the axle may carry together, kg, fitted singly, in dual pairs, or either."""
    singly = one.single.times(provision.tyres_single)
    in_pairs = one.dual.times(provision.tyres_dual)
    return singly if single == YES else in_pairs if single == NO else singly.hull(in_pairs)


def axle_load(load: Interval, carried: Interval) -> Truth:
    """Return whether the axle's load is no more than its tyres may carry.

    A steer axle of 7500 kg on two tyres of load index 152, 3550 kg each:

    >>> from mendgauge.core.interval import point
    >>> axle_load(point(7500.0), carried=point(2 * 3550.0)) == NO
    True
    """
    if load.high <= carried.low:
        return YES
    return NO if load.low > carried.high else EITHER


def _judge(provision: AxleLoad, _: Setting) -> Callable[[PositionFacts], Outcome]:
    def judge(tyre: PositionFacts) -> Outcome:
        return outcome(axle_load(tyre.axle_load, capacity(tyre.loading, tyre.single, provision)), NOT_HERE)

    return judge


def _evidence(tyre: PositionFacts, provision: AxleLoad) -> Evidence:
    return Evidence(
        observed=None if tyre.axle_load == AXLE_LOAD else tyre.axle_load,
        limit=capacity(tyre.loading, tyre.single, provision),
        unit="kg",
    )


DEFINITION = RuleDefinition[PositionFacts, AxleLoad](
    name="axle_load",
    depends_on=("axle_load", "loading", "single"),
    provisions=under("axle_load"),
    judge=_judge,
    evidence=_evidence,
)
