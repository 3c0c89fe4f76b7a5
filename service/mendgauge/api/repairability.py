"""`POST /v1/repairability`: may this tyre be repaired?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import worked_example
from mendgauge.case import Case
from mendgauge.repairability import Repairability, check_repairability


class RepairabilityController(Controller):
    """One question, one answer."""

    path = "/repairability"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="check_repairability",
        summary="May this tyre be repaired?",
        opt=worked_example(check_repairability),
    )
    async def check(self, data: JSONBody[Case]) -> Repairability:
        """Judges a case by a rulebook: a verdict that holds for every completion of what is unknown, the rules that
        decide it with their sources, what to establish, most telling first, and what to do now.
        """
        return check_repairability(data)
