"""How large the injury may be: the hole as it is found, and the channel once it is cut clean.

Limits: BS AU 159g:2013, minor repairs, largest injury; USTMA puncture repair procedures, maximum injury; the summaries
of AS 1973-1993, JATMA, NZS 5423, SANS 10408 and the German Richtlinie of 2001.
"""

from __future__ import annotations

from collections.abc import Callable
from math import inf
from operator import le, lt

from mendgauge.core.interval import Interval, Truth, at_most, both
from mendgauge.facts.injury import InjuryFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import InjurySize
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import MET, Outcome, outcome


def found_size(hole: Interval, cutter: Interval, hole_to: float, cutter_to: float, *, inclusive: bool) -> Truth:
    """Judge a hole as found: it keeps to the limit when it does itself and when the cutter that cleans it does too.

    A hole of 5.5 mm keeps to a limit of 6 mm, but the next cutter is one of 7 mm:

    >>> from mendgauge.core.interval import NO, point
    >>> found_size(point(5.5), cutter=point(7.0), hole_to=6.0, cutter_to=6.0, inclusive=True) == NO
    True
    """
    return both(
        at_most(hole, hole_to, inclusive=inclusive),
        at_most(cutter, cutter_to, inclusive=inclusive),
    )


def prepared_size(channel: Interval, cutter_to: float, *, inclusive: bool) -> Truth:
    """Return whether a channel cut clean keeps to the limit by the cutter's nominal size."""
    return at_most(channel, cutter_to, inclusive=inclusive)


def _judge(provision: InjurySize, setting: Setting) -> Callable[[InjuryFacts], Outcome]:
    hole_to, cutter_to, inclusive = provision.found_to_mm, provision.prepared_to_mm, provision.inclusive
    within = le if inclusive else lt

    def judge(injury: InjuryFacts) -> Outcome:
        if within(injury.diameter.high, hole_to) and within(injury.cutter.high, cutter_to):
            return MET
        found = 0
        for stage in injury.stages:
            if stage == "found":
                kept = found_size(injury.diameter, injury.cutter, hole_to, cutter_to, inclusive=inclusive)
            else:
                kept = prepared_size(injury.nominal, cutter_to, inclusive=inclusive)
            found |= outcome(kept, setting.beyond_minor(injury.tyre))
        return found

    return judge


def _evidence(injury: InjuryFacts, provision: InjurySize) -> Evidence:
    prepared = injury.stages == ("prepared",)
    limit = provision.prepared_to_mm if prepared else provision.found_to_mm
    observed = injury.nominal if prepared else injury.diameter
    return Evidence(observed=observed, limit=limit, unit="mm", inclusive=provision.inclusive)


def _headroom(provision: InjurySize, _: Setting) -> Callable[[InjuryFacts], float]:
    """Room left by the hole as measured; a channel cut clean has its cutter's nominal size, which nobody measured."""
    hole_to = provision.found_to_mm
    return lambda injury: inf if injury.stages == ("prepared",) else hole_to - injury.diameter.high


DEFINITION = RuleDefinition[InjuryFacts, InjurySize](
    name="injury_size",
    depends_on=("diameter", "stages", "through"),
    provisions=under("injury_size"),
    judge=_judge,
    evidence=_evidence,
    headroom=_headroom,
    channel=True,
    beyond=True,
)
