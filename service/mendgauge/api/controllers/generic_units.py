"""`GET /v1/generic-units`: which codes does a price book need?"""

from __future__ import annotations

from typing import Annotated

from litestar import Controller, Response, get
from litestar.openapi.spec import Example
from litestar.params import QueryParameter

from mendgauge.api.conditional import ETAG, NOT_CHANGED, IfNoneMatch, unless_held
from mendgauge.api.problems import IMPOSSIBLE_CASE, FaultAt, Refusal
from mendgauge.operations.generic_units import UnknownRulebookError, list_generic_units
from mendgauge.operations.generic_units.answer import GenericUnits
from mendgauge.tyre.tyre_class import TyreClass


class GenericUnitsController(Controller):
    """The sizes that stand in for a shop's stock, for a till to set prices by."""

    path = "/generic-units"
    tags = ("Reference",)
    response_headers = (ETAG,)

    @get(operation_id="list_generic_units", summary="Which codes does a price book need?", responses=NOT_CHANGED)
    async def list(
        self,
        rulebook: Annotated[
            str,
            QueryParameter(
                max_length=40,
                description="The rulebook of the cases to be priced: `gb`, or `gb@2026.1` for a certain edition.",
                examples=[Example(value="gb")],
            ),
        ],
        tyre_class: Annotated[
            TyreClass | None,
            QueryParameter(
                description="The class of tyre. Left out: all. Trailers run on tyres of class `truck` or `van`.",
                examples=[Example(value="car")],
            ),
        ] = None,
        if_none_match: IfNoneMatch = None,
    ) -> Response[GenericUnits]:
        """List the generic sizes and the consumables by the codes that `price_book` has prices for."""
        try:
            return unless_held(list_generic_units(rulebook, tyre_class), if_none_match)
        except UnknownRulebookError as error:
            fault = FaultAt(parameter="rulebook", detail=str(error))
            raise Refusal(IMPOSSIBLE_CASE, "there is no such rulebook", (fault,)) from error
