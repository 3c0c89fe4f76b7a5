"""What a rule can still come to, as bits, so that the verdict of many rules is one pass of integer arithmetic.

A rule that is settled has one bit; an open one has a bit for everything it may yet come to.
"""

from __future__ import annotations

from functools import cache
from typing import Final, Literal, TypeAlias

from mendgauge.core.interval import NO, YES, Truth
from mendgauge.rulebooks.provision import Effect
from mendgauge.rulebooks.schema.limits import PositionEffect

MET: Final = 1
CAUTION: Final = 2
NOT_HERE: Final = 4
"""The tyre may not run in its position; it may be repaired, and run in another."""
SPECIALIST: Final = 8
NOT_COVERED: Final = 16
"""The book says nothing of it: neither a yes nor a no."""
ENDS: Final = 32

REPAIRABLE: Final = MET | CAUTION | NOT_HERE
"""The bits that stand for a tyre that may be repaired."""

Outcome: TypeAlias = int
"""One or more of the bits above; the higher the bit, the worse for the tyre."""

Verdict: TypeAlias = Literal["repairable", "specialist", "not_covered", "not_repairable", "inspect"]

EFFECT: Final[dict[Effect, Outcome]] = {
    "caution": CAUTION,
    "specialist_only": SPECIALIST,
    "not_covered": NOT_COVERED,
    "ends_the_tyre": ENDS,
}

POSITION_EFFECT: Final[dict[PositionEffect, Outcome]] = {"caution": CAUTION, "not_in_this_position": NOT_HERE}


def outcome(kept: Truth, broken: Outcome) -> Outcome:
    """Return what a rule comes to that is kept, broken, or either, where breaking it comes to `broken`."""
    if kept == YES:
        return MET
    return broken if kept == NO else MET | broken


def settled(found: Outcome) -> bool:
    """Return whether only one bit is left."""
    return found & (found - 1) == 0


SETTLED: Final = frozenset(found for found in range(MET, ENDS << 1) if settled(found))
"""The outcomes with one bit left."""


def lowest(found: Outcome) -> Outcome:
    """Return the best a rule can still come to."""
    return found & -found


def worst(found: Outcome) -> Outcome:
    """Return the worst that a rule can still come to."""
    return 1 << found.bit_length() - 1


def may_exceed(found: Outcome, floor: Outcome) -> bool:
    """Return whether a rule can still come to something worse than one bit."""
    return found >= floor << 1


OPEN_ABOVE: Final[dict[Outcome, frozenset[Outcome]]] = {
    floor: frozenset(found for found in range(MET, ENDS << 1) if not settled(found) and may_exceed(found, floor))
    for floor in (MET, CAUTION, NOT_HERE, SPECIALIST, NOT_COVERED, ENDS)
}
"""The outcomes of an open rule that can still come to something worse than a floor, by the floor."""

BROKEN_ABOVE: Final[dict[Outcome, frozenset[Outcome]]] = {
    floor: frozenset(found for found in SETTLED if may_exceed(found, floor)) for floor in OPEN_ABOVE
}
"""The outcomes of a broken rule that are worse than a floor, by the floor."""


@cache
def possible_verdicts(worst: Outcome) -> tuple[Verdict, ...]:
    """Return the verdicts that stand behind the bits, best first."""
    verdicts: list[Verdict] = []
    if worst & REPAIRABLE:
        verdicts.append("repairable")
    if worst & SPECIALIST:
        verdicts.append("specialist")
    if worst & NOT_COVERED:
        verdicts.append("not_covered")
    if worst & ENDS:
        verdicts.append("not_repairable")
    return tuple(verdicts)


def join(floor: Outcome, union: Outcome) -> Outcome:
    """Return all that several rules together can come to.

    `floor` is the worst of each rule's best, `union` every bit any of them can take. A worse bit than the floor is
    reached when one rule takes it and every other takes its best; nothing better than the floor can be.
    """
    return union & ~(floor - 1) | floor
