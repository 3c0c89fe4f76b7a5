"""Eight callers of whole batches at once, and one who asks something short all the while."""

from __future__ import annotations

import http.client
import json
import socket
import threading
import time
from contextlib import suppress
from pathlib import Path

from tests.torture.bodies import filled, post
from tests.torture.measured import worked_seconds

CALLERS = 8
ITEMS = 1000
PEAK_MB_MAX = 240
HEALTH_SECONDS_MAX = 0.1

_EXAMPLE = Path(__file__).parents[2] / "openapi" / "examples" / "plan_repair" / "everything_for_the_counter.json"


def whole_batch(items: int = ITEMS) -> bytes:
    """Return a batch of whole cases, with stock and prices."""
    case = json.loads(_EXAMPLE.read_bytes())["request"]
    return json.dumps({"items": [case] * items}).encode()


def together(port: int, body: bytes, path: str = "/v1/repair-plans/batch") -> list[int]:
    """Send a body from every caller at once and return the statuses."""
    statuses: list[int] = []

    def call() -> None:
        with suppress(OSError):
            statuses.append(post(port, path, body))

    callers = [threading.Thread(target=call) for _ in range(CALLERS)]
    for caller in callers:
        caller.start()
    for caller in callers:
        caller.join()
    return statuses


def largest() -> bytes:
    """Return a body of the largest size whose items are all refused."""
    return filled(b'{"items":[{"a":"', b"x", b'"}]}', 8_388_608)


def unread(port: int, body: bytes) -> list[socket.socket]:
    """Send a body from every caller and read none of the answers."""
    stalled = []
    for _ in range(CALLERS):
        connection = socket.create_connection(("127.0.0.1", port), timeout=120)
        head = "POST /v1/repair-plans/batch HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
        connection.sendall(f"{head}Content-Length: {len(body)}\r\n\r\n".encode() + body)
        stalled.append(connection)
    return stalled


class Watch:
    """Asks for something all the while, health unless a body is given, and keeps how long each answer took.

    Of a `process` it keeps how long that one worked meanwhile, too: its share of the wait on a machine that is busy.
    """

    def __init__(
        self, port: int, path: str = "/health/ready", body: bytes | None = None, process: int | None = None
    ) -> None:
        self._port, self._path, self._body, self._process = port, path, body, process
        self._done = threading.Event()
        self._thread = threading.Thread(target=self._ask)
        self.took: list[float | None] = []
        self.worked: list[float | None] = []

    def __enter__(self) -> Watch:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._done.set()
        self._thread.join()

    def _ask(self) -> None:
        connection = http.client.HTTPConnection("127.0.0.1", self._port, timeout=120)
        while not self._done.wait(0.05):
            before, began = self._worked(), time.monotonic()
            method = "GET" if self._body is None else "POST"
            connection.request(method, self._path, self._body, {"Content-Type": "application/json"})
            answer = connection.getresponse()
            answer.read()
            took, worked = time.monotonic() - began, self._worked() - before
            self.took.append(took if answer.status == 200 else None)
            self.worked.append(worked if answer.status == 200 else None)
        connection.close()

    def _worked(self) -> float:
        return 0.0 if self._process is None else worked_seconds(self._process)
