"""`POST /v1/repairability`: may this tyre be repaired? And `POST /v1/repairability/batch`: may these?"""

from __future__ import annotations

from typing import Annotated, Any

import msgspec
from litestar import Controller, Request, Response, post
from litestar.params import JSONBody
from msgspec import Meta

from mendgauge.answers.base import AnswerPart
from mendgauge.api.controllers.batch import FAILED, ITEMS_MAX, OK, CaseBatch, ItemOutcome, counted, outcomes, streamed
from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.repairability.tables import BatchTables, Shared


class RepairabilityOutcome(ItemOutcome, frozen=True, kw_only=True):
    """What became of one case of a batch."""

    answer: Annotated[
        Repairability | None,
        Meta(
            description="What `check_repairability` answers; null if failed. Of a brief answer, what the batch's "
            "`tables` do not hold: the reference is beside it, digest and sources stand there by their keys, and "
            "`in_tables` says where the rest does."
        ),
    ]


class RepairabilityBatch(AnswerPart, frozen=True, kw_only=True):
    """The outcome of every case of a batch, in the order of the cases."""

    items: Annotated[
        tuple[RepairabilityOutcome, ...],
        Meta(max_length=ITEMS_MAX, description="The outcomes, one for each item, in the order of the items."),
    ]
    ok: Annotated[int, OK]
    failed: Annotated[int, FAILED]
    tables: Annotated[
        BatchTables | None,
        Meta(description="What the brief rows say alike, each once; null where no row refers to it."),
    ] = None


def answer_batch(batch: CaseBatch) -> RepairabilityBatch:
    """Return the whole answer to a batch, as the operation sends it part by part."""
    shared = Shared()
    rows = outcomes(batch, check_repairability, RepairabilityOutcome, "", shared.row)
    return msgspec.structs.replace(counted(RepairabilityBatch, rows), tables=shared.tables())


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
        decide it with their sources, what to establish, in the order in which it can be asked, and what to do now.
        """
        return await worked_out(check_repairability, data)

    @post(
        "/batch",
        status_code=200,
        operation_id="check_repairability_in_batch",
        summary="Which of these tyres may be repaired?",
        opt=NAIL_HOLE.worked_in_batch(answer_batch),
    )
    async def check_many(
        self, data: JSONBody[CaseBatch], request: Request[Any, Any, Any]
    ) -> Response[RepairabilityBatch]:
        """Judges up to 1,000 cases, each as `check_repairability` judges it alone. An item that is at fault has its own
        problem, with pointers into the request, and costs the others nothing; the answer is 200 all the same. What many
        brief answers say alike stands once, in `tables` behind them; a full answer stands whole in its place.
        """
        request_id, shared = request.scope["state"]["request_id"], Shared()
        rows = outcomes(data, check_repairability, RepairabilityOutcome, request_id, shared.row)
        return streamed(rows, request, shared.tables)
