"""What holds for every request: an id, HEAD as GET, one line in the log and nothing of the body in it."""

from __future__ import annotations

from typing import Any

import pytest
import structlog
from litestar.testing import TestClient
from structlog.testing import capture_logs

CASE = {"rulebook": "gb", "reference": "REFERENCE-SEEN", "tyre": {"marking": "205/55R16 91V"}}


@pytest.mark.parametrize("given", ["a", "DEPOT-3.000172", "0af7651916cd43dd8448eb211c80319c", "a:b_c", "x" * 64])
def test_a_well_formed_request_id_is_taken_over(client: TestClient[Any], given: str) -> None:
    assert client.get("/health/live", headers={"X-Request-Id": given}).headers.get_list("x-request-id") == [given]


@pytest.mark.parametrize("given", ["", " ", "a b", "x" * 65, "a\tb", '"a"', "a{b}", "ä".encode()])
def test_any_other_is_replaced(client: TestClient[Any], given: str | bytes) -> None:
    reply = client.get("/health/live", headers=[(b"X-Request-Id", given.encode() if isinstance(given, str) else given)])
    assert len(reply.headers["x-request-id"]) == 32
    assert reply.status_code == 200


def test_made_ids_differ(client: TestClient[Any]) -> None:
    assert len({client.get("/health/live").headers["x-request-id"] for _ in range(20)}) == 20


@pytest.mark.parametrize(
    "path",
    [
        "/v1/rulebooks",
        "/v1/rulebooks/gb",
        "/v1/tyre-markings?marking=205/55R16",
        "/openapi.json",
        "/docs",
        "/no",
        "/docs/files/docs.js",
    ],
)
def test_head_is_get_without_the_body(client: TestClient[Any], path: str) -> None:
    got, head = client.get(path), client.head(path)
    assert head.content == b""
    assert head.status_code == got.status_code
    varying = ("x-request-id", "date")
    assert [pair for pair in head.headers.items() if pair[0] not in varying] == [
        pair for pair in got.headers.items() if pair[0] not in varying
    ]


@pytest.mark.parametrize(
    ("method", "path", "template", "operation", "status"),
    [
        ("POST", "/v1/repairability", "/v1/repairability", "check_repairability", 200),
        ("GET", "/v1/rulebooks/gb", "/v1/rulebooks/{rulebook_id}", "get_rulebook", 200),
        ("HEAD", "/v1/rulebooks/gb", "/v1/rulebooks/{rulebook_id}", "get_rulebook", 200),
        ("GET", "/v1/rulebooks/SECRET", "/v1/rulebooks/{rulebook_id}", "get_rulebook", 404),
        ("GET", "/SECRET", None, None, 404),
        ("PUT", "/v1/repairability", None, None, 405),
        ("GET", "/v1/tyre-markings?marking=SECRET", "/v1/tyre-markings", "read_tyre_marking", 422),
    ],
)
def test_one_line_a_request(
    client: TestClient[Any], method: str, path: str, template: str | None, operation: str | None, status: int
) -> None:
    with capture_logs(processors=[structlog.contextvars.merge_contextvars]) as lines:
        headers = {"Accept-Encoding": "identity"}
        answer = client.request(method, path, json=CASE if method == "POST" else None, headers=headers)
    (line,) = lines
    assert line.pop("ms") > 0
    judged = {}
    if method == "POST":
        found = answer.json()
        judged = {"verdict": found["verdict"], "rulebook": "{id}@{edition}".format(**found["rulebook"])}
    assert line == {
        **judged,
        "client": "testclient",
        "key": None,
        "operation": operation,
        "event": "request",
        "log_level": "info",
        "method": method,
        "path": template,
        "status": status,
        "bytes": len(answer.content),
        "request_id": answer.headers["x-request-id"],
    }


def test_etags_spare_the_body(client: TestClient[Any]) -> None:
    """RFC 9110, 13.1.2: If-None-Match by weak comparison, any of a list, or a star."""
    for path in ("/v1/rulebooks", "/v1/rulebooks/gb"):
        whole = client.get(path, headers={"Accept-Encoding": "identity"})
        etag = whole.headers["etag"]
        for held in (etag, f"W/{etag}", f'"other", {etag}', "*"):
            again = client.get(path, headers={"Accept-Encoding": "identity", "If-None-Match": held})
            assert (again.status_code, again.content, again.headers["etag"]) == (304, b"", etag)
        assert client.get(path, headers={"If-None-Match": '"other"'}).content == whole.content


def test_each_rulebook_has_its_own_etag(client: TestClient[Any]) -> None:
    listed = client.get("/v1/rulebooks").json()["rulebooks"]
    assert len({client.get(f"/v1/rulebooks/{book['reference']}").headers["etag"] for book in listed}) == len(listed) > 1


def test_a_pinned_edition_is_the_one_asked_for(client: TestClient[Any]) -> None:
    for book in client.get("/v1/rulebooks").json()["rulebooks"]:
        reply = client.get(f"/v1/rulebooks/{book['reference']}").json()
        assert {name: reply[name] for name in book} == book
        assert all(limit["source"] and limit["basis"] for limit in reply["provisions"] + reply["workshop"])
