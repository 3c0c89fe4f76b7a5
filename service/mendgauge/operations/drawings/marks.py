"""Rules that are broken or open, numbered, each to be marked on the drawing where it is."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

import msgspec

from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup, part

ON_THE_TREAD: Final = frozenset({"tread_depth", "house_tread_depth"})
"""Rules that are marked at the depth of the tread."""
ACROSS: Final = frozenset({"band", "region"})
"""Rules on where across the tyre an injury is: marked on the section."""
ON_THE_LINER: Final = frozenset({"band", "house_spacing", "overlap", "same_hole", "spacing"})
"""Rules on what lies beside what: marked on the liner."""
_SEEN: Final = (
    ON_THE_TREAD
    | ACROSS
    | ON_THE_LINER
    | {"cut_length", "depth", "house_injury_size", "house_lean", "injury_size", "lean", "plugged"}
)
"""Open rules that a drawing shows; of the others it says how many there are."""


class Mark(msgspec.Struct, frozen=True):
    """One broken or open rule, by the number that it has on the drawing."""

    number: int
    broken: bool
    rule: str
    injury: int | None
    says: str


@part
def marks_of(workup: Workup) -> tuple[Mark, ...]:
    """Return the rules to mark, the gravest first: every one that is broken, and those open that a drawing shows."""
    return tuple(_marks(workup))


def _marks(workup: Workup) -> Iterator[Mark]:
    number = 0
    for found in verdict_of(workup).findings:
        if found.effect == "caution":
            continue
        broken = found.outcome == "broken"
        if broken or (found.outcome == "open" and found.rule in _SEEN):
            number += 1
            yield Mark(number, broken, found.rule, found.injury, found.says)


def left_open(workup: Workup) -> int:
    """Return how many open rules are not marked."""
    findings = verdict_of(workup).findings
    open_rules = sum(found.outcome == "open" and found.effect != "caution" for found in findings)
    return open_rules - sum(not mark.broken for mark in marks_of(workup))


def at_injury(workup: Workup, index: int, only: frozenset[str] | None = None) -> tuple[Mark, ...]:
    """Return the marks that stand at an injury: all, or those of certain rules."""
    return tuple(mark for mark in marks_of(workup) if mark.injury == index and (only is None or mark.rule in only))


def at_tread(workup: Workup) -> tuple[Mark, ...]:
    """Return the marks that stand at the depth of the tread."""
    return tuple(mark for mark in marks_of(workup) if mark.rule in ON_THE_TREAD)
