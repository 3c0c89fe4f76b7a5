"""A service for as long as a `with` lasts: for demonstrations and tests, not for service."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager

import httpx2

from mendgauge_client import Mendgauge, UnavailableError, UnreachableError

PATIENCE_S = 30.0
LEASH = ("setpriv", "--pdeathsig", "KILL")
"""Where Linux has it, what ends the service even if this process is killed."""


@contextmanager
def own_service() -> Iterator[Mendgauge]:
    """Start a service on a free port of this machine, and yield a client of it once it is ready.

    Raises:
        RuntimeError: The service did not become ready.
    """
    port = _free_port()
    serve = [sys.executable, "-m", "mendgauge", "serve", "--host", "127.0.0.1", "--port", str(port)]
    command = [*LEASH, *serve] if shutil.which(LEASH[0]) else serve
    # Its warnings go to stderr, apart from what the caller prints. In a session of its own it does not hear Ctrl-C:
    # this process does, and stops it.
    with subprocess.Popen(command, env=_environment(), stdout=sys.stderr, start_new_session=True) as process:
        try:
            # No proxy that the environment names lies between here and this machine itself.
            with httpx2.Client(trust_env=False) as http:
                service = Mendgauge(f"http://127.0.0.1:{port}", http_client=http, retries=0)
                _wait_until_ready(service, process)
                yield service
        finally:
            process.kill()  # it keeps nothing, so there is nothing to wind up
            process.wait()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def _environment() -> dict[str, str]:
    """Return the environment without settings meant for another service."""
    others = {name: value for name, value in os.environ.items() if not name.startswith("MENDGAUGE_")}
    return {**others, "MENDGAUGE_LOG_LEVEL": "warning"}


def _wait_until_ready(service: Mendgauge, process: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        try:
            service.check_ready()
        except (UnreachableError, UnavailableError):
            if process.poll() is not None:
                raise RuntimeError(f"the service ended with status {process.returncode}; stderr says why") from None
            time.sleep(0.05)
        else:
            return
    raise RuntimeError(f"the service was not ready within {PATIENCE_S:.0f} s")
