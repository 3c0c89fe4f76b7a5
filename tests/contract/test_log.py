"""The log goes out beside the answers and never in their way."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time

import pytest
from tests.contract.running import serve
from tests.torture.stops import LIVE, free_port

from mendgauge.api.log import MOST_WAITING_BYTES, LineWriter

LINE = b"x" * 999
LINES = 2 * MOST_WAITING_BYTES // 1000


def test_a_reader_that_stalls_costs_lines_and_no_time() -> None:
    reader, writer = os.pipe()
    log = LineWriter(writer)
    for _ in range(LINES):
        log.msg(LINE)
    assert log.dropped > 0
    kept = LINES - log.dropped
    read = b""
    while len(read) < kept * 1000:
        read += os.read(reader, 65_536)
    assert read == (LINE + b"\n") * kept


def test_lines_for_a_pipe_that_closed_are_counted() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    log = LineWriter(writer)
    log.msg(LINE)
    log.settle(20)
    assert log.dropped == 1


def test_a_descriptor_that_does_not_block_gets_every_line() -> None:
    reader, writer = os.pipe()
    os.set_blocking(writer, False)
    log = LineWriter(writer)
    for _ in range(500):
        log.msg(LINE)
    read = b""
    while len(read) < 500_000:
        read += os.read(reader, 65_536)
    assert log.dropped == 0


def test_the_service_answers_while_nobody_reads_its_log_and_then_says_what_was_dropped() -> None:
    port = free_port()
    command = [sys.executable, "-m", "mendgauge", "serve", "--port", str(port)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, env={}) as process:
        assert process.stdout is not None
        try:
            connection = _connected(port)
            for _ in range(100):
                connection.sendall(LIVE * 100)
                answered = 0
                while answered < 100:
                    answered += connection.recv(1_048_576).count(b"HTTP/1.1 200 OK")
            for line in process.stdout:
                found = json.loads(line)
                if found["event"] == "log lines dropped":
                    break
            assert (found["level"], found["lines_since_start"] > 0) == ("warning", True)
        finally:
            process.kill()


def _connected(port: int) -> socket.socket:
    for _ in range(1000):
        try:
            return socket.create_connection(("127.0.0.1", port), timeout=20)
        except ConnectionRefusedError:
            time.sleep(0.05)
    raise AssertionError("the service did not start")


@pytest.mark.parametrize("sent", ["\ud83d", "a\nb"])
def test_nothing_that_is_logged_breaks_a_line(sent: str) -> None:
    code = (
        "import sys, structlog; from mendgauge.api import log; log.configure('info');"
        f"structlog.get_logger().info('got', text={sent!r}); log.standard_output().settle(20)"
    )
    output = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True).stdout
    assert len(output.splitlines()) == 1
    assert json.loads(output)["event"].strip("'") == "got"


@pytest.mark.parametrize(
    ("believed", "sent", "client"),
    [
        ("", "192.0.2.7", "127.0.0.1"),
        ("10.0.0.0/8", "192.0.2.7", "127.0.0.1"),
        ("127.0.0.0/8", "192.0.2.7", "192.0.2.7"),
        ("10.0.0.0/8, 127.0.0.1", "203.0.113.9, 192.0.2.7, 10.1.1.1", "192.0.2.7"),
    ],
)
def test_the_caller_is_named_by_the_proxies_that_are_believed(believed: str, sent: str, client: str) -> None:
    environment = {"MENDGAUGE_FORWARDED_BY": believed} if believed else {}
    with serve(**environment) as service:
        service.client.get("/health/live", headers={"X-Forwarded-For": sent})
        assert service.until("request")["client"] == client
