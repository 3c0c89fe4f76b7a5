"""The document and a page to read and try it: all of it served from here, nothing fetched from elsewhere.

`docs_ui/` holds the page and, unchanged, the parts of the npm package `swagger-ui-dist` that it needs, with the
package's licence, notice and version beside them.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from litestar import Response, get
from litestar.response import File
from litestar.static_files import create_static_files_router
from litestar.types import ControllerRouterHandler

from mendgauge.api.openapi import openapi_document

_UI = Path(__file__).parent / "docs_ui"


def documentation(described: Sequence[ControllerRouterHandler]) -> list[ControllerRouterHandler]:
    """The routes that tell of these routes."""

    @cache
    def document() -> bytes:
        return openapi_document(described)

    @get("/openapi.json", sync_to_thread=True, include_in_schema=False)
    def openapi_json() -> Response[bytes]:
        return Response(document(), media_type="application/json")

    return [openapi_json, docs_page, create_static_files_router("/docs", [_UI])]


@get("/docs", include_in_schema=False)
async def docs_page() -> File:
    return File(_UI / "index.html", media_type="text/html", content_disposition_type="inline")
