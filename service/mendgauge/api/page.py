"""What people open in a browser: the style sheet that every page of the service shares."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from litestar.types import ControllerRouterHandler

from mendgauge.api.files import files_in, route_of_files

_API: Final = Path(__file__).parent


def bench_page() -> list[ControllerRouterHandler]:
    """Return the routes of what pages share."""
    return [route_of_files("/static", files_in(_API / "static"))]
