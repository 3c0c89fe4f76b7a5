"""Files of the pages, read once and served as they are: no path that a caller sends reaches the disk."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Final

import msgspec
from litestar import Response, get
from litestar.handlers import HTTPRouteHandler
from litestar.params import HeaderParameter, PathParameter

from mendgauge.api.conditional import etag_of, is_held
from mendgauge.api.flaws import cut
from mendgauge.api.problems import NOT_FOUND, Refusal

_MEDIA_TYPES: Final = {
    ".css": "text/css",
    ".html": "text/html",
    ".js": "text/javascript",
    ".json": "application/json",
    ".svg": "image/svg+xml",
}
_PLAIN: Final = "text/plain"

PAGE_HEADERS: Final = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self' blob:; "
        "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
    ),
    "Cross-Origin-Opener-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
}
"""Nothing on a page runs or loads but what this service serves as a file; pictures may be made from its answers."""

IfNoneMatch = Annotated[str | None, HeaderParameter(name="If-None-Match")]


class ServedFile(msgspec.Struct, frozen=True):
    """A file as it is served."""

    body: bytes
    media_type: str
    etag: str


def served_file(name: str, body: bytes) -> ServedFile:
    """Return a file as it is served; the ending of its name says what it is."""
    return ServedFile(body, _MEDIA_TYPES.get(Path(name).suffix, _PLAIN), etag_of(body))


def files_in(folder: Path) -> dict[str, ServedFile]:
    """Return the files of a folder by their names."""
    return {file.name: served_file(file.name, file.read_bytes()) for file in folder.iterdir() if file.is_file()}


def answer_with(file: ServedFile, if_none_match: str | None) -> Response[bytes | None]:
    """Return a file, or 304 where the caller holds the same bytes already."""
    headers = {**PAGE_HEADERS, "ETag": file.etag}
    if is_held(if_none_match, file.etag):
        return Response(None, status_code=304, headers=headers)
    return Response(file.body, media_type=file.media_type, headers=headers)


def route_of_files(prefix: str, files: dict[str, ServedFile]) -> HTTPRouteHandler:
    """Return the route that serves files below a path by their names.

    Raises:
        Refusal: no file has the name that is asked for.
    """

    @get(f"{prefix}/{{name:str}}", include_in_schema=False)
    async def named_file(
        name: Annotated[str, PathParameter()], if_none_match: IfNoneMatch = None
    ) -> Response[bytes | None]:
        if name not in files:
            raise Refusal(NOT_FOUND, f"nothing has the path {prefix}/{cut(name)}")
        return answer_with(files[name], if_none_match)

    return named_file
