"""What people open in a browser comes whole from the service, and may load or run nothing else."""

from __future__ import annotations

import re
from typing import Any

from litestar.testing import TestClient


def test_the_shared_style_sheet_asks_nobody_for_anything(client: TestClient[Any]) -> None:
    sheet = client.get("/static/look.css")
    assert sheet.headers["content-type"] == "text/css; charset=utf-8"
    assert re.findall(r"url\(|@import|//", sheet.text) == []


def test_a_file_is_not_sent_again_to_who_holds_it(client: TestClient[Any]) -> None:
    first = client.get("/static/look.css")
    again = client.get("/static/look.css", headers={"If-None-Match": first.headers["etag"]})
    assert (again.status_code, again.content) == (304, b"")
    assert first.headers["cache-control"] == "no-cache"


def test_no_path_leads_out_of_the_folder(client: TestClient[Any]) -> None:
    for path in ("/static/page.py", "/static/..%2Fpage.py", "/static/%2e%2e/page.py", "/static/"):
        assert client.get(path).status_code == 404
