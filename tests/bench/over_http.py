"""Operations over HTTP, against an echo of the same body on the same server."""

from __future__ import annotations

import asyncio
import contextlib
import json
import socket
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Final, TypeAlias

import msgspec
from tests.bench.cases import FULL, TWO_FACTS
from tests.bench.mix import draw
from tests.bench.report import Report

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repairability import check_repairability

_CONNECTIONS = 16
_SECONDS = 2.0
_ROUNDS = 5
_BATCH = 1000
_OF_THE_DAY = 2000
"""How many cases of a day's mix are sent, again and again."""
_BATCH_PATH = "/v1/repairability/batch"
_LAST_CHUNK: Final = b"0\r\n\r\n"
_RATIOS: Final = {
    "/v1/repairability": "at least 0.70, aim 0.85",
    "/v1/repair-plans": "at least 0.50, aim 0.70",
}
"""Of the echo's rate, what is asked of each operation."""
_ROOT = Path(__file__).parents[2]


Sent: TypeAlias = list[tuple[bytes, int | None]]
"""Requests, each with the bytes of its answer; none of one in chunks, whose number varies."""


class _Caller(asyncio.Protocol):
    """Sends requests in turn, each when the answer to the one before has arrived, from somewhere in their list on."""

    def __init__(self, sent: Sent, start: int, until: float) -> None:
        self.sent, self.place, self.until = sent, start, until
        self.request, self.answer_bytes = sent[start]
        self.answered = self.received = 0
        self.tail = b""
        self.done: asyncio.Future[None] = asyncio.get_running_loop().create_future()

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        assert isinstance(transport, asyncio.Transport)
        self.transport = transport
        transport.write(self.request)

    def data_received(self, data: bytes) -> None:
        self.received += len(data)
        if self.answer_bytes is None:
            self.tail = (self.tail + data)[-len(_LAST_CHUNK) :]
            if self.tail != _LAST_CHUNK:
                return
        else:
            if self.received < self.answer_bytes:
                return
            assert self.received == self.answer_bytes, "an answer of another length"
        self.received = 0
        self.answered += 1
        self.place = (self.place + 1) % len(self.sent)
        self.request, self.answer_bytes = self.sent[self.place]
        if time.perf_counter() < self.until:
            self.transport.write(self.request)
        else:
            self.transport.close()
            self.done.set_result(None)


def request_of(path: str, body: bytes) -> bytes:
    """A request as it goes over the wire; the request id keeps answers of one length."""
    head = f"POST {path} HTTP/1.1\r\nHost: bench\r\nX-Request-Id: bench\r\nContent-Type: application/json\r\n"
    return head.encode() + f"Content-Length: {len(body)}\r\n\r\n".encode() + body


def answer_length(port: int, request: bytes) -> int | None:
    """Bytes of the answer to a request, which must be a success; none of one in chunks, whose number varies."""
    with socket.create_connection(("127.0.0.1", port)) as connection:
        connection.sendall(request)
        answer = b""
        while b"\r\n\r\n" not in answer:
            answer += connection.recv(65536)
        head, _, rest = answer.partition(b"\r\n\r\n")
        assert head.startswith(b"HTTP/1.1 200"), head.decode()
        if b"transfer-encoding: chunked" in head.lower():
            return None
        length = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0])
        return len(head) + 4 + length if len(rest) <= length else len(answer)


async def _rate(port: int, sent: Sent) -> float:
    loop = asyncio.get_running_loop()
    began = time.perf_counter()
    callers = []
    for number in range(_CONNECTIONS):
        start = number * len(sent) // _CONNECTIONS
        _, caller = await loop.create_connection(
            lambda start=start: _Caller(sent, start, began + _SECONDS),  # type: ignore[misc]
            "127.0.0.1",
            port,
        )
        callers.append(caller)
    await asyncio.gather(*(caller.done for caller in callers))
    return sum(caller.answered for caller in callers) / (time.perf_counter() - began)


@contextlib.contextmanager
def served() -> Iterator[int]:
    """The service with its echo, on a free loopback port."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port: int = free.getsockname()[1]
    command = [sys.executable, "-m", "uvicorn", "tests.bench.server:app", "--port", str(port), "--no-access-log"]
    server = subprocess.Popen([*command, "--log-level", "warning"], cwd=_ROOT)
    try:
        for _ in range(100):
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port)):
                break
            time.sleep(0.1)
        yield port
    finally:
        server.terminate()
        server.wait(10)


def _of_the_day() -> Iterator[bytes]:
    """Yield the bodies of the day's mix that are answered, up to as many as are sent."""
    answered = 0
    for body in draw():
        with contextlib.suppress(CaseError):
            check_repairability(msgspec.convert(body, Case))
            yield json.dumps(body).encode()
            answered += 1
        if answered == _OF_THE_DAY:
            return


def compare(report: Report) -> None:
    """Measure each operation in turn with the echo, round by round, and compare the medians."""
    bodies = {
        "a full case": [json.dumps(FULL).encode()],
        "two facts": [json.dumps(TWO_FACTS).encode()],
        "a day's mix": list(_of_the_day()),
    }
    batches = {"a full case": [FULL] * _BATCH, "a day's mix": draw(_BATCH)}
    with served() as port:
        requests = {
            (path, what): [request_of(path, body) for body in some]
            for what, some in bodies.items()
            for path in ("/v1/echo", *_RATIOS)
        } | {
            (_BATCH_PATH, what): [request_of(_BATCH_PATH, json.dumps({"items": items}).encode())]
            for what, items in batches.items()
        }
        calls: dict[tuple[str, str], Sent] = {
            call: [(request, answer_length(port, request)) for request in some] for call, some in requests.items()
        }
        rates: dict[tuple[str, str], list[float]] = {call: [] for call in calls}
        for _ in range(_ROUNDS):
            for call, sent in calls.items():
                rates[call].append(asyncio.run(_rate(port, sent)))
    for what in bodies:
        echo = statistics.median(rates["/v1/echo", what])
        report.add(f"echo of {what}", f"{echo:.0f} a second")
        for path, ratio in _RATIOS.items():
            rate = statistics.median(rates[path, what])
            report.add(f"POST {path}, {what}", f"{rate:.0f} a second", "echo", rate / echo, ratio)
    for what, asked in (("a full case", "at least 15,000"), ("a day's mix", "at least 6,000, aim 12,000")):
        decided = statistics.median(rates[_BATCH_PATH, what]) * _BATCH
        report.add(f"decisions by batches of {_BATCH}, {what}", f"{decided:.0f} a second", asked=f"{asked} a second")
