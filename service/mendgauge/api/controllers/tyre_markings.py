"""`GET /v1/tyre-markings`: what does the sidewall say?"""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Annotated

from litestar import Controller, get
from litestar.openapi.spec import Example
from litestar.params import QueryParameter

from mendgauge.api.example import WorkedExample
from mendgauge.api.problems import IMPOSSIBLE_CASE, FaultAt, Refusal
from mendgauge.operations.tyre_markings import explain_marking
from mendgauge.operations.tyre_markings.answer import TyreMarking
from mendgauge.tyre.date_code import DateCodeError
from mendgauge.tyre.marking import MarkingError


def _example() -> TyreMarking:
    return explain_marking("205/55R16 91V", "2323", date(2026, 11, 24), vehicle_max_speed_kmh=215)


class TyreMarkingController(Controller):
    """One reading, no rules."""

    path = "/tyre-markings"
    tags = ("Reference",)

    @get(
        operation_id="read_tyre_marking",
        summary="What does the sidewall say?",
        opt={"example": WorkedExample("marking", "A car tyre's marking, with its date code", None, _example)},
    )
    async def read(
        self,
        marking: Annotated[
            str,
            QueryParameter(
                max_length=80,
                description="Size and service description as moulded on the sidewall.",
                examples=[Example(value="205/55R16 91V")],
            ),
        ],
        date_code: Annotated[
            str | None,
            QueryParameter(
                max_length=60,
                description="The date code (week and year), or the whole tyre identification number that ends in it.",
                examples=[Example(value="2323")],
            ),
        ] = None,
        assessed_on: Annotated[
            date | None,
            QueryParameter(
                description="The day on which the age is taken; today (UTC) when left out.",
                examples=[Example(value="2026-11-24")],
            ),
        ] = None,
        vehicle_max_speed_kmh: Annotated[
            float | None,
            QueryParameter(
                ge=0,
                le=500,
                description="Top speed of the vehicle, km/h: the answer then gives the load at that speed.",
                examples=[Example(value=215)],
            ),
        ] = None,
    ) -> TyreMarking:
        """Read a marking, and a date code if there is one: dimensions, load, speed and age, and what looks odd."""
        try:
            return explain_marking(
                marking,
                date_code,
                assessed_on or datetime.now(tz=UTC).date(),
                vehicle_max_speed_kmh=vehicle_max_speed_kmh,
            )
        except MarkingError as error:
            raise _refusal("marking", error) from error
        except DateCodeError as error:
            raise _refusal("date_code", error) from error


def _refusal(parameter: str, error: ValueError) -> Refusal:
    return Refusal(
        IMPOSSIBLE_CASE,
        f"the {parameter.replace('_', ' ')} cannot be read",
        (FaultAt(parameter=parameter, detail=str(error)),),
    )
