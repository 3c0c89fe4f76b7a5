"""`GET /v1/gauges`: what does the rulebook allow on this tyre, at full size on paper?"""

from __future__ import annotations

from datetime import UTC, date, datetime
from functools import partial
from typing import Annotated, Any, Final

from litestar import Controller, Request, Response, get
from litestar.openapi.spec import Example
from litestar.params import QueryParameter

from mendgauge.api.media import PDF, MediaAnswer, accepted, media_response
from mendgauge.api.problems import IMPOSSIBLE_CASE, FaultAt, Refusal
from mendgauge.api.rendering import rendered
from mendgauge.core.errors import CaseError
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.operations.gauges import draw_gauge, print_gauge
from mendgauge.operations.gauges.paper import Paper

_ANSWER: Final = MediaAnswer("The gauge, a page or two, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).", (PDF,))
_PARAMETERS: Final = {
    "/rulebook": "rulebook",
    "/tyre/marking": "marking",
    "/tyre/tread_width_mm": "tread_width_mm",
    "/vehicle/kind": "vehicle_kind",
}
"""Where a fault of the case that a gauge is drawn for stands among the parameters."""


class GaugeController(Controller):
    """Paper gauges."""

    path = "/gauges"
    tags = ("Reference",)

    @get(
        operation_id="print_gauge",
        summary="What does the rulebook allow on this tyre, at full size on paper?",
        opt={"media": _ANSWER},
    )
    async def print(
        self,
        request: Request[Any, Any, Any],
        marking: Annotated[
            str,
            QueryParameter(
                max_length=80,
                description="Size and service description as moulded on the sidewall.",
                examples=[Example(value="205/55R16 91V")],
            ),
        ],
        rulebook: Annotated[
            str,
            QueryParameter(
                pattern=r"^[a-z]{2}(@[0-9]{4}\.[0-9]+)?\Z",
                max_length=20,
                description="The rulebook that applies, by its id; `gb@2026.1` pins an edition.",
                examples=[Example(value="gb")],
            ),
        ],
        vehicle_kind: Annotated[
            VehicleKind,
            QueryParameter(
                description="What the vehicle is. Decides which limits apply.", examples=[Example(value="car")]
            ),
        ],
        paper: Annotated[
            Paper, QueryParameter(description="The paper it is printed on.", examples=[Example(value="a4")])
        ] = "a4",
        tread_width_mm: Annotated[
            float | None,
            QueryParameter(
                ge=10,
                le=1000,
                description="Width of the tread, edge to edge, mm, where the band hangs on it. Without it the sheet "
                "has a strip to lay at the edge of the tread.",
                examples=[Example(value=165)],
            ),
        ] = None,
        assessed_on: Annotated[
            date | None,
            QueryParameter(
                description="The day whose rules hold; today (UTC) when left out.",
                examples=[Example(value="2026-11-24")],
            ),
        ] = None,
    ) -> Response[bytes]:
        """A sheet to print at 100 %, cut out and lay on the tread: the repairable band with its edges and centre line,
        an angle fan with the largest lean for one piece, holes and cutters up to the limit, patches, tread depths, and
        two lines to check the print by. A band wider than the paper comes in two halves with register marks.
        """
        accepted(request.headers.get("accept"), _ANSWER)
        day = assessed_on or datetime.now(tz=UTC).date()
        make = partial(_printed, marking, rulebook, vehicle_kind, paper, tread_width_mm, day)
        try:
            content = await rendered(make)
        except CaseError as error:
            faults = (FaultAt(parameter=_PARAMETERS.get(flaw.pointer), detail=flaw.detail) for flaw in error.errors)
            raise Refusal(IMPOSSIBLE_CASE, "there is no gauge for this tyre", tuple(faults)) from error
        return media_response(content, PDF, "gauge")


def _printed(
    marking: str, rulebook: str, kind: VehicleKind, paper: Paper, tread_width_mm: float | None, day: date
) -> bytes:
    return print_gauge(draw_gauge(marking, rulebook, kind, paper, tread_width_mm=tread_width_mm, today=day))
