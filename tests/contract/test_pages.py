"""What people open in a browser comes whole from the service, and may load or run nothing else."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, Final, get_args

import pytest
from litestar.testing import TestClient

from mendgauge.api import page
from mendgauge.case.fields import FIELDS
from mendgauge.rulebooks.provision import Language

ROOT: Final = Path(__file__).parents[2]
POLICY: Final = {"default-src 'none'", "script-src 'self'", "style-src 'self'", "connect-src 'self'", "base-uri 'none'"}
FOLDER: Final = Path(page.__file__).parent / "bench_page"
SCRIPTS: Final = sorted(FOLDER.glob("*.js"))


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


def assets_of(html: str) -> list[str]:
    return re.findall(r'(?:src|href)="([^"]+)"', html)


def test_the_page_is_served_with_a_policy_that_lets_nothing_else_run(client: TestClient[Any]) -> None:
    answer = client.get("/")
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    directives = {one.strip() for one in answer.headers["content-security-policy"].split(";")}
    assert directives >= POLICY
    assert "unsafe" not in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert not re.search(r"<script(?![^>]* src=)|<style| style=| on\w+=", answer.text)


def test_everything_the_page_names_is_there_and_of_its_kind(client: TestClient[Any]) -> None:
    kinds = {"css": "text/css", "js": "text/javascript", "svg": "image/svg+xml"}
    for address in assets_of(client.get("/").text):
        assert address.startswith(("/", "#")), address
        if not address.startswith("#"):
            answer = client.get(address)
            assert answer.status_code == 200, address
            kind = kinds.get(address.rpartition(".")[2], "text/html")
            assert answer.headers["content-type"].startswith(kind), address


def test_every_module_that_is_imported_is_there(client: TestClient[Any]) -> None:
    imported = {
        name for script in SCRIPTS for name in re.findall(r'^import [^;]* from "\./([^"]+)";', script.read_text(), re.M)
    }
    assert imported
    assert imported == {script.name for script in SCRIPTS} - {"main.js"}
    for name in imported:
        assert client.get(f"/page/{name}").headers["content-type"].startswith("text/javascript")


@pytest.mark.parametrize(
    "file", [one.name for one in sorted(FOLDER.iterdir()) if one.suffix in {".js", ".css", ".html"}]
)
def test_no_file_names_a_foreign_address(file: str) -> None:
    # The names of the namespaces of XML look like addresses, and nobody fetches them.
    text = (FOLDER / file).read_text("utf-8").replace("http://www.w3.org/", "")
    assert re.findall(r"https?:|url\(|@import|[\"']//", text) == []


def test_the_page_is_small_on_the_wire(client: TestClient[Any]) -> None:
    """All that is loaded before the first answer, as it is sent to a browser that takes gzip."""
    asked = ["/", *(one for one in assets_of(client.get("/").text) if one.endswith((".css", ".js", ".svg")))]
    asked += [f"/page/{script.name}" for script in SCRIPTS if script.name != "main.js"]
    asked += [f"/page/texts.{language}.json" for language in get_args(Language)]
    sent = 0
    for address in asked:
        with client.stream("GET", address, headers={"Accept-Encoding": "gzip"}) as answer:
            sent += sum(len(part) for part in answer.iter_raw())
    assert 20_000 < sent < 150_000


def test_the_library_says_what_it_is_and_under_which_licence() -> None:
    assert re.match(r"preact [0-9.]+ \(npm\), MIT", (FOLDER / "VERSION").read_text("utf-8"))
    assert "The MIT License" in (FOLDER / "preact.LICENSE.txt").read_text("utf-8")
    lock = json.loads((ROOT / "tests" / "browser" / "package-lock.json").read_bytes())
    version = lock["packages"]["node_modules/preact"]["version"]
    assert version in (FOLDER / "VERSION").read_text("utf-8")


def test_the_lock_of_the_browser_tests_pins_every_package_and_names_no_address() -> None:
    lock = json.loads((ROOT / "tests" / "browser" / "package-lock.json").read_bytes())
    packages = [entry for place, entry in lock["packages"].items() if place]
    assert packages
    for entry in packages:
        assert entry["integrity"].startswith("sha512-")
        assert not entry.keys() & {"resolved", "funding"}


@pytest.mark.parametrize("language", get_args(Language))
def test_every_field_of_the_case_has_its_words_in_the_texts(client: TestClient[Any], language: Language) -> None:
    texts = client.get(f"/page/texts.{language}.json").json()
    assert texts["language"] == language
    assert texts["fields"].keys() == FIELDS.keys()
    for pattern, field in FIELDS.items():
        shown = texts["fields"][pattern]
        assert shown["asks"].strip()
        if shown["kind"] == "choice":
            assert shown["choices"].keys() == set(field.choices), pattern


def test_every_text_that_a_module_asks_for_is_there(client: TestClient[Any]) -> None:
    texts = client.get("/page/texts.en-GB.json").json()["page"]["texts"]
    asked = {key for script in SCRIPTS for key in re.findall(r'\bt\("(\w+)"', script.read_text("utf-8"))}
    assert len(asked) > 30
    assert asked <= texts.keys()


def test_american_texts_are_american(client: TestClient[Any]) -> None:
    british = client.get("/page/texts.en-GB.json").text
    american = client.get("/page/texts.en-US.json").text
    assert re.search(r"\btyre\b", british)
    assert not re.search(r"\btyres?\b|\bcentre\b|\bcalliper\b", re.sub(r'"[^"]*":', "", american))
