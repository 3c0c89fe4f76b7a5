"""`POST /v1/repair-units`: how is it prepared, and with which unit?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repair_units.answer import RepairUnits


class RepairUnitController(Controller):
    """What each channel asks for, and what the shelf has for it."""

    path = "/repair-units"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="choose_repair_units",
        summary="How is each injury prepared, and with which unit is it repaired?",
        opt=NAIL_HOLE.worked(choose_repair_units),
    )
    async def choose(self, data: JSONBody[Case]) -> RepairUnits:
        """Per injury: cutter and preparation, what a unit must be, and the smallest one that does, cheapest on a tie,
        chosen from `stock` or from generic sizes; why each other unit was passed over. Patches of several injuries
        stay clear of each other. Nothing is chosen for a tyre that may not be repaired.
        """
        return await worked_out(choose_repair_units, data)
