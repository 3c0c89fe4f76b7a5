"""The condition of the tyre: what ends a repair on sight, one rule a sign.

Signs: USTMA puncture repair procedures, conditions that end a repair; BS AU 159g:2013, tyres not to be repaired; JATMA
safety standard for tyres.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import ANSWERS, Truth, negate
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import SIGNS
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.book import Condition
from mendgauge.rules.engine import NOTHING_MEASURED, RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome, outcome


def condition(seen: Truth) -> Truth:
    """The tyre is free of the sign.

    Bead damage was looked for and found:

    >>> from mendgauge.core.interval import NO, YES
    >>> condition(YES) == NO
    True
    """
    return negate(seen)


def _judge(provision: Condition, _: Setting) -> Callable[[TyreFacts], Outcome]:
    sign = provision.condition
    effect = EFFECT[provision.effect]
    table = {seen: outcome(condition(seen), effect) for seen in ANSWERS}
    return lambda tyre: table[tyre.conditions[sign]]


DEFINITIONS = tuple(
    RuleDefinition[TyreFacts, Condition](
        name=sign,
        depends_on=(sign,),
        provisions=under("conditions", sign),
        judge=_judge,
        evidence=lambda _tyre, _provision: NOTHING_MEASURED,
    )
    for sign in SIGNS
)
