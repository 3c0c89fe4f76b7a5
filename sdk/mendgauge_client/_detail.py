"""How much the answer to a case says, where a call asks for it beside the case."""

from __future__ import annotations

from typing import TypeVar, get_args

from msgspec.structs import replace

from mendgauge_client.models import CaseBatch, Detail, TyreCase

DETAILS: tuple[Detail, ...] = get_args(Detail)
Body = TypeVar("Body", TyreCase, CaseBatch)


def in_detail(body: Body, detail: Detail | None) -> Body:
    """Return a case, or each of several, with the detail that is asked for; as it is where none is."""
    if detail is None:
        return body
    if isinstance(body, CaseBatch):
        return replace(body, items=[in_detail(case, detail) for case in body.items])
    return replace(body, detail=detail)
