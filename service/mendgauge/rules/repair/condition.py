"""The condition of the tyre: what ends a repair on sight, one rule a sign.

Signs: USTMA puncture repair procedures, conditions that end a repair; BS AU 159g:2013, tyres not to be repaired; JATMA
safety standard for tyres.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import ANSWERS, EITHER, NO, YES, Truth, negate
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import SIGNS
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Condition
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome, outcome


def condition(seen: Truth) -> Truth:
    """Return whether the tyre is free of the sign.

    Bead damage was looked for and found:

    >>> from mendgauge.core.interval import NO, YES
    >>> condition(YES) == NO
    True
    """
    return negate(seen)


def on_steel_plies(seen: Truth, steel_plies: Truth) -> Truth:
    """Judge a sign of steel plies: it counts wherever seen; where nobody looked it is open on steel plies alone.

    Ripples in a car's sidewall count whatever its plies are made of; where nobody looked, textile plies settle it:

    >>> on_steel_plies(YES, steel_plies=NO) == YES, on_steel_plies(EITHER, steel_plies=NO) == NO
    (True, True)
    """
    return NO if seen == EITHER and steel_plies != YES else seen


def _judge(provision: Condition, _: Setting) -> Callable[[TyreFacts], Outcome]:
    sign = provision.condition
    effect = EFFECT[provision.effect]
    table = {seen: outcome(condition(seen), effect) for seen in ANSWERS}
    if provision.looked_for == "everywhere":
        return lambda tyre: table[tyre.conditions[sign]]
    return lambda tyre: table[on_steel_plies(tyre.conditions[sign], tyre.steel_plies)]


DEFINITIONS = tuple(
    RuleDefinition[TyreFacts, Condition](
        name=sign,
        depends_on=(sign,),
        provisions=under("conditions", sign),
        judge=_judge,
        also_depends_on=lambda provision: ("steel_plies",) if provision.looked_for == "steel_plies" else (),
    )
    for sign in SIGNS
)
