"""Load on a service: as fast as it answers (closed loop), or as requests become due (open loop)."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Iterable, Iterator
from random import Random
from typing import Final, NamedTuple, cast

CLOSED_CONNECTIONS: Final = 16
OPEN_CONNECTIONS: Final = 64
"""As many as a proxy would keep to a replica."""


class Answered(NamedTuple):
    """A request of the open loop: how long after it was due it was taken up, and answered, in seconds."""

    taken_up: float
    answered: float


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


async def _connected(port: int, connections: int) -> list[_Connection]:
    loop = asyncio.get_running_loop()
    return [(await loop.create_connection(_Connection, "127.0.0.1", port))[1] for _ in range(connections)]


async def closed_loop(port: int, requests: Iterator[bytes], seconds: float = float("inf")) -> float:
    """Return how many requests a second are answered when each connection asks the next one at once.

    It ends with the requests, or after so many seconds.
    """
    connections = await _connected(port, CLOSED_CONNECTIONS)
    answered = 0
    began = time.perf_counter()

    async def ask_on(connection: _Connection) -> None:
        nonlocal answered
        for request in requests:
            assert await connection.ask(request)
            answered += 1
            if time.perf_counter() > began + seconds:
                return

    await asyncio.gather(*map(ask_on, connections))
    took = time.perf_counter() - began
    for connection in connections:
        connection.close()
    return answered / took


async def open_loop(port: int, requests: Iterable[bytes], rate: float, random: Random) -> list[Answered]:
    """Return how late each request was answered that became due by a Poisson process of a rate a second."""
    connections = await _connected(port, OPEN_CONNECTIONS)
    idle: asyncio.Queue[_Connection] = asyncio.Queue()
    for connection in connections:
        idle.put_nowait(connection)
    clock = time.perf_counter

    async def ask(due: float, request: bytes) -> Answered:
        taken_up = clock() - due
        connection = await idle.get()
        assert await connection.ask(request)
        answered = clock() - due
        idle.put_nowait(connection)
        return Answered(taken_up, answered)

    due = clock()
    asked = []
    for request in requests:
        due += random.expovariate(rate)
        await asyncio.sleep(max(0.0, due - clock()))  # the loop's timers are up to a millisecond late
        asked.append(asyncio.create_task(ask(due, request)))
    answered = await asyncio.gather(*asked)
    for connection in connections:
        connection.close()
    return answered
