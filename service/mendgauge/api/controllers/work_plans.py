"""`POST /v1/work-plans`: what work does it take, step by step?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import SIDEWALL_HOLE
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.work_plans import plan_work
from mendgauge.operations.work_plans.answer import WorkPlan


class WorkPlanController(Controller):
    """The work on one tyre."""

    path = "/work-plans"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="plan_work",
        summary="What work does it take, step by step?",
        opt=SIDEWALL_HOLE.worked(plan_work),
    )
    async def plan(self, data: JSONBody[Case]) -> WorkPlan:
        """The whole job from finding the leak to checking the wheel nuts again, as far as the verdict lets it go: what
        to do, the figures to work to with their sources, where to stop, cautions, minutes, what it uses up. What hangs
        on a fact that is missing says so and asks for it. The shop's own times and quantities take the trade's place.
        """
        return await worked_out(plan_work, data)
