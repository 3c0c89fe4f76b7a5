"""The bench page at `/`: its files and its texts, and the style sheet of every page. It asks the API as any caller."""

from __future__ import annotations

from pathlib import Path
from typing import Final, get_args

import msgspec
from litestar import Response, get
from litestar.types import ControllerRouterHandler

from mendgauge.api.files import IfNoneMatch, ServedFile, answer_with, files_in, route_of_files, served_file
from mendgauge.rulebooks.provision import Language
from mendgauge.wording.page import form

_API: Final = Path(__file__).parent


def bench_page() -> list[ControllerRouterHandler]:
    """Return the routes of the page, and of what pages share."""
    files = files_in(_API / "bench_page") | _texts()

    @get("/", include_in_schema=False)
    async def index(if_none_match: IfNoneMatch = None) -> Response[bytes | None]:
        return answer_with(files["index.html"], if_none_match)

    return [index, route_of_files("/page", files), route_of_files("/static", files_in(_API / "static"))]


def _texts() -> dict[str, ServedFile]:
    """Return the texts of the page in each language that a rulebook speaks, by the name of their file."""
    texts = {f"texts.{language}.json": msgspec.json.encode(form(language)) for language in get_args(Language)}
    return {name: served_file(name, body) for name, body in texts.items()}
