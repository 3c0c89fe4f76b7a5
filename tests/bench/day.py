"""A day's mix over HTTP: what one worker can answer, how late its answers are at 70 % of that, and what a second adds.

Four of five cases are checked (`/v1/repairability`), the fifth is planned (`/v1/repair-plans`). Requests of the open
loop go out when they are due, by a Poisson process with a fixed seed, whether or not others were answered: what waits
for its turn is late from the moment it was due.
"""

from __future__ import annotations

import asyncio
import json
import os
import tempfile
import time
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
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
"""Of the open loop."""

_ROUNDS: Final = 5
_ROUND_SECONDS: Final = 2.0
"""Of the closed loop, on one worker and on two in turn."""

_REPEATED: Final = 400
_WARMING_SECONDS: Final = 10.0
"""The closed loop asks these of the day's requests again and again: two workers, each of which keeps what it worked out
for itself, would else be compared with one that has seen twice as much."""

_CONNECTIONS: Final = 16
_SEED: Final = 20261126


class Load(NamedTuple):
    """How many requests were answered, and for how many seconds of the workers' CPU."""

    answered: float
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

    async def ask_on(connection: _Connection, number: int) -> None:
        nonlocal answered
        random = Random(number)
        while time.perf_counter() < until:
            assert await connection.ask(random.choice(sent))
            answered += 1

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


class _Cores(NamedTuple):
    """Cores of the workers and of the load tool: one of its own, where two are left without it."""

    of_workers: Sequence[int]
    of_load_tool: Sequence[int]

    @property
    def apart(self) -> bool:
        return self.of_workers != self.of_load_tool


@contextmanager
def _cores() -> Iterator[_Cores]:
    """Yield who is to run where; this process, and what it starts, has the workers' cores until it takes its own."""
    there_are = sorted(os.sched_getaffinity(0))
    shared = len(there_are) < 3
    cores = _Cores(there_are if shared else there_are[:-1], there_are if shared else there_are[-1:])
    os.sched_setaffinity(0, cores.of_workers)
    try:
        yield cores
    finally:
        os.sched_setaffinity(0, there_are)


class _Service(NamedTuple):
    """Where a service answers, and the processes that it answers from."""

    port: int
    processes: Sequence[int]

    def loaded(self, sent: Sequence[bytes], seconds: float) -> Load:
        """Return what is answered under the closed loop, and for how much CPU."""
        before = sum(map(cpu_seconds, self.processes))
        rate = uvloop.run(closed_loop(self.port, sent, seconds))
        return Load(rate * seconds, sum(map(cpu_seconds, self.processes)) - before)


@contextmanager
def _service(workers: int, sent: Sequence[bytes]) -> Iterator[_Service]:
    with tempfile.TemporaryDirectory() as folder, served("file", Path(folder), WORKERS=workers) as (process, port):
        uvloop.run(closed_loop(port, sent, _WARMING_SECONDS))
        yield _Service(port, [process.pid, *_children(process.pid)])
        process.terminate()  # and with it its workers
        process.wait(30)


def _children(process: int) -> list[int]:
    tasks = Path(f"/proc/{process}/task").glob("*/children")
    return [int(child) for task in tasks for child in task.read_text("ascii").split()]


def compare(report: Report) -> None:
    """Measure one worker and two on the same requests, in turn, so that a busy moment of the machine hits both."""
    sent = requests()
    again = sent[:_REPEATED]
    with _cores() as cores, _service(1, again) as one, _service(2, again) as two:
        os.sched_setaffinity(0, cores.of_load_tool)
        rounds = [(one.loaded(again, _ROUND_SECONDS), two.loaded(again, _ROUND_SECONDS)) for _ in range(_ROUNDS)]
        of_one, of_two = (
            Load(sum(load.answered for load in side), sum(load.cpu_seconds for load in side))
            for side in zip(*rounds, strict=True)
        )
        seconds = _ROUNDS * _ROUND_SECONDS
        capacity = one.loaded(sent, _SECONDS / 4).answered / (_SECONDS / 4)
        late = uvloop.run(open_loop(one.port, sent, _SHARE * capacity, _SECONDS))
    for name, share, asked in (("p50", 0.5, ""), ("p99", 0.99, "under 10 ms"), ("p99.9", 0.999, "")):
        what = f"a day's mix at {_SHARE:.0%} of capacity, open loop: {name}"
        report.add(what, f"{late[int(share * len(late))]:.2f} ms", asked=asked)
    where = f"load tool on core {cores.of_load_tool[0]}" if cores.apart else "load tool on the workers' cores"
    report.add(f"a day's mix, one worker, {where}", f"{of_one.answered / seconds:.0f} a second")
    report.add(
        f"a day's mix, two workers, {where}",
        f"{of_two.answered / seconds:.0f} a second",
        "one worker",
        of_two.answered / of_one.answered,
        "at least 1.80" if cores.apart else "",
    )
    # Where the load tool has no core of its own, as on two cores, what the workers do in a second of CPU is comparable.
    of_one_cpu, of_two_cpu = of_one.answered / of_one.cpu_seconds, of_two.answered / of_two.cpu_seconds
    report.add(
        "the same, for a second of their CPU",
        f"{of_two_cpu:.0f}",
        "one worker",
        2 * of_two_cpu / of_one_cpu,
        "at least 1.80",
    )
