"""Whether the book speaks of this class of tyre at all.

Each book's own scope is its source: NZS 5423, SANS 10408, AS 1973-1993 and JATMA by their summaries.

>>> from mendgauge.rulebooks.loader import find_edition
>>> [entry.effect for entry in DEFINITION.provisions(find_edition("nz"), "motorcycle")]
['not_covered']
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Outside
from mendgauge.rules.engine import RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, Outcome


def _judge(provision: Outside, _: Setting) -> Callable[[TyreFacts], Outcome]:
    effect = EFFECT[provision.effect]
    return lambda _tyre: effect


DEFINITION = RuleDefinition[TyreFacts, Outside](
    name="coverage",
    depends_on=(),
    provisions=under("outside"),
    judge=_judge,
)
