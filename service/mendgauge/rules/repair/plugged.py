"""A string or plug that was put into the hole from outside, on the road.

An improper earlier repair: USTMA puncture repair procedures; BS AU 159g:2013 and NZS 5423, in summaries. Temporary:
SANS 10408, in a summary. Elsewhere it is common practice to take it out and judge the hole that is left.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import Truth, negate
from mendgauge.facts.injury import InjuryFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import PluggedHole
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome, outcome


def free_of_plugs(plugged: Truth) -> Truth:
    """No string or plug was put into the hole from outside.

    A nail hole that was plugged at the roadside:

    >>> from mendgauge.core.interval import NO, YES
    >>> free_of_plugs(plugged=YES) == NO
    True
    """
    return negate(plugged)


def _judge(provision: PluggedHole, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    broken = EFFECT[provision.effect]
    return lambda injury: outcome(free_of_plugs(injury.plugged), broken)


DEFINITION = RuleDefinition[InjuryFacts, PluggedHole](
    name="plugged",
    depends_on=("plugged",),
    provisions=under("plugged_hole"),
    judge=_judge,
)
