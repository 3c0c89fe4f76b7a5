"""How old the tyre may be.

Limits: Road Vehicles (Construction and Use) Regulations 1986, as amended 2020, on old tyres of heavy vehicles. The
warning of an old tyre is common practice of the tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import Interval, Truth, at_most
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Age
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, EFFECT, NOT_HERE, Outcome, outcome


def age(years: Interval, under: float) -> Truth:
    """Return whether the tyre is younger than a number of years.

    A bus tyre of ten years and two months on an axle where the law wants it younger than ten years:

    >>> from mendgauge.core.interval import NO, point
    >>> age(point(10.2), under=10.0) == NO
    True
    """
    return at_most(years, under, inclusive=False)


def _broken(provision: Age) -> Outcome:
    return NOT_HERE if provision.effect == "not_in_this_position" else EFFECT[provision.effect]


def _judge(provision: Age, _: Setting) -> Callable[[TyreFacts], Outcome]:
    under, broken = provision.under_years, _broken(provision)
    return lambda tyre: outcome(age(tyre.age, under), broken)


def _judge_position(provision: Age, _: Setting) -> Callable[[TyreFacts], Outcome]:
    under, broken = provision.under_years, CAUTION if provision.effect == "caution" else NOT_HERE
    return lambda tyre: outcome(age(tyre.age, under), broken)


def _evidence(tyre: TyreFacts, provision: Age) -> Evidence:
    return Evidence(observed=tyre.age, limit=provision.under_years, unit="years", inclusive=False)


LIMIT = RuleDefinition[TyreFacts, Age](
    name="age",
    depends_on=("age",),
    provisions=under("age", only="book"),
    judge=_judge,
    evidence=_evidence,
)

WARNING = RuleDefinition[TyreFacts, Age](
    name="age_warning",
    depends_on=("age",),
    provisions=under("age", only="workshop"),
    judge=_judge,
    evidence=_evidence,
)

IN_POSITION = RuleDefinition[TyreFacts, Age](
    name="age",
    depends_on=("age",),
    provisions=under("age", only="book"),
    judge=_judge_position,
    evidence=_evidence,
)
