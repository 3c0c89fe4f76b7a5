"""Whoever asks something short while another caller's worst is under way: two connections beside the one that works."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from http.client import HTTPException
from pathlib import Path
from typing import Any, Final, NamedTuple

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


class Late(NamedTuple):
    """What waits beside a kind of work: the 99th percentile, s, of its answers and of what the service worked then.

    The second is the first without what else the machine did.
    """

    work: str
    asked: str
    took: float
    worked: float


def late(folder: Path) -> Iterator[Late]:
    """Yield how late health and another's check are beside each kind of work."""
    for name, (path, body) in LOADS.items():
        with served("file", folder) as (process, port):
            post(port, "/v1/repairability", _CHECK)
            working = threading.Thread(target=_work, args=(port, path, body), daemon=True)
            working.start()
            health, check = Watch(port, process=process.pid), Watch(port, "/v1/repairability", _CHECK, process.pid)
            with health, check:
                until = time.monotonic() + _PATIENCE_S
                while time.monotonic() < until and min(len(health.took), len(check.took)) < _ASKED:
                    working.join(0.1)
        for asked, watch in (("health", health), ("another's check", check)):
            yield Late(name, asked, _p99(watch.took), _p99(watch.worked))


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
    for one in late(folder):
        yield Row(f"{one.work}: {one.asked}, p99", [one.took], LATE_SECONDS_MAX, "s")
        yield Row(f"{one.work}: the service's part of it", [one.worked], LATE_SECONDS_MAX, "s")
