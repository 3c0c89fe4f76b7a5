"""What the parts of a plan in outline leave out: the questions for which their verdict left no room."""

from __future__ import annotations

from typing import Final

from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup

MOST_ASKED: Final = 2
"""Questions that an outline has of its other parts, where the verdict has fewer."""


def asks_nothing_more(workup: Workup) -> bool:
    """Return whether no part of an outline asks anything, as its verdict asks enough."""
    return workup.bound.outline and len(verdict_of(workup).to_establish) >= MOST_ASKED
