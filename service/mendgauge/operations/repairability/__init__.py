"""Whether a tyre may be repaired: the verdict, what speaks against it, what is missing, and what to do now.

The verdict is sound. It is firm only where every completion of what is unknown comes to the same; otherwise it is
`inspect`, and `possible_verdicts` lists all it may become.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import work_up


def check_repairability(case: Case, today: date | None = None) -> Repairability:
    """Return whether the tyre may be repaired under the case's rulebook.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    with work_up(case, today) as workup:
        return verdict_of(workup)
