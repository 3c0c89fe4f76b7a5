"""How much tread a tyre must have to run in its position; where a book has no word on it, what it repairs with."""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.facts.position import PositionFacts
from mendgauge.rulebooks.schema.book import TreadDepth
from mendgauge.rulebooks.schema.limits import ServiceTread
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import NOT_HERE, Outcome, outcome
from mendgauge.rules.repair.tread_depth import tread_depth


def _judge(provision: ServiceTread | TreadDepth, _: Setting) -> Callable[[PositionFacts], Outcome]:
    least, inclusive = provision.min_mm, provision.inclusive
    return lambda tyre: outcome(tread_depth(tyre.tread_depth, least, inclusive=inclusive), NOT_HERE)


def _evidence(tyre: PositionFacts, provision: ServiceTread | TreadDepth) -> Evidence:
    return Evidence(
        observed=tyre.tread_depth, limit=provision.min_mm, unit="mm", inclusive=provision.inclusive, at_least=True
    )


DEFINITION = RuleDefinition[PositionFacts, ServiceTread | TreadDepth](
    name="service_tread",
    depends_on=("tread_depth",),
    provisions=lambda edition: edition.book.service_tread or edition.book.tread_depth,
    judge=_judge,
    evidence=_evidence,
)
