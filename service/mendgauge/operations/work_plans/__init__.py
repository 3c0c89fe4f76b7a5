"""The work on a tyre, step by step: what to do, the figures to work to, where to stop, how long, what it uses up.

The plan goes no farther than the verdict lets it: the whole job where the tyre may be repaired, the inspection where
only that can settle it, nothing where it is settled that no bench repairs it.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.work_plans.answer import WorkPlan
from mendgauge.operations.work_plans.plan import plan_of
from mendgauge.operations.workup import work_up


def plan_work(case: Case, today: date | None = None) -> WorkPlan:
    """Return the work on a tyre, from finding the leak to checking the wheel nuts, as far as its verdict lets it go.

    `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, names a rulebook that is not there, sets a house rule looser than it, or
            times a step that no plan has.
    """
    with work_up(case, today) as workup:
        return plan_of(workup)
