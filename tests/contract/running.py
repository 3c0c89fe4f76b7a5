"""A service started as an operator starts it: a process, a port, a log."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from tempfile import TemporaryDirectory
from typing import IO, Any

import httpx2


class Service:
    """A running service: its address, and its log as it is written."""

    def __init__(self, process: subprocess.Popen[bytes], log: IO[bytes]) -> None:
        self.process, self.log = process, log
        self.lines: list[dict[str, Any]] = []
        self.port = int(re.findall(r":([0-9]+) ", self.until("Uvicorn running on")["event"])[0])
        self.client = httpx2.Client(base_url=f"http://127.0.0.1:{self.port}", timeout=20)

    def until(self, words: str) -> dict[str, Any]:
        """The next line of the log that has these words in its event."""
        for line in self.log:
            self.lines.append(json.loads(line))
            if words in self.lines[-1]["event"]:
                return self.lines[-1]
        raise AssertionError(f"the log ended without {words!r}: {self.lines}")

    def started(self, workers: int) -> list[int]:
        """Return the processes of the workers that start next, once all of them answer; their lines may mix."""
        processes, ready = [], 0
        while ready < workers:
            event = self.until("tart")["event"]
            if found := re.findall("Started server process .([0-9]+)", event):
                processes.append(int(found[0]))
            ready += "Application startup complete" in event
        return processes


@contextmanager
def serve(*options: str, **environment: str) -> Iterator[Service]:
    command = [sys.executable, "-m", "mendgauge", "serve", "--port", "0", *options]
    with (
        TemporaryDirectory() as folder,  # where workers leave their figures when they are killed
        subprocess.Popen(command, stdout=subprocess.PIPE, env={"TMPDIR": folder, **environment}) as process,
    ):
        assert process.stdout is not None
        try:
            service = Service(process, process.stdout)
            with service.client:
                yield service
        finally:
            process.kill()
