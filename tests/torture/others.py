"""Whoever asks something short while another caller's worst is under way: two connections beside the one that works."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from http.client import HTTPException
from pathlib import Path
from typing import Any, Final

from tests.bench.cases import TWO_FACTS
from tests.bench.worst import FOUND, WORST
from tests.torture.batches import Watch
from tests.torture.bodies import BATCH_BYTES, post
from tests.torture.stops import served
from tests.torture.table import Row

LATE_SECONDS_MAX: Final = 0.05
"""The 99th percentile, whatever is under way."""

_ASKED: Final = 200
_PATIENCE_S: Final = 30
"""How often each of the two asks, and for how long at most."""

_CHECK: Final = json.dumps(TWO_FACTS).encode()


def _batch(case: dict[str, Any]) -> bytes:
    """Return the largest batch of a case."""
    length = len(json.dumps(case)) + 2
    return json.dumps({"items": [case] * min(1000, (BATCH_BYTES - 20) // length)}).encode()


LOADS: Final[dict[str, tuple[str, bytes]]] = {
    "a batch of worst plans": ("/v1/repair-plans/batch", _batch(FOUND)),
    "a batch of worst checks": (
        "/v1/repairability/batch",
        _batch(WORST["20 holes in ranges, 50 repairs, any vehicle"]),
    ),
    "one worst plan after another": ("/v1/repair-plans", json.dumps(FOUND).encode()),
}


def late(folder: Path) -> Iterator[tuple[str, float, float]]:
    """Yield, for each kind of work that is under way, how late health and a check are at the 99th percentile."""
    for name, (path, body) in LOADS.items():
        with served("file", folder) as (_, port):
            post(port, "/v1/repairability", _CHECK)
            working = threading.Thread(target=_work, args=(port, path, body), daemon=True)
            working.start()
            with Watch(port) as health, Watch(port, "/v1/repairability", _CHECK) as check:
                until = time.monotonic() + _PATIENCE_S
                while time.monotonic() < until and min(len(health.took), len(check.took)) < _ASKED:
                    working.join(0.1)
        yield name, _p99(health.took), _p99(check.took)


def _work(port: int, path: str, body: bytes) -> None:
    with suppress(OSError, HTTPException):  # the service is killed in the end
        for _ in range(1000):
            post(port, path, body)


def _p99(took: list[float | None]) -> float:
    """Return the 99th percentile of how long answers took, s; without end where one was no success."""
    known = sorted(float("inf") if one is None else one for one in took)
    return known[int(0.99 * len(known))]


def kept_waiting(folder: Path) -> Iterator[Row]:
    """Try each kind of work, and how late others are beside it."""
    for name, health, check in late(folder):
        yield Row(f"{name}: health meanwhile, p99", [health], LATE_SECONDS_MAX, "s")
        yield Row(f"{name}: another's check, p99", [check], LATE_SECONDS_MAX, "s")
