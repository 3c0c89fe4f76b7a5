"""HTTP byte for byte, as callers speak it that are not ours: offers of HTTP/2, hosts, stalled readers, full hands."""

from __future__ import annotations

import json
import socket
import time
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from typing import Any

import pytest
from structlog.testing import capture_logs
from tests.contract.live import served

from mendgauge.server import create_app
from mendgauge.settings import Settings

BODY = b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}}'
KEPT = b"Host: mendgauge.example\r\nContent-Type: application/json\r\n"

# What java.net.http.HttpClient of OpenJDK 17 and 21 sends by default, recorded: one write for the head, then the body.
JAVA_HEAD = (
    b"POST /v1/repairability HTTP/1.1\r\nConnection: Upgrade, HTTP2-Settings\r\nContent-Length: 52\r\n"
    b"Host: 127.0.0.1:8340\r\nHTTP2-Settings: AAEAAEAAAAIAAAAAAAMAAAAAAAQBAAAAAAUAAEAAAAYABgAA\r\nUpgrade: h2c\r\n"
    b"User-Agent: Java-http-client/17.0.15\r\nContent-Type: application/json\r\n\r\n"
)
JAVA_CHUNKED_HEAD = (
    b"POST /v1/repairability HTTP/1.1\r\nConnection: Upgrade, HTTP2-Settings\r\n"
    b"Host: 127.0.0.1:8340\r\nHTTP2-Settings: AAEAAEAAAAIAAAAAAAMAAAAAAAQBAAAAAAUAAEAAAAYABgAA\r\n"
    b"Transfer-encoding: chunked\r\nUpgrade: h2c\r\nUser-Agent: Java-http-client/17.0.15\r\n"
    b"Content-Type: application/json\r\n\r\n"
)
JAVA_CHUNKS = [b"34\r\n" + BODY + b"\r\n", b"0\r\n\r\n"]


@pytest.fixture(scope="module")
def port() -> Iterator[int]:
    with served(create_app()) as address:
        yield int(address.rpartition(":")[2])


def connect(port: int) -> socket.socket:
    return socket.create_connection(("127.0.0.1", port), timeout=20)


def answer_on(connection: socket.socket) -> tuple[int, dict[str, str], bytes]:
    """The next answer: status, headers, body."""
    stream = connection.makefile("rb", buffering=0)
    status = int(stream.readline().split()[1])
    headers = {}
    while line := stream.readline().strip():
        name, _, value = line.partition(b":")
        headers[name.decode().lower()] = value.strip().decode()
    if headers.get("transfer-encoding") == "chunked":
        body = b""
        while size := int(stream.readline(), 16):
            body += read(stream, size)
            stream.readline()
        stream.readline()
        return status, headers, body
    return status, headers, read(stream, int(headers.get("content-length", "0")))


def read(stream: Any, size: int) -> bytes:
    got = b""
    while len(got) < size:
        part = stream.read(size - len(got))
        assert part, "the answer ended too early"
        got += part
    return got


@pytest.mark.parametrize(
    "writes",
    [
        [JAVA_HEAD, BODY],
        [JAVA_HEAD + BODY],
        [JAVA_HEAD, BODY[:10], BODY[10:]],
        [JAVA_HEAD[:90], JAVA_HEAD[90:] + BODY[:1], BODY[1:]],
        [JAVA_CHUNKED_HEAD, *JAVA_CHUNKS],
        [JAVA_CHUNKED_HEAD + b"".join(JAVA_CHUNKS)],
    ],
    ids=["two writes", "one write", "body in parts", "head in parts", "chunked", "chunked in one write"],
)
def test_the_default_client_of_java_is_answered_again_and_again(port: int, writes: list[bytes]) -> None:
    """RFC 9110, 7.8: a server may ignore an offer of another protocol."""
    with connect(port) as connection:
        for _ in range(3):
            for part in writes:
                connection.sendall(part)
                time.sleep(0.02)
            status, headers, body = answer_on(connection)
            assert status == 200, body
            assert "upgrade" not in headers
            assert json.loads(body)["verdict"] == "inspect"


def test_requests_behind_one_with_an_offer_are_answered_in_turn(port: int) -> None:
    plain = b"GET /health/live HTTP/1.1\r\nHost: mendgauge.example\r\n"
    offer = b"Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAMAAABk\r\n"
    with connect(port) as connection:
        connection.sendall(plain + b"\r\n" + JAVA_HEAD + BODY + plain + offer + b"\r\n" + plain + b"\r\n")
        assert [answer_on(connection)[0] for _ in range(4)] == [200, 200, 200, 200]


def test_a_thousand_offers_in_one_write_are_declined_one_by_one(port: int) -> None:
    request = b"GET /health/live HTTP/1.1\r\nHost: a\r\nConnection: upgrade\r\nUpgrade: h2c\r\n\r\n"
    with connect(port) as connection:
        connection.sendall(request * 1500)
        got = bytearray()
        while got.count(b"HTTP/1.1 200 OK") < 1500:
            part = connection.recv(65_536)
            assert part, "the connection was closed"
            got += part


def test_an_offer_beside_a_close_is_answered_and_the_connection_closed(port: int) -> None:
    head = JAVA_HEAD.replace(b"Upgrade, HTTP2-Settings", b"close, Upgrade, HTTP2-Settings")
    with connect(port) as connection:
        connection.sendall(head + BODY)
        status, headers, _ = answer_on(connection)
        assert (status, headers["connection"]) == (200, "close")
        assert connection.recv(1) == b""


def test_a_websocket_and_a_tunnel_are_not_opened(port: int) -> None:
    for request, status in [
        (b"GET /health/live HTTP/1.1\r\nHost: a\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n", 200),
        (b"CONNECT a:80 HTTP/1.1\r\nHost: a:80\r\n\r\n", 400),
    ]:
        with connect(port) as connection:
            connection.sendall(request)
            assert answer_on(connection)[0] == status


# RFC 9112, 3.2: a request of HTTP/1.1 has one Host; one without, or with several, is answered with 400.
@pytest.mark.parametrize(
    ("head", "status"),
    [
        (b"GET /health/live HTTP/1.1\r\nHost: a\r\n\r\n", 200),
        (b"GET /health/live HTTP/1.1\r\nHost:\r\n\r\n", 200),
        (b"GET /health/live HTTP/1.1\r\n\r\n", 400),
        (b"GET /health/live HTTP/1.1\r\nHost: a\r\nHost: a\r\n\r\n", 400),
        (b"GET /health/live HTTP/1.1\r\nHost: a\r\nhOST: b\r\n\r\n", 400),
        (b"GET /health/live HTTP/1.0\r\n\r\n", 200),
        (b"GET /health/live HTTP/1.0\r\nHost: a\r\nHost: b\r\n\r\n", 400),
    ],
)
def test_a_request_has_one_host(port: int, head: bytes, status: int) -> None:
    with connect(port) as connection:
        connection.sendall(head)
        got, headers, body = answer_on(connection)
        assert got == status
        if status == 400:
            assert headers["content-type"] == "application/problem+json"
            assert json.loads(body)["request_id"] == headers["x-request-id"]
            assert "Host" in json.loads(body)["detail"]


def test_bodies_under_way_are_bounded_together_and_given_back() -> None:
    """While others hold all that may be held, one more is asked to come again; once they are gone it is taken."""
    body = BODY[:-1] + b"," + b" " * 900 + b'"detail":"full"}'
    head = b"POST /v1/repairability HTTP/1.1\r\n" + KEPT + b"Content-Length: %d\r\n\r\n" % len(body)
    with served(create_app(Settings(max_body_bytes=1024))) as address:
        port = int(address.rpartition(":")[2])
        with ExitStack() as stack:
            for _ in range(5):
                slow = stack.enter_context(connect(port))
                slow.sendall(head + body[:-1])
            refused, headers = until(port, head + body, 503)
            assert json.loads(refused)["type"] == "/problems/too-much-under-way"
            assert int(headers["retry-after"]) >= 1
        until(port, head + body, 200)
        for _ in range(20):
            with connect(port) as connection:
                connection.sendall(head + body)
                assert answer_on(connection)[0] == 200


def until(port: int, request: bytes, wanted: int) -> tuple[bytes, dict[str, str]]:
    """Send a request until it is answered with a status: what else is under way takes a moment to arrive or go."""
    for _ in range(200):
        with connect(port) as connection:
            connection.sendall(request)
            status, headers, body = answer_on(connection)
            if status == wanted:
                return body, headers
        time.sleep(0.02)
    raise AssertionError(f"never answered with {wanted}")


def test_a_caller_that_does_not_read_is_cut_off() -> None:
    body = b'{"items":[' + b",".join([BODY] * 1000) + b"]}"
    head = b"POST /v1/repair-plans/batch HTTP/1.1\r\n" + KEPT + b"Content-Length: %d\r\n\r\n" % len(body)
    app = create_app(Settings(body_seconds=1))
    with served(app) as address, capture_logs() as lines, socket.socket() as connection:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        connection.connect(("127.0.0.1", int(address.rpartition(":")[2])))
        connection.sendall(head + body)
        for _ in range(500):
            if any("does not read" in line["event"] for line in lines):
                break
            time.sleep(0.02)
        else:
            raise AssertionError("it was never cut off")
        connection.settimeout(20)
        got = bytearray()
        with suppress(ConnectionResetError):
            while part := connection.recv(65_536):
                got += part
        assert not got.endswith(b"0\r\n\r\n"), "it was answered whole"
