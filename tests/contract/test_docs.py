"""The documentation page comes whole from the service: it is read where there is no internet too."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from litestar.testing import TestClient

from mendgauge.api import docs


def test_the_page_asks_nobody_else_for_anything(client: TestClient[Any]) -> None:
    page = client.get("/docs")
    assert page.headers["content-type"] == "text/html; charset=utf-8"
    asked = re.findall(r'(?:src|href)="([^"]+)"', page.text)
    assert len(asked) == 4
    for address in asked:
        if address != "data:,":
            assert address.startswith("/docs/")
            assert client.get(address).status_code == 200
    assert '"/openapi.json"' in client.get("/docs/page.js").text


def test_the_style_sheet_asks_nobody_else_either(client: TestClient[Any]) -> None:
    assert re.findall(r"url\((?!\"?data:)|@import", client.get("/docs/swagger-ui.css").text) == []


def test_what_is_vendored_says_what_it_is_and_under_which_licence() -> None:
    folder = Path(docs.__file__).parent / "docs_ui"
    assert re.match(r"swagger-ui-dist [0-9.]+ ", (folder / "VERSION").read_text("utf-8"))
    assert "Apache License" in (folder / "LICENSE").read_text("utf-8")
    assert (folder / "NOTICE").exists()
