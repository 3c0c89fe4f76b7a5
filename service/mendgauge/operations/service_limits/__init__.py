"""What a tyre may do after its repair: how fast, how much, where, what must be said, and what to look at again.

Every part is sound: a status is firm only where every completion of what is unknown comes to the same. A tyre that may
not be repaired is answered for too, as it is marked, and the answer says so first.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.service_limits.answer import ServiceLimits
from mendgauge.operations.service_limits.limits import limits_of
from mendgauge.operations.workup import work_up


def find_service_limits(case: Case, today: date | None = None) -> ServiceLimits:
    """Return what the tyre may do after its repair under the case's rulebook.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    with work_up(case, today) as workup:
        return limits_of(workup)
