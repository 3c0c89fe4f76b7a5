"""The whole plan for one tyre in one answer: verdict, units, trim, limits, work and price.

Each part is what its own operation answers, to the byte. A part that does not apply is absent, and the plan says why.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans.answer import RepairPlan
from mendgauge.operations.repair_plans.parts import repair_plan_of
from mendgauge.operations.workup import work_up


def plan_repair(case: Case, today: date | None = None) -> RepairPlan:
    """Return the whole plan for one tyre.

    `today` stands in for a missing `assessed_on`.

    Raises:
        NotPricedError: Something on the bill of a repair has no price.
        CaseError: The case contradicts itself, names a rulebook that is not there, or sets a house rule looser than it.
    """
    with work_up(case, today, as_plan=True) as workup:
        return repair_plan_of(workup)
