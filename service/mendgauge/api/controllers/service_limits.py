"""`POST /v1/service-limits`: what may this tyre do afterwards?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.service_limits.answer import ServiceLimits


class ServiceLimitsController(Controller):
    """One question, one answer."""

    path = "/service-limits"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="find_service_limits",
        summary="What may this tyre do after its repair?",
        opt=NAIL_HOLE.worked(find_service_limits),
    )
    async def find(self, data: JSONBody[Case]) -> ServiceLimits:
        """Return how fast the tyre may go after its repair and the source of that, whether it carries the axle's load
        and may run in its position, what to print for counter, driver and job file, and what to look at again.
        """
        return await worked_out(find_service_limits, data)
