"""How much tread a tyre must have to run in its position; where a book has no word on it, what it repairs with.

Limits: 49 CFR 393.75, (b) and (c); 49 CFR 570.9 and 570.62; elsewhere those of `rules.repair.tread_depth`. An American
truck needs 4/32 in on the front axle, 2/32 in behind:

>>> from mendgauge.rulebooks.loader import find_edition
>>> [(entry.steered, entry.min_mm) for entry in DEFINITION.provisions(find_edition("us"), "truck")]
[(True, 3.2), (None, 1.6)]
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.facts.position import PositionFacts
from mendgauge.rulebooks.resolver import provisions_for
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.limits import ServiceTread
from mendgauge.rulebooks.schema.repair import TreadDepth
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import NOT_HERE, Outcome, outcome
from mendgauge.rules.repair.tread_depth import tread_depth
from mendgauge.tyre.tyre_class import TyreClass


def _judge(provision: ServiceTread | TreadDepth, _: Setting) -> Callable[[PositionFacts], Outcome]:
    least, inclusive = provision.min_mm, provision.inclusive
    return lambda tyre: outcome(tread_depth(tyre.tread_depth, least, inclusive=inclusive), NOT_HERE)


def _evidence(tyre: PositionFacts, provision: ServiceTread | TreadDepth) -> Evidence:
    return Evidence(
        observed=tyre.tread_depth, limit=provision.min_mm, unit="mm", inclusive=provision.inclusive, at_least=True
    )


def _provisions(edition: Edition, of: TyreClass) -> tuple[ServiceTread | TreadDepth, ...]:
    return provisions_for(edition, "service_tread" if edition.book.service_tread else "tread_depth", of)


DEFINITION = RuleDefinition[PositionFacts, ServiceTread | TreadDepth](
    name="service_tread",
    depends_on=("tread_depth",),
    provisions=_provisions,
    judge=_judge,
    evidence=_evidence,
)
