"""A day's mix over HTTP: what one worker can answer, how late its answers are at 70 % of that, and what a second adds.

Four of five cases are checked (`/v1/repairability`), the fifth is planned (`/v1/repair-plans`). Requests of the open
loop go out when they are due, by a Poisson process with a fixed seed, whether or not others were answered: what waits
for its turn is late from the moment it was due.
"""

from __future__ import annotations

import asyncio
import json
import tempfile
import time
from collections import deque
from collections.abc import Sequence
from pathlib import Path
from random import Random
from typing import Final, NamedTuple, cast

import uvloop
from tests.bench.mix import draw
from tests.bench.over_http import request_of
from tests.bench.report import Report
from tests.torture.measured import cpu_seconds
from tests.torture.stops import served

_CASES: Final = 2_000
_SHARE: Final = 0.7
"""Of capacity, under which the open loop runs."""

_SECONDS: Final = 20.0
_CONNECTIONS: Final = 16
_SEED: Final = 20261126


class Load(NamedTuple):
    """What was answered: how many a second, and for how many seconds of the workers' CPU."""

    rate: float
    cpu_seconds: float


class _Connection(asyncio.Protocol):
    """A connection on which requests go out one at a time."""

    def __init__(self) -> None:
        self._answered: asyncio.Future[bool] | None = None
        self._fine = False
        self._left: int | None = None
        self._head = b""

    def connection_made(self, transport: asyncio.BaseTransport) -> None:
        self._transport = cast("asyncio.Transport", transport)

    def ask(self, request: bytes) -> asyncio.Future[bool]:
        """Send a request; the future says, with the last byte of the answer, whether it is as expected."""
        self._answered = asyncio.get_running_loop().create_future()
        self._head, self._left = b"", None
        self._transport.write(request)
        return self._answered

    def data_received(self, data: bytes) -> None:
        if self._left is None:
            self._head += data
            head, found, rest = self._head.partition(b"\r\n\r\n")
            if not found:
                return
            self._fine = head.startswith((b"HTTP/1.1 200", b"HTTP/1.1 422"))  # a day has contradictions in it
            self._left = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0]) - len(rest)
        else:
            self._left -= len(data)
        if self._left == 0:
            assert self._answered is not None
            self._answered.set_result(self._fine)

    def close(self) -> None:
        self._transport.close()


def requests() -> list[bytes]:
    """Return the requests of a part of the day."""
    paths = ("/v1/repairability", "/v1/repairability", "/v1/repairability", "/v1/repairability", "/v1/repair-plans")
    return [
        request_of(paths[number % len(paths)], json.dumps(case).encode()) for number, case in enumerate(draw(_CASES))
    ]


async def closed_loop(port: int, sent: Sequence[bytes], seconds: float) -> float:
    """Return how many requests a second are answered when each connection asks again at once."""
    connections = [await _connected(port) for _ in range(_CONNECTIONS)]
    until = time.perf_counter() + seconds
    answered = 0

    async def ask_on(connection: _Connection, first: int) -> None:
        nonlocal answered
        number = first
        while time.perf_counter() < until:
            assert await connection.ask(sent[number % len(sent)])
            answered += 1
            number += _CONNECTIONS

    began = time.perf_counter()
    await asyncio.gather(*(ask_on(connection, number) for number, connection in enumerate(connections)))
    took = time.perf_counter() - began
    for connection in connections:
        connection.close()
    return answered / took


async def open_loop(port: int, sent: Sequence[bytes], rate: float, seconds: float) -> list[float]:
    """Return how late each answer was, in ms from when its request was due, smallest first."""
    random = Random(_SEED)
    idle = deque([await _connected(port) for _ in range(_CONNECTIONS)])
    late: list[float] = []

    async def ask(due: float, request: bytes) -> None:
        connection = idle.popleft() if idle else await _connected(port)
        assert await connection.ask(request)
        late.append(1000 * (time.perf_counter() - due))
        idle.append(connection)

    began = due = time.perf_counter()
    under_way: set[asyncio.Task[None]] = set()
    while due < began + seconds:
        due += random.expovariate(rate)
        await asyncio.sleep(max(0.0, due - time.perf_counter()))
        task = asyncio.create_task(ask(due, random.choice(sent)))
        under_way.add(task)
        task.add_done_callback(under_way.discard)
    await asyncio.gather(*under_way)
    for connection in idle:
        connection.close()
    return sorted(late)


async def _connected(port: int) -> _Connection:
    _, connection = await asyncio.get_running_loop().create_connection(_Connection, "127.0.0.1", port)
    return connection


def _loaded(workers: int, sent: Sequence[bytes], report: Report | None = None) -> Load:
    """Return what so many workers answer; of one worker, put down how late it is under the open loop too."""
    with tempfile.TemporaryDirectory() as folder, served("file", Path(folder), WORKERS=workers) as (process, port):
        uvloop.run(closed_loop(port, sent, 2.0))  # what is kept between cases is kept now
        ids = [process.pid, *_children(process.pid)]
        before = sum(map(cpu_seconds, ids))
        rate = uvloop.run(closed_loop(port, sent, _SECONDS / 4))
        load = Load(rate, (sum(map(cpu_seconds, ids)) - before) / (_SECONDS / 4))
        if report is not None:
            late = uvloop.run(open_loop(port, sent, _SHARE * rate, _SECONDS))
            for name, share, asked in (("p50", 0.5, ""), ("p99", 0.99, "under 10 ms"), ("p99.9", 0.999, "")):
                what = f"a day's mix at {_SHARE:.0%} of capacity, open loop: {name}"
                report.add(what, f"{late[int(share * len(late))]:.2f} ms", asked=asked)
        process.terminate()  # and with it its workers
        process.wait(30)
    return load


def _children(process: int) -> list[int]:
    tasks = Path(f"/proc/{process}/task").glob("*/children")
    return [int(child) for task in tasks for child in task.read_text("ascii").split()]


def compare(report: Report) -> None:
    """Measure one worker, then two, on the same requests."""
    sent = requests()
    one = _loaded(1, sent, report)
    two = _loaded(2, sent)
    report.add("a day's mix, one worker", f"{one.rate:.0f} a second")
    report.add("a day's mix, two workers", f"{two.rate:.0f} a second", "one worker", two.rate / one.rate)
    # Where the load tool has no core of its own, as on two cores, what the workers do in a second of CPU is comparable.
    each = (two.rate / two.cpu_seconds) / (one.rate / one.cpu_seconds)
    report.add(
        "the same, for a second of their CPU",
        f"{two.rate / two.cpu_seconds:.0f}",
        "one worker",
        2 * each,
        "at least 1.80",
    )
