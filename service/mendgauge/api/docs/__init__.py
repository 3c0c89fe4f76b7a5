"""Documentation that the service serves itself: nothing on a page is fetched from elsewhere.

A page is made when it is first asked for, from the document, the golden examples and the rulebooks that the operations
answer from, so that no page can say anything else than they do.
"""

from __future__ import annotations

from asyncio import to_thread
from collections.abc import Sequence
from functools import cache
from pathlib import Path
from typing import Annotated, Any, Final

import msgspec
from litestar import Request, Response, get
from litestar.openapi.spec import Example
from litestar.params import PathParameter
from litestar.types import ControllerRouterHandler

from mendgauge.api.docs.site import Site
from mendgauge.api.files import (
    PAGE_HEADERS,
    IfNoneMatch,
    answer_with,
    files_in,
    route_of_files,
    served_file,
)
from mendgauge.api.flaws import cut
from mendgauge.api.media import HTML, JSON, preferred
from mendgauge.api.openapi import openapi_document, require_docstrings
from mendgauge.api.problems import NOT_FOUND, PROBLEM_TYPES, ProblemType, Refusal

_HERE: Final = Path(__file__).parent
_SLUG: Final = Example(value="contract-broken")


def documentation(described: Sequence[ControllerRouterHandler]) -> tuple[Site, list[ControllerRouterHandler]]:
    """Return the pages that describe these routes, and the routes that serve them.

    Raises:
        DocstringsMissingError: Python drops docstrings, and the document would lack them.
    """
    require_docstrings()

    @cache
    def document() -> bytes:
        return openapi_document(described)

    @get("/openapi.json", sync_to_thread=True, include_in_schema=False)
    def openapi_json(if_none_match: IfNoneMatch = None) -> Response[bytes | None]:
        return answer_with(served_file("openapi.json", document()), if_none_match)

    files = route_of_files("/docs/files", files_in(_HERE / "files"))
    return Site(lambda: msgspec.json.decode(document())), [openapi_json, files, docs_page, rulebook_page]


@get(["/docs", "/docs/{page:path}"], include_in_schema=False)
async def docs_page(
    request: Request[Any, Any, Any],
    page: Annotated[str, PathParameter()] = "",
    if_none_match: IfNoneMatch = None,
) -> Response[bytes | None]:
    return await _page(request, f"/docs{page}", if_none_match)


@get(["/rulebooks", "/rulebooks/{page:path}"], include_in_schema=False)
async def rulebook_page(
    request: Request[Any, Any, Any],
    page: Annotated[str, PathParameter()] = "",
    if_none_match: IfNoneMatch = None,
) -> Response[bytes | None]:
    return await _page(request, f"/rulebooks{page}", if_none_match)


@get(
    "/problems/{slug:str}",
    operation_id="explain_problem",
    summary="What a kind of problem means",
    tags=["Operations"],
)
async def explain_problem(
    request: Request[Any, Any, Any],
    slug: Annotated[str, PathParameter(description="The last part of a problem's `type`.", examples=[_SLUG])],
) -> Response[ProblemType]:
    """Explain what a kind of problem means and what to do about it: the page behind a problem's `type`. Who prefers
    HTML, as a browser does, is given a page with an example.
    """
    if _wants_page(request):
        page: Response[Any] = await _page(request, f"/problems/{slug}", request.headers.get("if-none-match"))
        page.headers["Vary"] = "Accept"
        return page
    for kind in PROBLEM_TYPES:
        if kind.type == f"/problems/{slug}":
            return Response(kind, headers={"Vary": "Accept"})
    raise Refusal(NOT_FOUND, f"there is no kind of problem called {cut(slug)!r}", headers={"Vary": "Accept"})


async def _page(request: Request[Any, Any, Any], path: str, if_none_match: str | None) -> Response[bytes | None]:
    """Return the page of a path; where there is none, a page that says so if the caller reads pages.

    Raises:
        Refusal: there is none, and the caller asks for no page.
    """
    site: Site = request.app.state.site
    if found := await to_thread(site.page, path):
        return answer_with(found, if_none_match)
    if _wants_page(request):
        lost = await to_thread(site.lost, cut(path))
        return Response(lost, status_code=404, media_type=HTML, headers=PAGE_HEADERS)
    raise Refusal(NOT_FOUND, f"nothing has the path {cut(path)}")


def _wants_page(request: Request[Any, Any, Any]) -> bool:
    return preferred(request.headers.get("accept"), (JSON, HTML)) == HTML
