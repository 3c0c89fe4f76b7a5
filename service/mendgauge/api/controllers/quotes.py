"""`POST /v1/quotes`: what does it cost, and does it pay?"""

from __future__ import annotations

from litestar import Controller, post
from litestar.params import JSONBody

from mendgauge.api.example import NAIL_HOLE_WITH_PRICES
from mendgauge.api.long_cases import worked_out
from mendgauge.case.case import Case
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.quotes.answer import Quote


class QuoteController(Controller):
    """The price by the caller's own price book."""

    path = "/quotes"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="quote_repair",
        summary="What does the job cost, and does a repair pay against a new tyre?",
        opt=NAIL_HOLE_WITH_PRICES.worked(quote_repair),
    )
    async def quote(self, data: JSONBody[Case]) -> Quote:
        """Prices the work, the units and the consumables of a case by its `price_book`, line by line with taxes, and
        what preparation could still change. A tyre that may not be repaired is priced as a replacement or an
        inspection, never as a repair. With `replacement`, a repair is held against a new tyre. What has no price is an
        error that names it.
        """
        return await worked_out(quote_repair, data)
