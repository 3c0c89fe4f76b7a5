"""The documentation comes whole from the service, says what the operations say, and leads nowhere that is not there."""

from __future__ import annotations

import html
import json
import re
import shlex
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, get_args
from urllib.parse import urldefrag

import pytest
from litestar.testing import TestClient
from tests.contract.live import served
from tests.contract.test_golden import EXAMPLES, OPERATIONS, files

from mendgauge.api import docs
from mendgauge.api.docs.problem_pages import occasions
from mendgauge.api.problems import PROBLEM_TYPES
from mendgauge.rulebooks import find_edition
from mendgauge.rulebooks.procedure_checks import sourced
from mendgauge.rulebooks.provision import Basis
from mendgauge.rulebooks.schema.book import Book, Workshop, headings
from mendgauge.server import create_app, document
from mendgauge.wording.rulebook_pages import rulebook_page_words

NO_PAGES = {"/", "/openapi.json"}
"""Where links lead that is none of the documentation."""
BROWSER = {"Accept": "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"}
DOCUMENT = json.loads(document())


class Read(HTMLParser):
    """What a test asks of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.links: list[str] = []
        self.loaded: list[str] = []
        self.ids: list[str] = []
        self.headings: list[int] = []
        self.styled: list[str] = []
        self.tags: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags.append(tag)
        self.links += [given["href"]] if tag == "a" and "href" in given else []
        self.loaded += [given[name] for name in ("src", "href") if name in given and tag != "a"]
        self.ids += [given["id"]] if "id" in given else []
        self.headings += [int(tag[1])] if re.fullmatch("h[1-6]", tag) else []
        self.styled += [name for name in given if name == "style" or name.startswith("on")]


def page(client: TestClient[Any], path: str) -> str:
    answer = client.get(path, headers=BROWSER)
    assert answer.status_code == 200, path
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    return answer.text


def every_page(client: TestClient[Any]) -> dict[str, Read]:
    """Every page that links lead to, from the start."""
    found: dict[str, Read] = {}
    waiting = ["/docs"]
    while waiting:
        path = waiting.pop()
        if path not in found:
            found[path] = Read(page(client, path))
            waiting += [link for to in found[path].links if (link := urldefrag(to).url) and link not in NO_PAGES]
    return found


@pytest.fixture(scope="module")
def pages() -> dict[str, Read]:
    with TestClient(create_app()) as client:
        return every_page(client)


def test_every_link_leads_to_a_place_that_is_there(pages: dict[str, Read]) -> None:
    assert len(pages) > len(OPERATIONS) + len(PROBLEM_TYPES)
    for path, read in pages.items():
        for link in read.links:
            to, place = urldefrag(link)
            assert to in NO_PAGES or not place or place in pages[to or path].ids, f"{path} to {link}"


def test_a_page_loads_from_the_service_alone_and_has_no_script_or_style_of_its_own(
    pages: dict[str, Read], client: TestClient[Any]
) -> None:
    loaded = {address for read in pages.values() for address in read.loaded}
    assert loaded == {"/page/icon.svg", "/static/look.css", "/docs/files/docs.css", "/docs/files/docs.js"}
    for address in [*loaded, "/docs/files/run.js", "/docs/files/search.js"]:
        answer = client.get(address)
        assert answer.status_code == 200
        assert re.findall(r"@import|url\(|https?://(?!127\.0\.0\.1|www\.w3\.org/2000/svg)", answer.text) == []
    assert {path for path, read in pages.items() if read.styled or "style" in read.tags} == set()
    policy = client.get("/docs").headers["content-security-policy"]
    assert "script-src 'self'" in policy
    assert "style-src 'self'" in policy
    assert "unsafe" not in policy


def test_a_page_has_its_landmarks_and_its_headings_in_order(pages: dict[str, Read]) -> None:
    for path, read in pages.items():
        assert {"header", "nav", "main", "footer"} <= set(read.tags), path
        assert read.headings[0] == 1, path
        assert read.headings.count(1) == 1, path
        assert all(after - before <= 1 for before, after in zip(read.headings, read.headings[1:], strict=False)), path
        assert len(read.ids) == len(set(read.ids)), path


def test_every_operation_has_a_page_with_its_examples(client: TestClient[Any]) -> None:
    golden: dict[str, list[dict[str, Any]]] = {}
    for file in files():
        example = json.loads(file.read_bytes())
        golden.setdefault(example["operation"], []).append(example)
    assert EXAMPLES.is_dir()
    for name, (method, path, described) in OPERATIONS.items():
        text = html.unescape(page(client, f"/docs/operations/{name}"))
        assert described["summary"] in text
        assert f"{method} {path}" in text
        assert text.count('class="example"') == max(1, len(golden.get(name, ())))
        for example in golden.get(name, ()):
            assert example["summary"] in text
        for sample in ("curl --fail-with-body", f"service.{name}(", "await fetch("):
            assert sample in text, f"{name}: {sample}"


def test_what_a_page_sends_is_what_the_golden_example_sends(client: TestClient[Any]) -> None:
    for name, (_, _, described) in OPERATIONS.items():
        if "requestBody" not in described:
            continue
        text = page(client, f"/docs/operations/{name}")
        bodies = [html.unescape(body) for body in re.findall(r"<textarea[^>]*>(.*?)</textarea>", text, re.DOTALL)]
        sent = [json.loads(body) for body in bodies]
        golden = [json.loads(file.read_bytes())["request"] for file in files() if file.parent.name == name]
        assert not golden or sorted(map(json.dumps, sent)) == sorted(map(json.dumps, golden))


def test_the_main_question_comes_first(client: TestClient[Any]) -> None:
    listed = [link for link in Read(page(client, "/docs")).links if link.startswith("/docs/operations/")]
    assert listed[0] == "/docs/operations/check_repairability"


def test_every_kind_of_problem_has_a_page_where_its_type_points(client: TestClient[Any]) -> None:
    for kind in PROBLEM_TYPES:
        text = html.unescape(page(client, kind.type))
        assert kind.title in text
        assert str(kind.status) in text
        assert f'"type": "{kind.type}"' in text


def test_a_program_is_given_the_same_kind_as_json(client: TestClient[Any]) -> None:
    for accept in ("*/*", "application/json", "application/json, text/html", "image/png"):
        answer = client.get("/problems/not-found", headers={"Accept": accept})
        assert answer.json()["type"] == "/problems/not-found"
        assert "Accept" in answer.headers["vary"]


@pytest.mark.parametrize("path", ["/docs/none", "/docs/a/b", "/docs/%00", "/docs/" + "k" * 5000, "/problems/none"])
def test_where_there_is_no_page_a_browser_is_shown_where_to_go(client: TestClient[Any], path: str) -> None:
    answer = client.get(path, headers=BROWSER)
    assert answer.status_code == 404
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert answer.headers["cache-control"] == "no-store"
    assert "/docs" in Read(answer.text).links
    assert len(answer.text) < 5000
    assert client.get(path).headers["content-type"] == "application/problem+json"


def test_what_a_caller_writes_is_escaped(client: TestClient[Any]) -> None:
    answer = client.get("/docs/<script>alert(1)", headers=BROWSER)
    assert answer.status_code == 404
    assert "<script>alert" not in answer.text


@pytest.mark.parametrize("path", ["/docs", "/docs/operations/plan_work", "/problems/not-found", "/docs/search.json"])
def test_a_page_is_not_sent_again_to_who_holds_it(client: TestClient[Any], path: str) -> None:
    first = client.get(path, headers=BROWSER)
    assert first.headers["cache-control"] == "no-cache"
    assert client.get(path, headers=BROWSER | {"If-None-Match": first.headers["etag"]}).status_code == 304
    head = client.head(path, headers=BROWSER)
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["etag"] == first.headers["etag"]


def test_a_search_goes_through_every_page(client: TestClient[Any], pages: dict[str, Read]) -> None:
    listed = client.get("/docs/search.json").json()
    assert {urldefrag(address).url for address, *_ in listed} == set(pages)
    for address, *_ in listed:
        to, place = urldefrag(address)
        assert not place or place in pages[to].ids


def entries(book: dict[str, Any]) -> list[dict[str, Any]]:
    return [*book["provisions"], *book["workshop"], *book["procedure"]]


def cells(text: str) -> list[str]:
    """The text of every cell of a page, without tags."""
    found = re.findall(r"<td[^>]*>(.*?)</td>", text, re.DOTALL)
    return [" ".join(html.unescape(re.sub(r"<[^>]+>", " ", cell)).split()) for cell in found]


def test_every_edition_has_a_page_with_every_value_its_source_and_its_basis(client: TestClient[Any]) -> None:
    for summary in client.get("/v1/rulebooks").json()["rulebooks"]:
        book = client.get(f"/v1/rulebooks/{summary['reference']}").json()
        text = page(client, f"/rulebooks/{summary['reference']}")
        assert book["digest"] in text
        words = rulebook_page_words(book["language"]).words
        found = cells(text)
        assert len(found) == 3 * len(entries(book))
        for place, entry in enumerate(entries(book)):
            whom, says, known = found[3 * place : 3 * place + 3]
            assert all(of in whom for of in entry["classes"])
            for value in entry["values"]:
                stated = [words.get(word, word.replace("_", " ")) for word in value["words"]] or [value["text"]]
                assert all(" ".join(one.split()) in says.replace("_", " ") for one in stated), (value, says)
            assert " ".join(entry["source"].split()) in known
            assert f"#{entry['basis']}" in text
            assert " ".join(entry["clause"].split()) in known
            assert " ".join(entry["note"].split()) in known


def test_the_newest_edition_stands_under_the_rulebooks_own_name(client: TestClient[Any]) -> None:
    newest = client.get("/v1/rulebooks/gb").json()["reference"]
    assert f"<code>{newest}</code>" in page(client, "/rulebooks/gb")
    assert Read(page(client, "/rulebooks")).links.count("/rulebooks/gb") > 0


@pytest.mark.parametrize("book", ["au", "de", "fr", "gb", "in", "jp", "nz", "us", "za"])
def test_a_difference_lists_all_that_differs_and_nothing_else(client: TestClient[Any], book: str) -> None:
    old, new = (
        [json.dumps(entry) for entry in entries(client.get(f"/v1/rulebooks/{book}@{edition}").json())]
        for edition in ("2026.1", "2026.2")
    )
    text = page(client, f"/rulebooks/{book}@2026.2/since/2026.1")
    gone, come = len(set(old) - set(new)), len(set(new) - set(old))
    assert (gone, come) != (0, 0)
    assert text.count('class="before"') == gone
    assert text.count('class="after"') == come


@pytest.mark.parametrize("path", ["/rulebooks/zz", "/rulebooks/gb@1999.1", "/rulebooks/gb@2026.1/since/2026.2"])
def test_there_is_no_page_of_an_edition_that_is_not_there(client: TestClient[Any], path: str) -> None:
    assert client.get(path, headers=BROWSER).status_code == 404


def test_no_figure_of_the_trade_is_written_into_a_concept_page() -> None:
    """A number with a unit in a text comes from a rulebook; in an example of a request it is the caller's."""
    for file in sorted((Path(docs.__file__).parent / "concepts").glob("*.md")):
        text = re.sub(r"`[^`]*`|```.*?```", "", file.read_text("utf-8"), flags=re.DOTALL)
        assert re.findall(r"\d+(?:\.\d+)? ?(?:mm|km|kg|°|%|h|mph|psi|years?)\b", text) == [], file.name


def test_every_basis_is_explained(client: TestClient[Any]) -> None:
    assert set(get_args(Basis)) <= set(Read(page(client, "/docs/concepts/basis")).ids)


def test_a_figure_in_a_concept_page_is_the_rulebooks(client: TestClient[Any]) -> None:
    provisions = client.get("/v1/rulebooks/gb").json()["provisions"]
    size = next(one for one in provisions if one["question"] == "injury_size" and "car" in one["classes"])
    text = page(client, "/docs/concepts/house-rules")
    assert f"an injury of up to {size['values'][0]['text']} in a car tyre" in text


def test_every_heading_that_may_stand_in_a_rulebook_has_a_title() -> None:
    kinds: tuple[Any, ...] = (Book, Workshop)
    named = {name for kind in kinds for name, _ in headings(kind)}
    named |= {name for name, _ in sourced(find_edition("gb").procedure)}
    assert named - rulebook_page_words("en-GB").headings.keys() == set()


def test_every_schema_has_a_page_with_each_of_its_fields(client: TestClient[Any]) -> None:
    for name, schema in DOCUMENT["components"]["schemas"].items():
        text = html.unescape(page(client, f"/docs/fields/{name}"))
        for field, described in schema.get("properties", {}).items():
            assert f'id="{field}"' in text, f"{name}.{field}"
            for word in described.get("enum", ()):
                assert f"<code>{word}</code>" in text


@pytest.mark.parametrize("name", sorted(OPERATIONS))
def test_the_program_in_python_runs_as_it_stands(
    name: str, client: TestClient[Any], service: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown = re.search(r'aria-label="Python">(.*?)</pre>', page(client, f"/docs/operations/{name}"), re.DOTALL)
    assert shown
    program = html.unescape(shown[1]).replace("http://127.0.0.1:8340", service)
    monkeypatch.chdir(tmp_path)
    given: dict[str, Any] = {}
    exec(compile(program, name, "exec"), given)
    assert given["answer"]


@pytest.mark.parametrize("name", sorted(OPERATIONS))
def test_the_command_in_a_shell_asks_the_operation(name: str, client: TestClient[Any]) -> None:
    """What curl would send, without curl: its words as a shell reads them."""
    shown = re.search(r'aria-label="curl">(.*?)</pre>', page(client, f"/docs/operations/{name}"), re.DOTALL)
    assert shown
    words = shlex.split(html.unescape(shown[1]))
    address = next(word for word in words if word.startswith("http://127.0.0.1:8340/"))
    data = words[words.index("--data") + 1] if "--data" in words else None
    sent = {"content": data, "headers": {"Content-Type": "application/json"}} if data else {}
    answer = client.request("POST" if data else "GET", address.removeprefix("http://127.0.0.1:8340"), **sent)  # type: ignore[arg-type]
    assert answer.status_code == 200


@pytest.fixture(scope="module")
def service() -> Iterator[str]:
    with served(create_app()) as address:
        yield address


def test_a_problems_page_shows_what_the_service_says(client: TestClient[Any]) -> None:
    case, as_json = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}, {"Content-Type": "application/json"}
    many = b'{"items":[' + b"{}," * 1000 + b"{}]}"
    answers = [
        client.post("/v1/repairability", content=b'{"rulebook": "gb"', headers=as_json),
        client.get("/v1/rulebook"),
        client.get("/v1/repairability"),
        client.post("/v1/drawings", json=case, headers={"Accept": "text/plain"}),
        client.post("/v1/repairability", content=b" " * 600_000, headers=as_json),
        client.post("/v1/repairability/batch", content=many, headers=as_json),
        client.post("/v1/repairability", content=b"{}", headers={"Content-Type": "text/plain"}),
        client.post("/v1/repairability", json=case | {"injuries": [{"diameter_mm": "4"}]}),
    ]
    for given in (answer.json() for answer in answers):
        text = html.unescape(page(client, given["type"]))
        shown = re.search(r"<pre[^>]*>(.*?)</pre>", text, re.DOTALL)
        assert shown
        assert json.loads(shown[1]) == given | {"request_id": "DEPOT-3.000172"}


def test_no_occasion_of_a_problem_is_left_over() -> None:
    golden = {json.loads(file.read_bytes())["response"].get("type") for file in files()}
    without = {kind.type.rpartition("/")[2] for kind in PROBLEM_TYPES if kind.type not in golden}
    assert occasions().keys() >= without
    assert occasions().keys() <= {kind.type.rpartition("/")[2] for kind in PROBLEM_TYPES}


@pytest.mark.parametrize(
    ("name", "schema", "field"),
    [("questions", "ToEstablish", "asked_at"), ("soundness", "Repairability", "verdict")],
)
def test_a_table_of_words_has_each_word_that_may_be_answered(
    client: TestClient[Any], name: str, schema: str, field: str
) -> None:
    text = page(client, f"/docs/concepts/{name}")
    for word in DOCUMENT["components"]["schemas"][schema]["properties"][field]["x-extensible-enum"]:
        assert f"<td><code>{word}</code></td>" in text
