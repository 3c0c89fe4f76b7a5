"""How much judging one case may cost: a count of judgements, never a time, so that the same case gives the same bytes.

To set a subject beside one neighbour counts as a judgement too, as that is what a tyre with many repairs costs.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Final

from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.missing import Subject
from mendgauge.rules.engine import BoundRule

NEIGHBOURS: Final = "neighbours"


class Effort:
    """The judgements that are left to spend."""

    __slots__ = ("left",)

    def __init__(self, judgements: int) -> None:
        self.left = judgements

    def spend(self, judgements: int) -> bool:
        """Take some judgements off what is left; return false, and take none, where that is too little."""
        if judgements > self.left:
            return False
        self.left -= judgements
        return True


def cost_of_facts(tyre: TyreFacts) -> int:
    """Return what it costs to make the facts of a case anew."""
    return 1 + len(tyre.injuries) + len(tyre.earlier)


def cost_of_judging(judged: Iterable[tuple[BoundRule[Any], Subject]]) -> int:
    """Return what it costs to judge some rules, each on its subject."""
    cost = 0
    for rule, subject in judged:
        cost += 1
        if NEIGHBOURS in rule.depends_on and isinstance(subject, InjuryFacts):
            cost += len(subject.tyre.injuries) + len(subject.tyre.earlier)
    return cost
