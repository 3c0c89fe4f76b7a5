"""`POST /v1/repairability`: may this tyre be repaired? And `POST /v1/repairability/batch`: may these?"""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from litestar import Controller, Request, Response, post
from litestar.params import JSONBody
from msgspec import Meta

from mendgauge.api.controllers.batch import FAILED, ITEMS_MAX, OK, CaseBatch, ItemOutcome, counted, outcomes, streamed
from mendgauge.api.example import NAIL_HOLE
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability


class RepairabilityOutcome(ItemOutcome, frozen=True, kw_only=True):
    """What became of one case of a batch."""

    answer: Annotated[Repairability | None, Meta(description="What `check_repairability` answers; null if failed.")]


class RepairabilityBatch(msgspec.Struct, frozen=True, kw_only=True):
    """The outcome of every case of a batch, in the order of the cases."""

    items: Annotated[
        tuple[RepairabilityOutcome, ...],
        Meta(max_length=ITEMS_MAX, description="The outcomes, one for each item, in the order of the items."),
    ]
    ok: Annotated[int, OK]
    failed: Annotated[int, FAILED]


class RepairabilityController(Controller):
    """One question, one answer; or many at once."""

    path = "/repairability"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="check_repairability",
        summary="May this tyre be repaired?",
        opt=NAIL_HOLE.worked(check_repairability),
    )
    async def check(self, data: JSONBody[Case]) -> Repairability:
        """Judges a case by a rulebook: a verdict that holds for every completion of what is unknown, the rules that
        decide it with their sources, what to establish, most decisive first, and what to do now.
        """
        return check_repairability(data)

    @post(
        "/batch",
        status_code=200,
        operation_id="check_repairability_in_batch",
        summary="Which of these tyres may be repaired?",
        opt=NAIL_HOLE.worked_in_batch(
            lambda batch: counted(RepairabilityBatch, outcomes(batch, check_repairability, RepairabilityOutcome, ""))
        ),
    )
    async def check_many(
        self, data: JSONBody[CaseBatch], request: Request[Any, Any, Any]
    ) -> Response[RepairabilityBatch]:
        """Judges up to 1,000 cases, each as `check_repairability` judges it alone. An item that is at fault has its own
        problem, with pointers into the request, and costs the others nothing; the answer is 200 all the same.
        """
        request_id = request.scope["state"]["request_id"]
        return streamed(outcomes(data, check_repairability, RepairabilityOutcome, request_id), request)
