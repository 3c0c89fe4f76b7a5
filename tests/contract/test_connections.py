"""What a connection may cost: time, size and number are bounded without a proxy too."""

from __future__ import annotations

import json
import resource
import select
import socket
import struct
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from typing import Any

import pytest
import uvicorn
from tests.torture.stops import HALF_SENT, LIVE, REQUEST, free_port

from mendgauge.api.wire import MOST_HEAD_BYTES, Wire
from mendgauge.server import create_app
from mendgauge.settings import Settings

READY = b"GET /health/ready HTTP/1.1\r\nhost: x\r\n\r\n"


@contextmanager
def listening(**settings: Any) -> Iterator[tuple[str, int]]:
    """Serve in a thread; yield the address."""
    app = create_app(Settings(**settings))
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_config=None, http=Wire, proxy_headers=False))
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    try:
        yield server.servers[0].sockets[0].getsockname()
    finally:
        server.should_exit = True
        thread.join()


def rest_of(connection: socket.socket) -> bytes:
    return b"".join(iter(lambda: connection.recv(65_536), b""))


def keep_sending(connection: socket.socket) -> None:
    for _ in range(400):
        connection.send(b"G")
        time.sleep(0.05)


def asked(address: tuple[str, int], sent: bytes) -> bytes:
    with socket.create_connection(address, timeout=20) as connection:
        connection.sendall(sent)
        return connection.recv(65_536)


@pytest.mark.parametrize("begun", [b"", b"GET /health/live HT", LIVE.removesuffix(b"\r\n"), LIVE + b"GE"])
def test_headers_that_never_end_are_given_up(begun: bytes) -> None:
    with listening(head_seconds=0.2) as address, socket.create_connection(address, timeout=20) as connection:
        connection.sendall(begun)
        answer = rest_of(connection)
    if begun:
        problem = json.loads(answer.rpartition(b"\r\n\r\n")[2])
        assert (problem["status"], problem["type"]) == (408, "/problems/request-timeout")
    else:
        assert answer == b""


@pytest.mark.parametrize("path", ["/v1/repairability", "/nothing"])
def test_a_body_that_never_ends_is_given_up(path: str) -> None:
    sent = HALF_SENT.replace(b"/v1/repairability", path.encode())
    with listening(body_seconds=0.2) as address, socket.create_connection(address, timeout=20) as connection:
        connection.sendall(sent)
        for _ in range(100):  # a byte now and then is not enough
            if select.select([connection], [], [], 0.05)[0]:
                break
            with suppress(OSError):
                connection.sendall(b" ")
        with suppress(ConnectionResetError):
            head, _, body = rest_of(connection).partition(b"\r\n\r\n")
            assert head.startswith(b"HTTP/1.1 408 " if "v1" in path else b"HTTP/1.1 404 ")
            assert ("connection: close" in head.decode().lower()) or "v1" not in path
            assert json.loads(body)["request_id"] == "half-sent"


@pytest.mark.parametrize("sent", [LIVE, LIVE + b"\r\n"])
def test_a_connection_between_requests_is_closed_in_time(sent: bytes) -> None:
    with listening(idle_seconds=0.2) as address, socket.create_connection(address, timeout=20) as connection:
        connection.sendall(LIVE)
        assert connection.recv(65_536).startswith(b"HTTP/1.1 200")
        connection.sendall(sent.removeprefix(LIVE))
        assert rest_of(connection) == b""


def test_a_caller_who_takes_nothing_of_its_answers_is_cut_off() -> None:
    with listening(body_seconds=0.2) as address, socket.socket() as connection:
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_RCVBUF, 4096)
        connection.connect(address)
        connection.settimeout(20)
        connection.sendall(REQUEST * 2000)
        with pytest.raises((ConnectionResetError, BrokenPipeError)):
            keep_sending(connection)


@pytest.mark.parametrize("end", [b"\r\n\r\n", b""])
@pytest.mark.parametrize(
    "head", [b"GET / HTTP/1.1\r\nx: " + b"x" * MOST_HEAD_BYTES, b"GET /" + b"x" * MOST_HEAD_BYTES + b" HTTP/1.1"]
)
def test_headers_above_the_limit_are_431(head: bytes, end: bytes) -> None:
    with listening() as address:
        answer = asked(address, head + end)
        assert answer.startswith(b"HTTP/1.1 431 ")
        assert json.loads(answer.partition(b"\r\n\r\n")[2])["type"] == "/problems/headers-too-large"
        long = LIVE.replace(b"host: x", b"host: " + b"x" * 30_000)
        assert asked(address, long).startswith(b"HTTP/1.1 200 ")


def test_one_connection_too_many_takes_the_place_of_an_idle_one_else_only_health_is_answered() -> None:
    with listening(max_connections=2) as address:
        busy = [socket.create_connection(address, timeout=20) for _ in range(2)]
        for connection in busy:
            connection.sendall(HALF_SENT)
        time.sleep(0.2)
        assert asked(address, READY).startswith(b"HTTP/1.1 200 ")
        refused = asked(address, REQUEST)
        assert refused.startswith(b"HTTP/1.1 503 ")
        assert b"connection: close" in refused
        for connection in busy:
            connection.close()
        time.sleep(0.2)
        idle = [socket.create_connection(address, timeout=20) for _ in range(2)]
        for connection in idle:
            connection.sendall(LIVE)
            assert connection.recv(65_536).startswith(b"HTTP/1.1 200 ")
        time.sleep(1.5)
        assert asked(address, REQUEST).startswith(b"HTTP/1.1 200 ")
        for connection in idle:
            connection.close()


WITHOUT_PATIENCE = """
import mendgauge.cli
from mendgauge.__main__ import main

mendgauge.cli.LONGEST_REQUEST_SECONDS = 1  # for the requests that are under way when it is to stop
main()
"""


def test_without_open_files_to_spare_health_is_still_answered_and_it_still_stops() -> None:
    port = free_port()
    command = [sys.executable, "-c", WITHOUT_PATIENCE, "serve", "--port", str(port)]
    environment = {"MENDGAUGE_DRAIN_SECONDS": "0"}
    limit = (256, 256)

    def limited() -> None:
        resource.setrlimit(resource.RLIMIT_NOFILE, limit)

    with subprocess.Popen(command, stdout=subprocess.DEVNULL, env=environment, preexec_fn=limited) as process:
        held = []
        try:
            for _ in range(1000):
                with suppress(ConnectionRefusedError):
                    held.append(socket.create_connection(("127.0.0.1", port), timeout=20))
                    break
                time.sleep(0.05)
            for number in range(400):
                held.append(socket.create_connection(("127.0.0.1", port), timeout=20))
                held[-1].sendall(HALF_SENT)
                if number % 20 == 19:
                    assert asked(("127.0.0.1", port), READY).startswith(b"HTTP/1.1 200 ")
            process.terminate()
            assert process.wait(timeout=30) is not None
        finally:
            process.kill()
            for connection in held:
                connection.close()


def test_a_caller_that_leaves_while_its_requests_queue_is_no_failure(capfd: pytest.CaptureFixture[str]) -> None:
    with listening() as address:
        for _ in range(20):
            with socket.create_connection(address, timeout=20) as connection:
                connection.sendall(REQUEST * 50)
                connection.recv(1)
                # Closed with a reset, as a program that is killed closes it.
                connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
        assert asked(address, LIVE).startswith(b"HTTP/1.1 200 ")
    assert "Traceback" not in "".join(capfd.readouterr())
