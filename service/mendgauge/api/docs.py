"""The document and a page to read and try it: all of it served from here, nothing fetched from elsewhere.

`docs_ui/` holds the page and, unchanged, the parts of the npm package `swagger-ui-dist` that it needs, with the
package's licence, notice and version beside them. They are read once: no path that a caller sends reaches the disk.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Annotated

import msgspec
from litestar import Response, get
from litestar.params import HeaderParameter, PathParameter
from litestar.types import ControllerRouterHandler

from mendgauge.api.conditional import etag_of, is_held
from mendgauge.api.flaws import cut
from mendgauge.api.openapi import openapi_document, require_docstrings
from mendgauge.api.problems import NOT_FOUND, Refusal

_UI = Path(__file__).parent / "docs_ui"
_MEDIA_TYPES = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
}
_PLAIN = "text/plain"

IfNoneMatch = Annotated[str | None, HeaderParameter(name="If-None-Match")]


class _Page(msgspec.Struct, frozen=True):
    """A file as it is served."""

    body: bytes
    media_type: str
    etag: str


def documentation(described: Sequence[ControllerRouterHandler]) -> list[ControllerRouterHandler]:
    """Return the routes that describe these routes.

    Raises:
        DocstringsMissingError: Python drops docstrings, and the document would lack them.
    """
    require_docstrings()

    @cache
    def document() -> _Page:
        return _page(openapi_document(described), "application/json")

    @get("/openapi.json", sync_to_thread=True, include_in_schema=False)
    def openapi_json(if_none_match: IfNoneMatch = None) -> Response[bytes | None]:
        return _unless_held(document(), if_none_match)

    return [openapi_json, docs_page, docs_file]


@get("/docs", include_in_schema=False)
async def docs_page(if_none_match: IfNoneMatch = None) -> Response[bytes | None]:
    return _unless_held(_files()["index.html"], if_none_match)


@get("/docs/{name:str}", include_in_schema=False)
async def docs_file(name: Annotated[str, PathParameter()], if_none_match: IfNoneMatch = None) -> Response[bytes | None]:
    if name not in _files():
        raise Refusal(NOT_FOUND, f"nothing has the path /docs/{cut(name)}")
    return _unless_held(_files()[name], if_none_match)


@cache
def _files() -> dict[str, _Page]:
    return {file.name: _page(file.read_bytes(), _MEDIA_TYPES.get(file.suffix, _PLAIN)) for file in _UI.iterdir()}


def _page(body: bytes, media_type: str) -> _Page:
    return _Page(body, media_type, etag_of(body))


def _unless_held(page: _Page, if_none_match: str | None) -> Response[bytes | None]:
    """Return a page, or 304 when the caller holds the same bytes already."""
    headers = {"ETag": page.etag}
    if is_held(if_none_match, page.etag):
        return Response(None, status_code=304, headers=headers)
    return Response(page.body, media_type=page.media_type, headers=headers)
