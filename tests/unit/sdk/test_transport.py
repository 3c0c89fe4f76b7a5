"""How a call is written, how its answer is read, and what the client takes from its surroundings."""

from __future__ import annotations

import asyncio
import inspect
import socket
import threading
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import date
from typing import TYPE_CHECKING, Any

import httpx2
import msgspec
import pytest

from mendgauge_client import (
    AsyncMendgauge,
    Mendgauge,
    SettingsError,
    TimedOutError,
    Tyre,
    TyreCase,
    UnreachableError,
    __version__,
)
from mendgauge_client._call import Call, segment

if TYPE_CHECKING:
    from tests.unit.sdk.conftest import Scripted


def call(**parts: Any) -> Call[Any]:
    return Call(**{"method": "GET", "path": "/v1/ask", "answer": dict[str, str], **parts})


def test_a_body_goes_as_json(service: Scripted) -> None:
    case = TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V"), assessed_on=date(2026, 11, 24))
    service.ask(service.ANSWER, call=call(method="POST", body=case))
    (request,) = service.requests
    assert (request.method, str(request.url)) == ("POST", "http://tyres.example/v1/ask")
    assert request.headers["Content-Type"] == "application/json"
    assert msgspec.json.decode(request.content) == {
        "rulebook": "gb",
        "tyre": {"marking": "205/55R16 91V"},
        "assessed_on": "2026-11-24",
    }


def test_a_call_without_body_says_nothing_of_one(service: Scripted) -> None:
    service.ask(service.ANSWER, call=call())
    assert service.requests[0].content == b""
    assert "Content-Type" not in service.requests[0].headers


def test_parameters_are_written_as_the_wire_has_them_and_left_out_when_none(service: Scripted) -> None:
    params = {"marking": "LT 245/75R16 & more", "on": date(2026, 11, 24), "explain": True, "date_code": None}
    service.ask(service.ANSWER, call=call(params=params, headers={"If-None-Match": '"abc"', "If-Match": None}))
    assert dict(service.requests[0].url.params) == {
        "marking": "LT 245/75R16 & more",
        "on": "2026-11-24",
        "explain": "true",
    }
    assert service.requests[0].headers["If-None-Match"] == '"abc"'
    assert "If-Match" not in service.requests[0].headers


@pytest.mark.parametrize("value", ["gb", "gb@2026.1", "a/b?c#d", "früh", "..."])
def test_a_path_parameter_stays_one_segment(service: Scripted, value: str) -> None:
    service.ask(service.ANSWER, call=call(path=f"/v1/rulebooks/{segment(value)}/end"))
    assert service.requests[0].url.raw_path.count(b"/") == 4


@pytest.mark.parametrize("value", ["", ".", ".."])
def test_what_would_ask_for_another_path_is_refused(value: str) -> None:
    # RFC 3986, section 5.2.4: dot segments are taken out of a path together with what they point over.
    with pytest.raises(ValueError, match="cannot be part of a path"):
        segment(value)


@pytest.mark.parametrize(
    "address", ["http://tyres.example", "http://tyres.example/", "https://tyres.example:8443/api/"]
)
def test_paths_go_under_the_address(service: Scripted, address: str) -> None:
    service.ask(service.ANSWER, base_url=address)
    assert str(service.requests[0].url) == address.rstrip("/") + "/v1/ask"


def test_address_and_key_come_from_the_environment(service: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MENDGAUGE_URL", "http://depot.example")
    monkeypatch.setenv("MENDGAUGE_API_KEY", "key-of-the-depot")
    service.ask(service.ANSWER, base_url=None)
    service.ask(service.ANSWER, base_url="http://other.example", api_key="another-key")
    assert [request.url.host for request in service.requests] == ["depot.example", "other.example"]
    # RFC 6750, section 2.1: the header field of a bearer token.
    assert [request.headers["Authorization"] for request in service.requests] == [
        "Bearer key-of-the-depot",
        "Bearer another-key",
    ]


def test_no_key_no_authorization(service: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("MENDGAUGE_API_KEY", "")
    service.ask(service.ANSWER)
    assert "Authorization" not in service.requests[0].headers


@pytest.mark.parametrize(
    "address", [None, "", "tyres.example", "ftp://tyres.example", "http://", "http://tyres.example?x=1", "http://[::1"]
)
def test_an_address_that_is_none_is_reported(service: Scripted, address: str | None) -> None:
    with pytest.raises(SettingsError, match=r"http://"):
        service.ask(service.ANSWER, base_url=address)


@pytest.mark.parametrize("key", ["with space", "line\n", "schlüssel", "\x00"])
def test_a_key_that_cannot_be_sent_is_reported_but_not_shown(service: Scripted, key: str) -> None:
    with pytest.raises(SettingsError) as caught:
        service.ask(service.ANSWER, api_key=key)
    assert key not in str(caught.value)


def test_each_call_has_an_id_of_its_own_unless_given(service: Scripted) -> None:
    service.ask(service.ANSWER)
    service.ask(service.ANSWER)
    service.ask(service.ANSWER, request_id="DEPOT-3.000172")
    ids = [request.headers["X-Request-Id"] for request in service.requests]
    assert len(set(ids)) == 3
    assert ids[2] == "DEPOT-3.000172"


@pytest.mark.parametrize("request_id", ["", "with space", "x" * 65, "ü", "line\nbreak"])
def test_an_id_the_service_would_replace_is_reported_first(service: Scripted, request_id: str) -> None:
    with pytest.raises(ValueError, match="request_id"):
        service.ask(service.ANSWER, request_id=request_id)
    assert service.requests == []


def test_the_client_names_itself(service: Scripted) -> None:
    service.ask(service.ANSWER)
    assert service.requests[0].headers["User-Agent"].startswith(f"mendgauge-client/{__version__} python/3.")


def test_timeouts_are_the_clients_unless_the_call_has_its_own(service: Scripted) -> None:
    service.ask(service.ANSWER)
    service.ask(service.ANSWER, timeout=3)
    assert [request.extensions["timeout"]["read"] for request in service.requests] == [10.0, 3]


def test_a_reply_has_the_answer_and_what_it_came_in(service: Scripted) -> None:
    answer = httpx2.Response(
        200, json={"verdict": "repairable", "newer": [1]}, headers={"ETag": '"e1"', "X-Request-Id": "r1"}
    )
    reply = service.ask(answer)
    assert reply.answer.verdict == "repairable"
    assert (reply.status, reply.headers["etag"], reply.request_id) == (200, '"e1"', "r1")
    assert reply.response.json()["newer"] == [1]


def test_every_method_has_its_raw_form() -> None:
    with Mendgauge("http://tyres.example") as client:
        assert client.raw is client.raw
        assert public(type(client.raw)) == public(Mendgauge) - {"raw", "send", "close", "with_options"} - of_each()


def public(kind: type) -> set[str]:
    return {name for name in dir(kind) if not name.startswith("_")}


def of_each() -> set[str]:
    """The methods for any number of cases: many calls, so no one response."""
    return {name for name in public(Mendgauge) if name.endswith("_of_each")}


def test_the_two_clients_offer_the_same() -> None:
    assert public(Mendgauge) == public(AsyncMendgauge)
    assert of_each()
    for name in of_each():
        sync, asynchronous = getattr(Mendgauge, name), getattr(AsyncMendgauge, name)
        assert inspect.signature(sync).parameters.keys() == inspect.signature(asynchronous).parameters.keys()
        assert inspect.getdoc(sync) == inspect.getdoc(asynchronous), name
    assert Mendgauge.with_options is AsyncMendgauge.with_options
    for name in public(Mendgauge) - of_each() - {"raw", "with_options"}:
        sync, asynchronous = getattr(Mendgauge, name), getattr(AsyncMendgauge, name)
        assert inspect.signature(sync) == inspect.signature(asynchronous), name
        assert inspect.getdoc(sync) == inspect.getdoc(asynchronous), name
        assert inspect.iscoroutinefunction(asynchronous)
    assert inspect.signature(Mendgauge) == inspect.signature(AsyncMendgauge)


def test_an_own_http_client_is_left_open() -> None:
    with httpx2.Client() as own:
        Mendgauge("http://tyres.example", http_client=own).close()
        assert not own.is_closed


def test_a_client_closes_what_it_opened() -> None:
    with Mendgauge("http://tyres.example") as client:
        opened = client._http
    assert opened.is_closed

    async def use() -> httpx2.AsyncClient:
        async with AsyncMendgauge("http://tyres.example") as client:
            return client._http

    assert asyncio.run(use()).is_closed


@pytest.fixture
def listening() -> Iterator[Callable[[bytes | None], str]]:
    """Starts a server that answers every connection with those bytes, or with nothing, leaving it open, when None."""
    held: list[socket.socket] = []
    servers: list[socket.socket] = []

    def start(answer: bytes | None) -> str:
        server = socket.create_server(("127.0.0.1", 0))
        servers.append(server)

        def serve() -> None:
            while True:
                try:
                    connection, _ = server.accept()
                except OSError:
                    return
                held.append(connection)
                if answer is not None:
                    with closing(connection):
                        connection.recv(65536)
                        connection.sendall(answer)

        threading.Thread(target=serve, daemon=True).start()
        return f"http://127.0.0.1:{server.getsockname()[1]}"

    yield start
    for opened in (*servers, *held):
        opened.close()


CASE = TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V"))


def ask_over_a_socket(asynchronous: bool, address: str, **settings: Any) -> object:
    if not asynchronous:
        with Mendgauge(address, **settings) as client:
            return client.check_repairability(CASE)

    async def ask() -> object:
        async with AsyncMendgauge(address, **settings) as client:
            return await client.check_repairability(CASE)

    return asyncio.run(ask())


@pytest.mark.parametrize("asynchronous", [False, True])
def test_nobody_listening(asynchronous: bool) -> None:
    with closing(socket.create_server(("127.0.0.1", 0))) as server:
        address = f"http://127.0.0.1:{server.getsockname()[1]}"
    with pytest.raises(UnreachableError, match=f"^Check the service's address and that it runs: {address}/v1/"):
        ask_over_a_socket(asynchronous, address, retries=0)


@pytest.mark.parametrize("asynchronous", [False, True])
@pytest.mark.parametrize("answer", [b"", b"HTTP/1.1 200 OK\r\nContent-Length: 90\r\n\r\n{", b"not HTTP at all\r\n\r\n"])
def test_a_connection_that_breaks(listening: Callable[[bytes | None], str], asynchronous: bool, answer: bytes) -> None:
    with pytest.raises(UnreachableError, match="in 1 try"):
        ask_over_a_socket(asynchronous, listening(answer), retries=0)


@pytest.mark.parametrize("asynchronous", [False, True])
def test_a_service_that_never_answers(listening: Callable[[bytes | None], str], asynchronous: bool) -> None:
    with pytest.raises(TimedOutError, match="timeout="):
        ask_over_a_socket(asynchronous, listening(None), timeout=0.05)
