"""Tyres that are kept off the front axle: repaired, retreaded or regrooved ones, by book.

Kinds: 49 CFR 393.75, (d), for buses; JATMA safety standard for tyres.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import Truth, any_of, negate
from mendgauge.facts.position import PositionFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.limits import FrontAxle
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import POSITION_EFFECT, Outcome, outcome


def off_the_front(front: Truth, such_a_tyre: Truth) -> Truth:
    """Return whether the tyre runs elsewhere, or is not one of the kind that is kept off the front axle.

    A retreaded tyre for the front axle of an American bus:

    >>> from mendgauge.core.interval import NO, YES
    >>> off_the_front(YES, such_a_tyre=YES) == NO
    True
    """
    return any_of(negate(front), negate(such_a_tyre))


def _judge(provision: FrontAxle, _: Setting) -> Callable[[PositionFacts], Outcome]:
    what, broken = provision.tyre, POSITION_EFFECT[provision.effect]

    def judge(tyre: PositionFacts) -> Outcome:
        such = tyre.repaired if what == "repaired" else tyre.traits[what]
        return outcome(off_the_front(tyre.front, such), broken)

    return judge


DEFINITIONS = tuple(
    RuleDefinition[PositionFacts, FrontAxle](
        name=f"front_{what}",
        depends_on=("front", what),
        provisions=under("front_axle", what),
        judge=_judge,
    )
    for what in ("repaired", "retread", "regrooved")
)
