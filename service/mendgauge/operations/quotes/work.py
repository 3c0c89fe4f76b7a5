"""A case worked out as far as a price needs it."""

from __future__ import annotations

import msgspec

from mendgauge.operations.repair_units.answer import Chosen, RepairUnits
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.work_plans.answer import ConsumableUsed
from mendgauge.operations.work_plans.plan import check_house_times, consumables_of, timed_of
from mendgauge.operations.work_plans.scope import Scope, scope_of
from mendgauge.operations.work_plans.steps import WorkSteps
from mendgauge.operations.workup import Workup


class Work(msgspec.Struct, frozen=True):
    """A case worked out: its verdict, its units, how far its work goes, with what steps, and what that uses up."""

    workup: Workup
    verdict: Repairability
    units: RepairUnits
    scope: Scope
    steps: WorkSteps
    consumables: tuple[ConsumableUsed, ...]

    @property
    def chosen(self) -> list[Chosen]:
        """The unit for each injury; of one that may be of one piece or of two, that of one piece."""
        first = (unit.choices[0] for unit in self.units.injuries if unit.choices)
        return [choice.chosen for choice in first if choice.chosen is not None]

    @property
    def without_unit(self) -> bool:
        """Whether a repair is on offer and some injury has no unit."""
        return any(unit.choices and unit.choices[0].chosen is None for unit in self.units.injuries)

    @property
    def nothing_through(self) -> bool:
        """Whether no injury goes through and the tyre itself is not at fault, so that no repair is wanted."""
        at_fault = self.verdict.next_step in ("replace", "send_to_specialist", "ask_the_maker")
        return not at_fault and self.workup.facts[0].repairs_needed.high == 0.0

    @property
    def repairs(self) -> bool:
        """Whether there is a repair to price."""
        return self.scope == "repair" and not self.without_unit


def work_of(workup: Workup) -> Work:
    """Return a case worked out.

    Raises:
        CaseError: The shop times a step, or gives a quantity of a consumable, that no plan has.
    """
    check_house_times(workup)
    return Work(
        workup,
        verdict_of(workup),
        units_of(workup),
        scope_of(workup),
        timed_of(workup),
        consumables_of(workup),
    )
