"""`POST /v1/repair-plans`: everything about one tyre. And `POST /v1/repair-plans/batch`: about many."""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from litestar import Controller, Request, Response, post
from litestar.params import JSONBody
from msgspec import Meta

from mendgauge.api.controllers.batch import FAILED, ITEMS_MAX, OK, CaseBatch, ItemOutcome, counted, outcomes, streamed
from mendgauge.api.example import SIDEWALL_HOLE_WITH_PRICES
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_plans.answer import RepairPlan


class RepairPlanOutcome(ItemOutcome, frozen=True, kw_only=True):
    """What became of one case of a batch."""

    answer: Annotated[RepairPlan | None, Meta(description="What `plan_repair` answers; null if failed.")]


class RepairPlanBatch(msgspec.Struct, frozen=True, kw_only=True):
    """The outcome of every case of a batch, in the order of the cases."""

    items: Annotated[
        tuple[RepairPlanOutcome, ...],
        Meta(max_length=ITEMS_MAX, description="The outcomes, one for each item, in the order of the items."),
    ]
    ok: Annotated[int, OK]
    failed: Annotated[int, FAILED]


class RepairPlanController(Controller):
    """All questions at once, of one tyre or of many."""

    path = "/repair-plans"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="plan_repair",
        summary="What is there to know of this tyre, from the verdict to the price?",
        opt=SIDEWALL_HOLE_WITH_PRICES.worked(plan_repair),
    )
    async def plan(self, data: JSONBody[Case]) -> RepairPlan:
        """Verdict, units, trim, service limits, work plan and, with a `price_book`, quote of one case in one answer.
        Each part of a full plan is what its own operation answers, to the byte; a brief one says nothing twice. A part
        that does not apply is null, and `absent` says why.
        """
        return await worked_out(plan_repair, data)

    @post(
        "/batch",
        status_code=200,
        operation_id="plan_repairs_in_batch",
        summary="What is there to know of each of these tyres?",
        opt=SIDEWALL_HOLE_WITH_PRICES.worked_in_batch(
            lambda batch: counted(RepairPlanBatch, outcomes(batch, plan_repair, RepairPlanOutcome, ""))
        ),
    )
    async def plan_many(self, data: JSONBody[CaseBatch], request: Request[Any, Any, Any]) -> Response[RepairPlanBatch]:
        """Plans up to 1,000 cases, each as `plan_repair` plans it alone. An item that is at fault has its own problem,
        with pointers into the request, and costs the others nothing; the answer is 200 all the same.
        """
        request_id = request.scope["state"]["request_id"]
        return streamed(outcomes(data, plan_repair, RepairPlanOutcome, request_id), request)
