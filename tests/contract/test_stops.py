"""SIGTERM ends the service, whatever is under way and wherever its log goes."""

from __future__ import annotations

import asyncio
import json
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import AsyncIterator, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path

import pytest
import uvicorn
from litestar import Litestar, get
from litestar.datastructures import State
from litestar.response import Stream
from litestar.types import ASGIApp
from tests.contract.running import Service, serve
from tests.torture.stops import HALF_SENT, LOGS, SENT, stop_under_load

from mendgauge.api.edge import Edge
from mendgauge.api.wire import Wire
from mendgauge.server import create_app


@pytest.mark.parametrize("log", LOGS)
@pytest.mark.parametrize("client", SENT)
def test_it_stops_under_load(log: str, client: str, tmp_path: Path) -> None:
    assert stop_under_load(log, client, tmp_path, patience=20) is not None


def test_workers_stop_when_the_process_that_supervises_them_is_killed() -> None:
    with serve("--workers", "2", MENDGAUGE_DRAIN_SECONDS="0") as service:
        workers = service.started(2)
        service.process.kill()
        try:
            assert closed(service.port)
        except AssertionError:
            for worker in workers:
                os.kill(worker, signal.SIGKILL)
            raise


def closed(port: int) -> bool:
    """Wait until nobody listens on a port; return whether that came to be."""
    for _ in range(400):
        try:
            socket.create_connection(("127.0.0.1", port), timeout=20).close()
        except ConnectionRefusedError:
            return True
        time.sleep(0.05)
    return False


def test_answers_during_the_drain_say_that_the_connection_closes() -> None:
    with serve(MENDGAUGE_DRAIN_SECONDS="300") as service:
        assert "connection" not in service.client.get("/health/live").headers
        service.process.send_signal(signal.SIGTERM)
        service.until("not ready any more")
        for path in ("/health/live", "/health/ready", "/v1/rulebooks", "/nothing"):
            assert service.client.get(path).headers["connection"] == "close"


@contextmanager
def stopping(app: ASGIApp, sent: bytes, begun: str) -> Iterator[socket.socket]:
    """Stop a server that waits 0.1 s for its requests, once one is under way; yield the caller's connection."""
    server = uvicorn.Server(
        uvicorn.Config(app, port=0, log_config=None, http=Wire, timeout_graceful_shutdown=0.1)  # type: ignore[arg-type]
    )
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started:
        time.sleep(0.01)
    with socket.create_connection(server.servers[0].sockets[0].getsockname(), timeout=20) as connection:
        connection.sendall(sent)
        while not server.server_state.tasks:
            time.sleep(0.01)
        if begun:
            assert begun.encode() in connection.recv(65_536)
        server.should_exit = True
        yield connection
    thread.join()


def rest_of(connection: socket.socket) -> bytes:
    return b"".join(iter(lambda: connection.recv(65_536), b""))


def test_a_request_that_outlasts_the_stop_is_answered_with_a_problem() -> None:
    with stopping(create_app(), HALF_SENT, begun="") as connection:
        head, _, body = rest_of(connection).partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 503 ")
    assert b"content-type: application/problem+json" in head
    assert b"x-request-id: half-sent" in head
    assert b"connection: close" in head.lower()
    assert b"retry-after: 1" in head
    problem = json.loads(body)
    assert (problem["type"], problem["request_id"]) == ("/problems/unavailable", "half-sent")


def test_an_answer_that_outlasts_the_stop_is_cut_and_not_passed_off_as_whole() -> None:
    @get("/")
    async def endless() -> Stream:
        async def parts() -> AsyncIterator[bytes]:
            while True:
                yield b"part of it "
                await asyncio.sleep(0.01)

        return Stream(parts())

    app = Edge(Litestar([endless], openapi_config=None, logging_config=None), State({"unready": ""}))
    with stopping(app, b"GET / HTTP/1.1\r\nhost: x\r\n\r\n", begun="200 OK") as connection:
        assert not rest_of(connection).endswith(b"0\r\n\r\n")


TYRE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}

COMMAND = """
import signal, sys
from importlib.metadata import entry_points

# As for the first process of a container: a signal that is not handled does nothing.
signal.signal(signal.SIGTERM, signal.SIG_IGN)
(command,) = entry_points(group="console_scripts", name="mendgauge")
sys.argv = ["mendgauge", "serve", "--port", "0"]
"""

STOPPED_WHILE_IT_IMPORTS = """
class Stop:
    def find_spec(self, name, path=None, target=None):
        if name == "uvicorn":
            signal.raise_signal(signal.SIGTERM)

sys.meta_path.insert(0, Stop())
"""

WITHOUT_PATIENCE = """
import mendgauge.cli
mendgauge.cli.LONGEST_REQUEST_SECONDS = 0.2
"""


@contextmanager
def first_of_a_container(*before: str) -> Iterator[subprocess.Popen[bytes]]:
    program = "".join((COMMAND, *before, "sys.exit(command.load()())"))
    environment = {"MENDGAUGE_DRAIN_SECONDS": "0.2"}
    with subprocess.Popen([sys.executable, "-c", program], stdout=subprocess.PIPE, env=environment) as process:
        try:
            yield process
        finally:
            process.kill()


def test_the_first_process_of_a_container_can_be_stopped_while_it_starts() -> None:
    with first_of_a_container(STOPPED_WHILE_IT_IMPORTS) as process:
        assert process.wait(timeout=60) in (-signal.SIGTERM, 128 + signal.SIGTERM)


def test_the_first_process_of_a_container_stops_although_a_page_is_in_the_press() -> None:
    with first_of_a_container(WITHOUT_PATIENCE) as process:
        assert process.stdout
        service = Service(process, process.stdout)
        with service.client, ThreadPoolExecutor(1) as pool, stopped_press(service):
            pool.submit(service.client.post, "/v1/job-cards", json=TYRE)
            while "mendgauge_requests_in_flight 2.0" not in service.client.get("/metrics").text:
                time.sleep(0.01)
            process.send_signal(signal.SIGTERM)
            assert process.wait(timeout=15) in (-signal.SIGTERM, 128 + signal.SIGTERM)


@contextmanager
def stopped_press(service: Service) -> Iterator[None]:
    """Have the press of a service do nothing more, once it printed a page."""
    assert service.client.post("/v1/job-cards", json=TYRE).status_code == 200
    begun_by_threads = Path(f"/proc/{service.process.pid}/task").glob("*/children")
    (press,) = [int(process) for begun in begun_by_threads for process in begun.read_text().split()]
    os.kill(press, signal.SIGSTOP)
    try:
        yield
    finally:
        os.kill(press, signal.SIGKILL)
