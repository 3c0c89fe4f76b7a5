"""The condition of the tyre: what ends a repair on sight, one rule a sign."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from mendgauge.core.interval import ANSWERS, Truth, negate
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import SIGNS
from mendgauge.rulebooks.schema.book import Condition, Edition
from mendgauge.rules.engine import NOTHING_MEASURED, RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome, outcome


def condition(seen: Truth) -> Truth:
    """The tyre is free of the sign."""
    return negate(seen)


def _judge(provision: Condition, _: Setting) -> Callable[[TyreFacts], Outcome]:
    sign = provision.condition
    effect = EFFECT[provision.effect]
    table = {seen: outcome(condition(seen), effect) for seen in ANSWERS}
    return lambda tyre: table[tyre.conditions[sign]]


def _provisions(sign: str, edition: Edition) -> tuple[Condition, ...]:
    """What the book says of a sign; failing that, what holds whatever the book."""
    own = tuple(entry for entry in edition.book.conditions if entry.condition == sign)
    return own or tuple(entry for entry in edition.workshop.conditions if entry.condition == sign)


DEFINITIONS = tuple(
    RuleDefinition[TyreFacts, Condition](
        name=sign,
        depends_on=(sign,),
        provisions=partial(_provisions, sign),
        judge=_judge,
        evidence=lambda _tyre, _provision: NOTHING_MEASURED,
    )
    for sign in SIGNS
)
