"""What the parts of a plan in outline leave out: the questions for which those before them left no room."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup

MOST_ASKED: Final = 2
"""Questions that an outline has of its other parts, where the verdict has fewer."""


def asks_nothing_more(workup: Workup, before: Iterable[ToEstablish] = ()) -> bool:
    """Return whether no further part of an outline asks anything, as its verdict and parts `before` ask enough."""
    if not workup.bound.outline:
        return False
    asked = verdict_of(workup).to_establish
    return len(asked) >= MOST_ASKED or len({one.field for one in (*asked, *before)}) >= MOST_ASKED
