"""Special kinds of tyre: run-flat, temporary spare, foam-lined, self-sealing, retread and the rest, one rule a kind.

Kinds: Statements of the British trade bodies; USTMA puncture repair procedures, run-flat tires; 49 CFR 393.75;
elsewhere common practice of the tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args

from mendgauge.core.interval import ANSWERS, Truth, any_of, negate
from mendgauge.core.vocabulary import SpecialTyre
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Special
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, ENDS, Outcome, outcome


def plain_or_permitted(special: Truth, maker_permits: Truth) -> Truth:
    """Return whether the tyre is not of that kind, or its maker lets it be repaired.

    A run-flat tyre whose maker allows the repair:

    >>> from mendgauge.core.interval import YES
    >>> plain_or_permitted(YES, maker_permits=YES) == YES
    True
    """
    return any_of(negate(special), maker_permits)


def _judge(provision: Special, _: Setting) -> Callable[[TyreFacts], Outcome]:
    kind = provision.tyre
    if provision.treatment == "maker_decides":
        return lambda tyre: outcome(plain_or_permitted(tyre.traits[kind], tyre.maker_permits), ENDS)
    broken = ENDS if provision.treatment == "ends_the_tyre" else CAUTION
    table = {special: outcome(negate(special), broken) for special in ANSWERS}
    return lambda tyre: table[tyre.traits[kind]]


DEFINITIONS = tuple(
    RuleDefinition[TyreFacts, Special](
        name=kind,
        depends_on=(kind,),
        provisions=under("special_tyres", kind),
        judge=_judge,
        also_depends_on=lambda provision: ("maker_permits",) if provision.treatment == "maker_decides" else (),
    )
    for kind in get_args(SpecialTyre)
)
