"""What the tyre went through on the road: run low, or filled with sealant.

Limits: 29 CFR 1910.177 and trucking council practice on tyres run low; on sealant, the German Richtlinie of 2001, 3.5,
and BS AU 159g:2013, allowed methods.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

from mendgauge.core.interval import Interval, Truth, any_of, at_most, negate
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import provisions_by_topic, under
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.repair import RunLow, Sealant
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, EFFECT, Outcome, outcome
from mendgauge.tyre.tyre_class import TyreClass


def run_low(pressure_percent: Interval, driven_flat: Truth, at_or_under: float) -> Truth:
    """Return whether the tyre was found at or under a share of its pressure, or was driven flat.

    A truck tyre found at 75 percent of its pressure, where 80 percent counts as run low:

    >>> from mendgauge.core.interval import NO, YES, point
    >>> run_low(point(75.0), driven_flat=NO, at_or_under=80.0) == YES
    True
    """
    return any_of(driven_flat, at_most(pressure_percent, at_or_under))


@lru_cache(maxsize=256)
def run_low_share(edition: Edition, of: TyreClass) -> float | None:
    """Return the percent of its pressure at or under which a tyre counts as run low; none where no book says."""
    provision: RunLow | None = provisions_by_topic(edition, "run_low", of).get("")
    return None if provision is None else provision.at_or_under_percent


def _judge_run_low(provision: RunLow, _: Setting) -> Callable[[TyreFacts], Outcome]:
    percent = provision.at_or_under_percent
    return lambda tyre: outcome(negate(run_low(tyre.pressure, tyre.driven_flat, percent)), CAUTION)


def _judge_sealant(provision: Sealant, _: Setting) -> Callable[[TyreFacts], Outcome]:
    effect = EFFECT[provision.effect]
    return lambda tyre: outcome(negate(tyre.sealant), effect)


RUN_LOW = RuleDefinition[TyreFacts, RunLow](
    name="run_low",
    depends_on=("pressure", "driven_flat"),
    provisions=under("run_low"),
    judge=_judge_run_low,
    evidence=lambda tyre, provision: Evidence(
        observed=tyre.pressure, limit=provision.at_or_under_percent, unit="percent", inclusive=False, at_least=True
    ),
)

SEALANT = RuleDefinition[TyreFacts, Sealant](
    name="sealant",
    depends_on=("sealant",),
    provisions=under("sealant"),
    judge=_judge_sealant,
)
