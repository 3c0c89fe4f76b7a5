"""Stops under load: a service of its own, clients that never pause, SIGTERM in the middle of it."""

from __future__ import annotations

import fcntl
import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

DRAIN_SECONDS = 0.2
CLIENTS = 4
PATIENCE_S = 60

CASE = b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}}'
REQUEST = (
    b"POST /v1/repairability HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n"
    b"content-length: %d\r\n\r\n%s" % (len(CASE), CASE)
)
HALF_SENT = (
    b"POST /v1/repairability HTTP/1.1\r\nhost: x\r\nx-request-id: half-sent\r\n"
    b"content-type: application/json\r\ncontent-length: 99\r\n\r\n{"
)
CARD = REQUEST.replace(b"/v1/repairability", b"/v1/job-cards")
LIVE = b"GET /health/live HTTP/1.1\r\nhost: x\r\n\r\n"

LOGS = ("file", "pipe", "stalled pipe", "closed pipe")
SENT = {"plain": REQUEST, "pipelined": REQUEST + LIVE * 20, "printing": CARD}


@contextmanager
def served(
    log: str, folder: Path, *, ready: bytes = LIVE, port: int = 0, **settings: float
) -> Iterator[tuple[subprocess.Popen[bytes], int]]:
    """Start a service whose log goes to a kind of place, and yield its process and port once it is ready."""
    port = port or free_port()
    command = [sys.executable, "-m", "mendgauge", "serve", "--port", str(port)]
    settings = {"DRAIN_SECONDS": DRAIN_SECONDS} | settings
    environment = {f"MENDGAUGE_{name}": str(value) for name, value in settings.items()}
    environment["TMPDIR"] = str(folder)  # where workers leave their figures when they are killed
    with _log_to(log, folder) as (output, after_start):
        process = subprocess.Popen(command, stdout=output, env=environment)
        try:
            _wait_until_answered(port, process, ready)
            after_start()
            yield process, port
        finally:
            process.kill()
            process.wait()


def stop_under_load(log: str, client: str, folder: Path, *, patience: float) -> float | None:
    """Return how many seconds a service took to exit after SIGTERM; None when it did not within `patience`."""
    with served(log, folder) as (process, port):
        stopped = threading.Event()
        clients = [
            threading.Thread(target=_call, args=(port, SENT[client], stopped), daemon=True) for _ in range(CLIENTS)
        ]
        for thread in clients:
            thread.start()
        time.sleep(0.5)
        began = time.monotonic()
        process.send_signal(signal.SIGTERM)
        try:
            process.wait(timeout=patience)
        except subprocess.TimeoutExpired:
            return None
        finally:
            stopped.set()
        return time.monotonic() - began


def _call(port: int, sent: bytes, stopped: threading.Event) -> None:
    while not stopped.is_set():
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1) as connection:
            while not stopped.is_set():
                connection.sendall(sent)
                if not connection.recv(1_048_576):
                    break
        time.sleep(0.001)


@contextmanager
def _log_to(kind: str, folder: Path) -> Iterator[tuple[int, Callable[[], object]]]:
    """Yield a descriptor for the log, and what is to happen to it once the service runs."""
    if kind == "file":
        with (folder / "log").open("wb") as file:
            yield file.fileno(), lambda: None
        return
    reader, writer = os.pipe()
    if kind == "stalled pipe":
        fcntl.fcntl(writer, fcntl.F_SETPIPE_SZ, 4096)  # a page, soon full
    if kind == "pipe":
        threading.Thread(target=_read_all, args=(reader,), daemon=True).start()
    try:
        yield writer, (lambda: os.close(reader)) if kind == "closed pipe" else (lambda: None)
    finally:
        os.close(writer)
        if kind == "stalled pipe":
            os.close(reader)


def _read_all(reader: int) -> None:
    while os.read(reader, 65_536):
        pass
    os.close(reader)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def _wait_until_answered(port: int, process: subprocess.Popen[bytes], sent: bytes) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until and process.poll() is None:
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=5) as connection:
            connection.sendall(sent)
            if connection.recv(65_536).startswith(b"HTTP/1.1 200"):
                return
        time.sleep(0.05)
    raise AssertionError(f"the service did not start; its status is {process.poll()}")
