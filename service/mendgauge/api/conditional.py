"""Answers that a caller may hold already: tags of their bytes, and whether one it holds is good (RFC 9110, 13.1.2)."""

from __future__ import annotations

from hashlib import sha256
from typing import Annotated, TypeVar

import msgspec
from litestar import Response
from litestar.datastructures import ResponseHeader
from litestar.openapi import ResponseSpec
from litestar.params import HeaderParameter

Content = TypeVar("Content", bound=msgspec.Struct)

IfNoneMatch = Annotated[
    str | None,
    HeaderParameter(
        name="If-None-Match",
        description="The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.",
    ),
]
ETAG = ResponseHeader(name="ETag", documentation_only=True)
NOT_CHANGED = {304: ResponseSpec(None, description="The copy at hand is good.")}


def etag_of(body: bytes) -> str:
    """Return the strong entity tag of a body."""
    return f'"{sha256(body).hexdigest()[:32]}"'


def is_held(if_none_match: str | None, etag: str) -> bool:
    """Return whether an `If-None-Match` lists a tag, by weak comparison, or is `*`."""
    held = [tag.strip().removeprefix("W/") for tag in (if_none_match or "").split(",")]
    return etag in held or held == ["*"]


def unless_held(content: Content, if_none_match: str | None) -> Response[Content]:
    """Return the content, or 304 when the caller holds the same bytes already."""
    etag = etag_of(msgspec.json.encode(content))
    headers = {"ETag": etag}
    if is_held(if_none_match, etag):
        return Response(None, status_code=304, headers=headers)  # type: ignore[arg-type]
    return Response(content, headers=headers)
