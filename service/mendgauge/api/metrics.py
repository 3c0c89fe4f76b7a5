"""What Prometheus reads at `/metrics`: requests, what answers came to, and what the process holds.

Requests are counted at the edge, so that those count too which no operation was reached by. Litestar's own middleware
sees none of these, answers 500 to a `Host` that is no host, and costs about as much as the rest of Litestar; its
controller gives the figures out. No label holds anything that a caller chose.

With several workers each keeps its figures in a file of `PROMETHEUS_MULTIPROC_DIR`, and whichever is asked sums them.
"""

from __future__ import annotations

import asyncio
import os
from collections.abc import AsyncIterator, Iterable
from contextlib import asynccontextmanager, suppress
from functools import cache
from pathlib import Path
from typing import Any, Final

from litestar import Litestar, Request, Router
from litestar.plugins.prometheus import PrometheusController
from prometheus_client import Counter, Gauge, Histogram, disable_created_metrics
from prometheus_client.multiprocess import mark_process_dead

from mendgauge.answers.questions import ASKED_IN_BRIEF
from mendgauge.api.log import standard_output
from mendgauge.case.fields import pattern_of
from mendgauge.operations.repairability.answer import Repairability

SHARED_FOLDER: Final = "PROMETHEUS_MULTIPROC_DIR"
"""The environment variable that prometheus_client reads once, when it is imported."""

NOT_ROUTED: Final = "none"
"""The path of a request that reached no operation."""

_REFRESH_SECONDS = 1.0

disable_created_metrics()  # type: ignore[no-untyped-call]

_REQUESTS = Counter("mendgauge_requests", "Requests, by path template and status.", ("path", "status"))
_SECONDS = Histogram(
    "mendgauge_request_duration_seconds",
    "Time from the end of a request's headers to the end of its answer.",
    ("path", "status"),
    buckets=(0.0005, 0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30),
)
_VERDICTS = Counter("mendgauge_verdicts", "Cases judged, in batches too, by verdict.", ("rulebook", "verdict"))
_NEXT_STEPS = Counter("mendgauge_next_steps", "Cases judged, by what is to be done next.", ("next_step",))
_OPEN_FACTS = Counter("mendgauge_open_facts", "Cases judged, by the fields first asked for.", ("field",))
_DROPPED = Counter("mendgauge_log_lines_dropped", "Log lines that could not be written.")
_STARTS = Counter("mendgauge_worker_starts", "Processes that began to serve, those started again included.")
_READY = Gauge("mendgauge_ready", "Processes that may be sent work.", multiprocess_mode="livesum")
_IN_FLIGHT = Gauge("mendgauge_requests_in_flight", "Requests being answered.", multiprocess_mode="livesum")
_CONNECTIONS = Gauge("mendgauge_connections", "Connections open.", multiprocess_mode="livesum")
_BYTES = Gauge("mendgauge_bytes_under_way", "Bytes of the bodies being answered.", multiprocess_mode="livesum")


def count_request(path: str | None, status: int | None, seconds: float) -> None:
    """Count a request; one whose answer never began has the status `none`."""
    requests, duration = _of_requests(path or NOT_ROUTED, status)
    requests.inc()
    duration.observe(seconds)


def count_refused_bytes(status: int) -> None:
    """Count what could not be read as a request, and so took no time that could be measured."""
    _REQUESTS.labels(NOT_ROUTED, status).inc()


@cache  # of the paths there are and the statuses they answer with
def _of_requests(path: str, status: int | None) -> tuple[Counter, Histogram]:
    labels = path, "none" if status is None else status
    return _REQUESTS.labels(*labels), _SECONDS.labels(*labels)


def count_answer(answer: object) -> None:
    """Count what a case came to, where the answer gives its verdict, and what it asks first, whatever its detail."""
    for counter in _counters_of(answer):
        counter.inc()


class Tally:
    """What the answers of a batch came to, added up before it is counted: each count takes a lock."""

    def __init__(self) -> None:
        self._times: dict[Counter, int] = {}

    def add(self, answer: object) -> None:
        """Add an answer."""
        for counter in _counters_of(answer):
            self._times[counter] = self._times.get(counter, 0) + 1

    def count(self) -> None:
        """Count all that was added."""
        for counter, times in self._times.items():
            counter.inc(times)
        self._times.clear()


def _counters_of(answer: object) -> Iterable[Counter]:
    judged = getattr(answer, "repairability", answer)
    if not isinstance(judged, Repairability):
        return ()
    book = judged.rulebook
    patterns = {pattern_of(missing.field) for missing in judged.to_establish[:ASKED_IN_BRIEF]}
    return (
        _of_verdict(book.id, book.edition, judged.verdict),
        _of_next_step(judged.next_step),
        *map(_of_open_fact, patterns),
    )


# Looking a label up takes four times as long as counting.
@cache
def _of_verdict(book: str, edition: str, verdict: str) -> Counter:
    return _VERDICTS.labels(f"{book}@{edition}", verdict)


@cache
def _of_next_step(step: str) -> Counter:
    return _NEXT_STEPS.labels(step)


@cache
def _of_open_fact(pattern: str) -> Counter:
    return _OPEN_FACTS.labels(pattern)


class Gauges:
    """What the process holds at this moment, as the gauges are to show it."""

    def __init__(self) -> None:
        self._lines_dropped = 0

    def set(self, *, ready: bool, in_flight: int, connections: int, bytes_under_way: int) -> None:
        """Set the gauges of this process, and count the log lines that were dropped since the last time."""
        _READY.set(ready)
        _IN_FLIGHT.set(in_flight)
        _CONNECTIONS.set(connections)
        _BYTES.set(bytes_under_way)
        dropped = standard_output().dropped
        _DROPPED.inc(dropped - self._lines_dropped)
        self._lines_dropped = dropped


async def _refresh(request: Request[Any, Any, Any]) -> None:
    request.app.state.set_gauges()
    if folder := os.environ.get(SHARED_FOLDER):
        _forget_dead_workers(Path(folder))


metrics_route: Final = Router(
    "/", route_handlers=[PrometheusController], before_request=_refresh, include_in_schema=False
)


@asynccontextmanager
async def gauges_refreshed(app: Litestar) -> AsyncIterator[None]:
    """Count the start, and set the gauges once a second where another worker may be asked for them."""
    _STARTS.inc()

    async def refresh() -> None:
        while True:
            app.state.set_gauges()
            await asyncio.sleep(_REFRESH_SECONDS)

    task = asyncio.create_task(refresh()) if SHARED_FOLDER in os.environ else None
    yield
    if task:
        task.cancel()
        with suppress(asyncio.CancelledError):
            await task


def _forget_dead_workers(folder: Path) -> None:
    """Leave out what a worker held that was killed; what it counted stays."""
    for file in folder.glob("gauge_live*.db"):
        process = int(file.stem.rpartition("_")[2])
        if not Path(f"/proc/{process}").exists():
            mark_process_dead(process)  # type: ignore[no-untyped-call]
