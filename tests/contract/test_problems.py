"""Every 4xx and 5xx is a problem as RFC 9457 has it, whoever raised it."""

from __future__ import annotations

from collections.abc import Iterator
from hashlib import sha256
from typing import Any

import msgspec
import pytest
from litestar.datastructures import State
from litestar.exceptions import TooManyRequestsException
from litestar.testing import TestClient

from mendgauge.api.controllers import repairability
from mendgauge.api.edge import Edge
from mendgauge.api.problems import PROBLEM_TYPES, Problem
from mendgauge.core.errors import CaseError
from mendgauge.server import create_app
from mendgauge.settings import Settings

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
KEYS = ("a-key-of-the-depot", "another-key-of-it")
STORED = tuple(f"depot:{sha256(key.encode()).hexdigest()}" for key in KEYS)


def problem(answer: Any, status: int, slug: str) -> Problem:
    """The problem an answer holds, checked for what all have in common."""
    assert answer.status_code == status
    assert answer.headers["content-type"] == "application/problem+json"
    given = msgspec.json.decode(answer.content, type=Problem)
    assert given.type == f"/problems/{slug}"
    assert given.status == status
    assert given.request_id == answer.headers["x-request-id"]
    return given


@pytest.fixture
def locked() -> Iterator[TestClient[Any]]:
    with TestClient(create_app(Settings(api_keys=STORED))) as client:
        yield client


def test_every_kind_is_explained_where_its_type_points(client: TestClient[Any]) -> None:
    for kind in PROBLEM_TYPES:
        assert client.get(kind.type).json() == msgspec.to_builtins(kind)
    problem(client.get("/problems/no-such-kind"), 404, "not-found")


@pytest.mark.parametrize(
    "path",
    ["/none", "/page/none", "/v1", "/v2/repairability", "/v1/repairability/1", "/docs/none", "/docs/a/b", "/%ff"],
)
def test_unknown_paths(client: TestClient[Any], path: str) -> None:
    assert "nothing has the path" in problem(client.get(path), 404, "not-found").detail


@pytest.mark.parametrize(("path", "meant"), [("/v1/quote", "/v1/quotes"), ("/V1/Repair-Plans", "/v1/repair-plans")])
def test_a_path_that_is_nearly_right_is_answered_with_the_right_one(
    client: TestClient[Any], path: str, meant: str
) -> None:
    assert f"did you mean `{meant}`?" in problem(client.post(path, json={}), 404, "not-found").detail


def test_a_field_that_is_none_is_answered_with_those_there_are(client: TestClient[Any]) -> None:
    case = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "price_book": {"labour_per_hour": "60"}}
    (fault, *_) = problem(client.post("/v1/quotes", json=case), 422, "contract-broken").errors
    assert fault.pointer == "/price_book/labour_per_hour"
    assert "there are currency, " in fault.detail


def test_an_unknown_rulebook_is_refused_with_those_there_are(client: TestClient[Any]) -> None:
    assert "gb" in problem(client.get("/v1/rulebooks/zz"), 404, "not-found").detail


@pytest.mark.parametrize(
    ("method", "path", "allowed"),
    [
        ("GET", "/v1/repairability", {"POST", "OPTIONS"}),
        ("HEAD", "/v1/repairability", {"POST", "OPTIONS"}),
        ("POST", "/v1/tyre-markings", {"GET", "HEAD", "OPTIONS"}),
        ("DELETE", "/v1/rulebooks/gb", {"GET", "HEAD", "OPTIONS"}),
        ("TRACE", "/health/live", {"GET", "HEAD", "OPTIONS"}),
        ("BREW", "/openapi.json", {"GET", "HEAD", "OPTIONS"}),
    ],
)
def test_methods_not_taken(client: TestClient[Any], method: str, path: str, allowed: set[str]) -> None:
    answer = client.request(method, path)
    assert answer.status_code == 405
    assert method == "HEAD" or f"{path} does not take {method}; it takes " in answer.json()["detail"]
    assert set(answer.headers["allow"].split(", ")) == allowed  # RFC 9110, 10.2.1
    if method != "HEAD":
        problem(answer, 405, "method-not-allowed")


def test_options_lists_the_methods(client: TestClient[Any]) -> None:
    answer = client.options("/v1/rulebooks")
    assert answer.status_code == 204
    assert set(answer.headers["allow"].split(", ")) == {"GET", "HEAD", "OPTIONS"}


def test_a_host_that_is_none_is_400(client: TestClient[Any]) -> None:
    problem(client.get("/v1/rulebooks", headers={"host": "a b"}), 400, "malformed-request")


@pytest.mark.parametrize("authorization", [None, "", "Bearer", "Bearer ", "Basic YTpi", f"Basic {KEYS[0]}"])
def test_without_a_key_401(locked: TestClient[Any], authorization: str | None) -> None:
    headers = {"authorization": authorization} if authorization is not None else {}
    answer = locked.post("/v1/repairability", json=CASE, headers=headers)
    problem(answer, 401, "key-refused")
    assert answer.headers["www-authenticate"] == 'Bearer realm="mendgauge"'  # RFC 6750, 3


@pytest.mark.parametrize("key", ["wrong", KEYS[0] + "x", KEYS[0][:-1], f"{KEYS[0]},{KEYS[1]}", "schlüssel"])
def test_with_another_key_401(locked: TestClient[Any], key: str) -> None:
    answer = locked.get("/v1/rulebooks", headers=[(b"authorization", f"Bearer {key}".encode())])
    problem(answer, 401, "key-refused")
    assert 'error="invalid_token"' in answer.headers["www-authenticate"]


def test_a_key_is_asked_for_before_the_body_is_looked_at(locked: TestClient[Any]) -> None:
    problem(locked.post("/v1/repairability", content=b"x" * 3_000_000), 401, "key-refused")


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("scheme", ["Bearer", "bearer"])
def test_each_key_opens(locked: TestClient[Any], key: str, scheme: str) -> None:
    headers = {"authorization": f"{scheme} {key}"}
    assert locked.post("/v1/repairability", json=CASE, headers=headers).status_code == 200


@pytest.mark.parametrize("path", ["/health/live", "/health/ready", "/openapi.json", "/docs", "/problems/key-refused"])
def test_what_needs_no_key(locked: TestClient[Any], path: str) -> None:
    assert locked.get(path).status_code == 200


def test_a_failure_is_500_and_says_nothing_of_itself(client: TestClient[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(_case: object) -> None:
        raise RuntimeError("the innermost secret")

    monkeypatch.setattr(repairability, "check_repairability", fail)
    answer = client.post("/v1/repairability", json=CASE)
    problem(answer, 500, "internal-error")
    assert "secret" not in answer.text


def test_too_many_requests_keep_their_retry_after(client: TestClient[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(_case: object) -> None:
        raise TooManyRequestsException(headers={"Retry-After": "7"})

    monkeypatch.setattr(repairability, "check_repairability", refuse)
    answer = client.post("/v1/repairability", json=CASE)
    problem(answer, 429, "too-many-requests")
    assert answer.headers["retry-after"] == "7"


def test_before_its_start_the_service_is_not_ready() -> None:
    client = TestClient(create_app())  # not entered: the application was never started
    problem(client.get("/health/ready"), 503, "unavailable")
    assert client.get("/health/live").status_code == 200


def test_a_failure_outside_the_application_is_a_problem_too() -> None:
    async def broken(_scope: Any, _receive: Any, _send: Any) -> None:
        raise RuntimeError("broken")

    problem(TestClient(Edge(broken, State({"unready": ""}))).get("/"), 500, "internal-error")


def test_no_more_faults_are_reported_than_anybody_mends_at_once(
    client: TestClient[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_case: object) -> None:
        raise CaseError([(f"/injuries/{index}", "no") for index in range(150)])

    monkeypatch.setattr(repairability, "check_repairability", refuse)
    given = problem(client.post("/v1/repairability", json=CASE), 422, "impossible-case")
    assert [fault.pointer for fault in given.errors] == [f"/injuries/{index}" for index in range(100)]
