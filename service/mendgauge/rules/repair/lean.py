"""How far the channel may lean: for any repair at all, and for a unit whose stem and patch are one piece.

Limits: NZS 5423 for any repair; Trade group recommended practice, 2017, for one piece, elsewhere common practice of the
tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable

from mendgauge.core.interval import Interval, Truth, at_most
from mendgauge.facts.injury import InjuryFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Lean, OnePieceLean
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import CAUTION, EFFECT, Outcome, outcome


def lean(from_perpendicular: Interval, largest: float) -> Truth:
    """Return whether the channel leans no farther from the perpendicular than the largest lean, which itself passes.

    A nail that went in at 20 to 30 degrees, against a limit of 25:

    >>> from mendgauge.core.interval import EITHER
    >>> lean(Interval(20.0, 30.0), largest=25.0) == EITHER
    True
    """
    return at_most(from_perpendicular, largest)


def _judge(provision: Lean, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    broken = EFFECT[provision.effect]
    return lambda injury: outcome(lean(injury.lean, provision.max_deg), broken)


def _judge_one_piece(provision: OnePieceLean, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    return lambda injury: outcome(lean(injury.lean, provision.max_deg), CAUTION)


def _headroom(provision: Lean, _: Setting) -> Callable[[InjuryFacts], float]:
    largest = provision.max_deg
    return lambda injury: largest - injury.lean.high


def _evidence(injury: InjuryFacts, provision: Lean | OnePieceLean) -> Evidence:
    return Evidence(observed=injury.lean, limit=provision.max_deg, unit="deg")


DEFINITION = RuleDefinition[InjuryFacts, Lean](
    name="lean",
    depends_on=("lean", "through"),
    provisions=under("lean"),
    judge=_judge,
    evidence=_evidence,
    headroom=_headroom,
    channel=True,
)

ONE_PIECE = RuleDefinition[InjuryFacts, OnePieceLean](
    name="one_piece_lean",
    depends_on=("lean", "through"),
    provisions=under("one_piece_lean"),
    judge=_judge_one_piece,
    evidence=_evidence,
    channel=True,
)
