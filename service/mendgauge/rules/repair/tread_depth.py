"""How much tread must be left for a repair to be worth the law's while.

Limits: Road Vehicles (Construction and Use) Regulations 1986, regulation 27; Council Directive 89/459/EEC; NZS 5423;
USTMA puncture repair procedures, truck/bus, minimum tread.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import Interval, Truth, at_least
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import TreadDepth, TreadWarning
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, ENDS, MET, Outcome, outcome


def tread_depth(left: Interval, least: float, *, inclusive: bool) -> Truth:
    """Return whether the tread left is at least the least the book repairs; `inclusive` lets that depth itself pass.

    A car tyre worn to the 1.6 mm that British law asks for:

    >>> from mendgauge.core.interval import YES, point
    >>> tread_depth(point(1.6), least=1.6, inclusive=True) == YES
    True
    """
    return at_least(left, least, inclusive=inclusive)


def _judge(provision: TreadDepth, _: Setting) -> Callable[[TyreFacts], Outcome]:
    least, inclusive = provision.min_mm, provision.inclusive

    def judge(tyre: TyreFacts) -> Outcome:
        left = tyre.tread_depth
        return MET if left.low > least else outcome(tread_depth(left, least, inclusive=inclusive), ENDS)

    return judge


def _headroom(provision: TreadDepth, _: Setting) -> Callable[[TyreFacts], float]:
    least = provision.min_mm
    return lambda tyre: tyre.tread_depth.low - least


def _evidence(tyre: TyreFacts, provision: TreadDepth) -> Evidence:
    return Evidence(
        observed=tyre.tread_depth, limit=provision.min_mm, unit="mm", inclusive=provision.inclusive, at_least=True
    )


DEFINITION = RuleDefinition[TyreFacts, TreadDepth](
    name="tread_depth",
    depends_on=("tread_depth",),
    provisions=under("tread_depth"),
    judge=_judge,
    evidence=_evidence,
    headroom=_headroom,
)


def _warn(provision: TreadWarning, _: Setting) -> Callable[[TyreFacts], Outcome]:
    least = provision.min_mm
    return lambda tyre: outcome(tread_depth(tyre.tread_depth, least, inclusive=True), CAUTION)


WARNING = RuleDefinition[TyreFacts, TreadWarning](
    name="tread_warning",
    depends_on=("tread_depth",),
    provisions=under("tread_warning", only="workshop", unless="tread_depth"),
    judge=_warn,
    evidence=lambda tyre, provision: Evidence(
        observed=tyre.tread_depth, limit=provision.min_mm, unit="mm", at_least=True
    ),
)
