"""`GET /v1/rulebooks`: the rules that decide, and where each comes from."""

from __future__ import annotations

from typing import Annotated

import msgspec
from litestar import Controller, Response, get
from litestar.openapi.spec import Example
from litestar.params import PathParameter
from msgspec import Meta

from mendgauge.api.conditional import ETAG, NOT_CHANGED, IfNoneMatch, unless_held
from mendgauge.api.problems import NOT_FOUND, Refusal
from mendgauge.operations.rulebooks import UnknownRulebookError, get_rulebook, list_rulebooks
from mendgauge.operations.rulebooks.answer import Rulebook, RulebookSummary


class RulebookList(msgspec.Struct, frozen=True):
    """Every edition of every rulebook."""

    rulebooks: Annotated[
        tuple[RulebookSummary, ...], Meta(max_length=1000, description="By id, the newest edition first.")
    ]


class RulebookController(Controller):
    """Rulebooks never change once released, so a copy may be kept and asked about by its ETag."""

    path = "/rulebooks"
    tags = ("Reference",)
    response_headers = (ETAG,)

    @get(operation_id="list_rulebooks", summary="Which rulebooks are there?", responses=NOT_CHANGED)
    async def list(self, if_none_match: IfNoneMatch = None) -> Response[RulebookList]:
        """List every edition of every rulebook, with the digest that answers name."""
        return unless_held(RulebookList(list_rulebooks()), if_none_match)

    @get("/{rulebook_id:str}", operation_id="get_rulebook", summary="What does a rulebook say?", responses=NOT_CHANGED)
    async def get(
        self,
        rulebook_id: Annotated[
            str,
            PathParameter(
                description="A rulebook's id, for its newest edition; `gb@2026.1` for a certain one.",
                examples=[Example(value="gb")],
            ),
        ],
        if_none_match: IfNoneMatch = None,
    ) -> Response[Rulebook]:
        """Show every limit of a rulebook with its value, unit, source, clause and basis."""
        try:
            rulebook = get_rulebook(rulebook_id)
        except UnknownRulebookError as error:
            raise Refusal(NOT_FOUND, str(error)) from error
        return unless_held(rulebook, if_none_match)
