"""`POST /v1/job-cards`: what is printed of this tyre?"""

from __future__ import annotations

from functools import partial
from typing import Annotated, Any, Final

from litestar import Controller, Request, Response, post
from litestar.openapi.spec import Example
from litestar.params import JSONBody, QueryParameter

from mendgauge.api.example import NAIL_HOLE
from mendgauge.api.media import PDF, MediaAnswer, accepted, media_response
from mendgauge.api.rendering import rendered
from mendgauge.case.case import Case
from mendgauge.operations.gauges.paper import Paper
from mendgauge.operations.job_cards import print_card, write_card

_ANSWER: Final = MediaAnswer("The sheets, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).", (PDF,))


class JobCardController(Controller):
    """Printed sheets."""

    path = "/job-cards"
    tags = ("Decisions",)

    @post(
        status_code=200,
        operation_id="print_job_card",
        summary="What is printed of this tyre?",
        opt=NAIL_HOLE.shown(_ANSWER),
    )
    async def print(
        self,
        data: JSONBody[Case],
        request: Request[Any, Any, Any],
        paper: Annotated[
            Paper, QueryParameter(description="The paper it is printed on.", examples=[Example(value="a4")])
        ] = "a4",
    ) -> Response[bytes]:
        """A tyre that may be repaired gets a job card, with its figures and drawings on the front and the steps with
        their hold points on the back, and a slip for the driver to sign. One that may not gets a slip for the customer:
        what was found, which rule, what to do. While that is open there is an intake sheet with the questions in order.
        The same case gives the same bytes.
        """
        accepted(request.headers.get("accept"), _ANSWER)
        return media_response(await rendered(partial(_printed, data, paper)), PDF, "job-card")


def _printed(case: Case, paper: Paper) -> bytes:
    return print_card(write_card(case, paper))
