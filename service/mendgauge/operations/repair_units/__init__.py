"""Which repair unit: how each channel is prepared, what it asks of a unit, and which unit was chosen for it.

Nothing is offered for a tyre that may not be repaired; where that is open the offer is conditional. What is chosen
surely does, whatever the unknown facts turn out to be, unless the answer says what it hangs on.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.repair_units.answer import RepairUnits
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.workup import work_up


def choose_repair_units(case: Case, today: date | None = None) -> RepairUnits:
    """Return how each injury is prepared and which unit it takes, from the caller's stock if the case has any.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    with work_up(case, today) as workup:
        return units_of(workup)
