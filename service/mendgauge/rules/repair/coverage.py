"""Whether the book speaks of this class of tyre at all."""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.book import Outside
from mendgauge.rules.engine import NOTHING_MEASURED, RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome


def _judge(provision: Outside, _: Setting) -> Callable[[TyreFacts], Outcome]:
    effect = EFFECT[provision.effect]
    return lambda _tyre: effect


DEFINITION = RuleDefinition[TyreFacts, Outside](
    name="coverage",
    depends_on=(),
    provisions=under("outside"),
    judge=_judge,
    evidence=lambda _tyre, _provision: NOTHING_MEASURED,
)
