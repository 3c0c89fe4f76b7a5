"""Answers as they come over a connection: read whole, timed, and judged by what the contract promises of any answer."""

from __future__ import annotations

import re
import socket
import time
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from typing import NamedTuple

LATENCY_SECONDS_MAX = 1.0
_PATIENCE_S = 20
_LENGTH = re.compile(rb"\r\ncontent-length: *([0-9]+)", re.IGNORECASE)
_PROBLEM = re.compile(rb"\r\ncontent-type: *application/problem\+json", re.IGNORECASE)
_CLOSE = re.compile(rb"\r\nconnection: *close", re.IGNORECASE)


class Answer(NamedTuple):
    """The head and the body of an answer."""

    head: bytes
    body: bytes

    @property
    def status(self) -> int:
        return int(self.head[9:12])

    @property
    def closes(self) -> bool:
        return _CLOSE.search(self.head) is not None

    @property
    def in_order(self) -> bool:
        """Whether it is a success, or a problem that is not the service's own fault; a 503 is one of load."""
        if self.status >= 400:
            return (self.status < 500 or self.status == 503) and _PROBLEM.search(self.head) is not None
        return self.status >= 200


class Connection:
    """A connection to the service, on which answers are read one by one."""

    def __init__(self, port: int) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), timeout=_PATIENCE_S)
        self.socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        self._rest = b""

    def send(self, *parts: bytes) -> None:
        """Send bytes as far as the service takes them: it may answer, and close, before it has them all."""
        try:
            for part in parts:
                self.socket.sendall(part)
        except (BrokenPipeError, ConnectionResetError):
            pass

    def answer(self) -> Answer | None:
        """Return the next answer; None where the connection ended without a whole one."""
        while (end := self._rest.find(b"\r\n\r\n")) < 0:
            if not self._read():
                return None
        head, self._rest = self._rest[: end + 4], self._rest[end + 4 :]
        found = _LENGTH.search(head)
        length = int(found[1]) if found else 0
        while len(self._rest) < length:
            if not self._read():
                return None
        body, self._rest = self._rest[:length], self._rest[length:]
        return Answer(head, body)

    def answers(self) -> Iterator[Answer]:
        """Yield every answer until the service closes."""
        while answer := self.answer():
            yield answer

    def close(self) -> None:
        self.socket.close()

    def _read(self) -> bool:
        try:
            data = self.socket.recv(262_144)
        except OSError:
            return False
        self._rest += data
        return bool(data)


class Caller:
    """Sends requests one after another, on one connection for as long as the service keeps it."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._connection: Connection | None = None

    def ask(self, *parts: bytes) -> tuple[Answer | None, float]:
        """Return the answer to a request, and the seconds until it was whole."""
        connection = self._connection or Connection(self._port)
        began = time.monotonic()
        connection.send(*parts)
        answer = connection.answer()
        took = time.monotonic() - began
        if answer is None or answer.closes:
            connection.close()
            self._connection = None
        else:
            self._connection = connection
        return answer, took


def request(path: str, body: bytes, *headers: str, method: str = "POST") -> bytes:
    """Return a request with a body of JSON."""
    lines = [f"{method} {path} HTTP/1.1", "Host: x", "Content-Type: application/json", *headers]
    return "\r\n".join([*lines, f"Content-Length: {len(body)}", "", ""]).encode("latin-1") + body


def at_once(how_many: int, call: Callable[[int], float | None]) -> list[float | None]:
    """Return what each of many calls returns, all of them under way together."""
    with ThreadPoolExecutor(how_many) as pool:
        return list(pool.map(call, range(how_many)))
