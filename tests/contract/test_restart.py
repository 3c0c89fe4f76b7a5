"""A service on its own is restarted, or a worker of it killed, under calls of the Python client: none is lost."""

from __future__ import annotations

import os
import signal
import tempfile
import threading
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.contract.running import serve
from tests.torture.stops import served

from mendgauge_client import Mendgauge, Tyre, TyreCase

CALLERS = 4
RETRIES = 12
"""More than the default, whose pauses `tests/unit/sdk/test_retries.py` counts: a busy machine may be slow to start."""
CALLS_AFTER = 20
CASE = TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V"))


def test_a_restart_costs_the_client_no_call() -> None:
    restarted = threading.Event()
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(CALLERS) as pool:
        with served("file", Path(folder)) as (first, port):
            called = threading.Barrier(CALLERS + 1)
            answered = [pool.submit(_call, port, called, restarted) for _ in range(CALLERS)]
            called.wait()
            first.send_signal(signal.SIGTERM)
            first.wait(20)
        with served("file", Path(folder), port=port):
            restarted.set()
            verdicts = [verdict for caller in answered for verdict in caller.result()]
    assert set(verdicts) == {"inspect"}
    assert len(verdicts) >= CALLERS * (1 + CALLS_AFTER)


def test_a_worker_that_is_killed_costs_the_client_no_call_and_is_started_again() -> None:
    replaced = threading.Event()
    with serve("--workers", "2", MENDGAUGE_DRAIN_SECONDS="0") as service, ThreadPoolExecutor(CALLERS) as pool:
        workers = service.started(2)
        called = threading.Barrier(CALLERS + 1)
        answered = [pool.submit(_call, service.port, called, replaced) for _ in range(CALLERS)]
        called.wait()
        os.kill(workers[0], signal.SIGKILL)
        (successor,) = service.started(1)
        replaced.set()
        verdicts = [verdict for caller in answered for verdict in caller.result()]
        service.process.send_signal(signal.SIGTERM)
        service.process.wait(20)
    assert successor not in workers
    assert set(verdicts) == {"inspect"}
    assert len(verdicts) >= CALLERS * (1 + CALLS_AFTER)


def _call(port: int, called: threading.Barrier, restarted: threading.Event) -> Sequence[str]:
    """Return every verdict: from before the stop until some calls after the restart. Raise what a call raises."""
    with Mendgauge(f"http://127.0.0.1:{port}", retries=RETRIES) as client:
        verdicts = [client.check_repairability(CASE).verdict]
        called.wait()
        while not restarted.is_set():
            verdicts.append(client.check_repairability(CASE).verdict)
        return [*verdicts, *(client.check_repairability(CASE).verdict for _ in range(CALLS_AFTER))]
