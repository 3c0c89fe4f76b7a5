"""Clients that do not behave: slow, half-closed, pipelining, smuggling, upgrading, forging, and too many."""

from __future__ import annotations

import json
import re
import socket
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from tests.torture.batches import Watch
from tests.torture.stops import CASE, LIVE, REQUEST, served
from tests.torture.table import Row
from tests.torture.wire import LATENCY_SECONDS_MAX, Answer, Connection, at_once, request

_CUT_SECONDS = 1.0
"""How long the service that slow clients call lets a head or a body take."""

_POST: Final = "POST /v1/repairability HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
_SMUGGLED: Final = b"GET /health/live HTTP/1.1\r\nHost: x\r\nX-Request-Id: smuggled\r\n\r\n"
_AFTER: Final = b"GET /health/live HTTP/1.1\r\nHost: x\r\nX-Request-Id: after\r\nConnection: close\r\n\r\n"

_LENGTH: Final = f"Content-Length: {len(CASE)}"
_AMBIGUOUS: Final = (
    # Two ways to say where the body ends, or one that another parser reads differently (RFC 9112, 6.1, 6.3, 11.2).
    f"{_LENGTH}\r\nTransfer-Encoding: chunked",
    f"Transfer-Encoding: chunked\r\n{_LENGTH}",
    f"{_LENGTH}\r\nContent-Length: 0",
    f"Content-Length: 0\r\n{_LENGTH}",
    f"Content-Length: 0, {len(CASE)}",
    f"Content-Length: +{len(CASE)}",
    f"Content-Length: -{len(CASE)}",
    f"Content-Length: {hex(len(CASE))}",
    f"Content-Length: {len(CASE)}.0",
    f"Content-Length : {len(CASE)}\r\nContent-Length: 0",
    "Content-Length: 18446744073709551617",
    f"Transfer-Encoding: xchunked\r\n{_LENGTH}",
    f"Transfer-Encoding: chunked, identity\r\n{_LENGTH}",
    f"Transfer-Encoding: identity\r\n{_LENGTH}",
    f"Transfer-Encoding : chunked\r\n{_LENGTH}",
    f"Transfer-Encoding:\x0bchunked\r\n{_LENGTH}",
    f"Transfer-Encoding:\r\n chunked\r\n{_LENGTH}",
    f"X: y\rTransfer-Encoding: chunked\r\n{_LENGTH}",
    f"X: y\nTransfer-Encoding: chunked\r\n{_LENGTH}",
    f"{_LENGTH}\r\nTransfer-Encoding: chunked\r\nTransfer-Encoding: identity",
)
_CHUNKED: Final = (
    # Chunks whose size another parser may read differently.
    b"0x0\r\n\r\n",
    b"+0\r\n\r\n",
    b"-0\r\n\r\n",
    b"0\n\n",
    b"0 \r\n\r\n",
    b"10000000000000000\r\n\r\n",
    b"0;\n\r\n\r\n",
    b"1\r\n{}\r\n0\r\n\r\n",
)
_UPGRADES: Final = (
    "Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\nSec-WebSocket-Key: bW9ybmluZy1pbnRha2U=",
    "Connection: Upgrade, HTTP2-Settings\r\nUpgrade: h2c\r\nHTTP2-Settings: AAMAAABkAARAAAAAAAIAAAAA",
    "Connection: upgrade\r\nUpgrade: TLS/1.0, HTTP/1.1",
    "Upgrade: websocket",
    "Connection: Upgrade",
    "Connection: keep-alive, Upgrade, close, Upgrade\r\nUpgrade: h2c, h2c, websocket",
)
_FORGED: Final = (
    'x","event":"forged","status":"200',
    "x\x1b[2Jforged",
    "x\\nforged",
    "x\x85forged",
    "x\x0bforged",
    "x\tforged",
    "{'event': 'forged'}",
    "forged" * 100,
    'x\r\n {"event": "forged"}',
    "%0d%0aforged",
    "x\xa0forged",
)


def misbehaving(folder: Path) -> Iterator[Row]:
    """Try every kind of client, each against a service of its own where its settings differ."""
    with served("file", folder, HEAD_SECONDS=_CUT_SECONDS, BODY_SECONDS=_CUT_SECONDS) as (_, port):
        yield from _slow(port)
    with served("file", folder) as (_, port):
        yield Row("half-closed clients, the request whole", [_half_closed(port, REQUEST) for _ in range(500)], 1, "s")
        cut = REQUEST[:-7]
        yield Row("half-closed clients in the middle of a body", [_left(port, cut) for _ in range(500)], 1, "s")
        yield Row("pipelines of 20 requests", [_pipelined(port, 20) for _ in range(100)], LATENCY_SECONDS_MAX, "s")
        yield Row("1,000 open connections, 50 asking at a time", _thousand(port), LATENCY_SECONDS_MAX, "s")
        yield Row("smuggling pairs", [*_smuggling(port)], LATENCY_SECONDS_MAX, "s")
        yield Row("offers to upgrade", [*_upgrades(port)], LATENCY_SECONDS_MAX, "s")
        yield Row("log lines forged through X-Request-Id and paths", [*_forging(port)], LATENCY_SECONDS_MAX, "s")
    lines = (folder / "log").read_bytes().splitlines()
    yield Row("lines of the log that are not one object of its own", [_line(line) for line in lines], 0, "")


def _slow(port: int) -> Iterator[Row]:
    """Yield how late slow clients were cut off, and how long health took meanwhile."""
    with Watch(port) as watch:
        heads = at_once(200, lambda number: _drip(port, REQUEST[: len(REQUEST) - len(CASE) - 2], number))
        bodies = at_once(200, lambda number: _drip(port, REQUEST[-len(CASE) :], number, REQUEST[: -len(CASE)]))
    grace = 2.0  # connections are looked at once a second
    yield Row("slow heads: cut off after", heads, _CUT_SECONDS + grace, "s")
    yield Row("slow bodies: cut off after", bodies, _CUT_SECONDS + grace, "s")
    yield Row("slow clients: health meanwhile", watch.took, LATENCY_SECONDS_MAX, "s")


def _drip(port: int, slowly: bytes, number: int, before: bytes = b"") -> float | None:
    """Return the seconds until the service gave up a request whose bytes come one by one."""
    connection = Connection(port)
    connection.socket.settimeout(0.1 + number % 7 / 100)
    connection.send(before)
    began = time.monotonic()
    for byte in slowly:
        try:
            if not connection.socket.recv(65_536):
                return time.monotonic() - began
        except TimeoutError:
            connection.send(bytes((byte,)))
        except ConnectionResetError:
            return time.monotonic() - began
    return None


def _half_closed(port: int, sent: bytes) -> float | None:
    """Return the seconds until a client that has closed its own half has its answer."""
    connection = Connection(port)
    began = time.monotonic()
    connection.send(sent)
    connection.socket.shutdown(socket.SHUT_WR)
    answer = connection.answer()
    connection.close()
    return time.monotonic() - began if answer is not None and answer.in_order else None


def _left(port: int, sent: bytes) -> float | None:
    """Return the seconds until the service lets go of a client that closed its half in the middle of a request."""
    connection = Connection(port)
    began = time.monotonic()
    connection.send(sent)
    connection.socket.shutdown(socket.SHUT_WR)
    answers = [*connection.answers()]
    connection.close()
    return time.monotonic() - began if all(answer.status == 400 for answer in answers) else None


def _pipelined(port: int, how_many: int) -> float | None:
    """Return the seconds until many requests in one write are all answered, in their order."""
    connection = Connection(port)
    began = time.monotonic()
    ids = [f"{number}" for number in range(how_many)]
    connection.send(b"".join(request("/v1/repairability", CASE, f"X-Request-Id: {name}") for name in ids))
    answers = [connection.answer() for _ in ids]
    took = time.monotonic() - began
    connection.close()
    return took if [_id(answer) for answer in answers] == ids else None


def _thousand(port: int) -> list[float | None]:
    """Return how long each of a thousand connections, all open, waited for the answer to its request."""
    connections = [Connection(port) for _ in range(1000)]
    took: list[float | None] = []
    for first in range(0, len(connections), 50):
        began = time.monotonic()
        asking = connections[first : first + 50]
        for connection in asking:
            connection.send(REQUEST)
        for connection in asking:
            answer = connection.answer()
            took.append(time.monotonic() - began if answer is not None and answer.status == 200 else None)
    for connection in connections:
        connection.close()
    return took


def _smuggling(port: int) -> Iterator[float | None]:
    """Yield how long each pair took; none, where the request hidden in a body was answered as one of its own."""
    for framing in _AMBIGUOUS:
        head = f"{_POST}{framing}\r\n\r\n".encode("latin-1")
        for body in (CASE + _SMUGGLED, b"0\r\n\r\n" + _SMUGGLED):
            yield _pair(port, head + body)
    for chunks in _CHUNKED:
        head = f"{_POST}Transfer-Encoding: chunked\r\n\r\n".encode("latin-1")
        yield _pair(port, head + chunks + _SMUGGLED)


def _pair(port: int, sent: bytes) -> float | None:
    connection = Connection(port)
    began = time.monotonic()
    connection.send(sent + _AFTER)
    answers = [*connection.answers()]
    connection.close()
    took = time.monotonic() - began
    refused = bool(answers) and answers[0].status == 400 and len(answers) == 1
    return took if refused and answers[0].in_order and _id(answers[0]) != "smuggled" else None


def _upgrades(port: int) -> Iterator[float | None]:
    """Yield how long each request took beside an offer of another protocol: it is answered as if there were none."""
    for offer in _UPGRADES:
        for before, body in ((_POST + _LENGTH + "\r\n", CASE), (LIVE[:-2].decode(), b"")):
            connection = Connection(port)
            began = time.monotonic()
            connection.send(f"{before}{offer}\r\n\r\n".encode() + body)
            answer = connection.answer()
            connection.close()
            yield time.monotonic() - began if answer is not None and answer.status == 200 else None
    for refused in (b"CONNECT x:80 HTTP/1.1\r\nHost: x\r\n\r\n", b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"):
        connection = Connection(port)
        began = time.monotonic()
        connection.send(refused)
        answer = connection.answer()
        connection.close()
        yield time.monotonic() - began if answer is not None and answer.in_order and answer.status >= 400 else None


def _forging(port: int) -> Iterator[float | None]:
    """Yield how long each request took whose id or path tries to write to the log; the id must not come back."""
    for text in _FORGED:
        for line, header in ((f"GET /health/live?{text}", "after"), ("GET /health/live", text)):
            connection = Connection(port)
            began = time.monotonic()
            connection.send(f"{line} HTTP/1.1\r\nHost: x\r\nX-Request-Id: {header}\r\n\r\n".encode("latin-1"))
            answer = connection.answer()
            connection.close()
            forged = answer is None or not answer.in_order or "forged" in _id(answer)
            yield None if forged else time.monotonic() - began


def _line(line: bytes) -> float | None:
    """Return 0 for a line of the log that the service wrote itself, whole and about one thing."""
    try:
        entry = json.loads(line)
    except ValueError:
        return None
    return 0.0 if entry["event"] != "forged" and entry.get("request_id") != "smuggled" else None


def _id(answer: Answer | None) -> str:
    found = answer and re.search(rb"\r\nx-request-id: *([^\r]*)", answer.head, re.IGNORECASE)
    return found[1].decode("latin-1") if found else ""
