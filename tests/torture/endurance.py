"""What needs half an hour: `make endurance` tries whole batches, weeks of markings, and 200 stops under load."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import chain
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.torture.batches import HEALTH_SECONDS_MAX, Watch, largest, together, unread, whole_batch
from tests.torture.batches import PEAK_MB_MAX as PEAK_MB_MAX_TOGETHER
from tests.torture.bodies import post
from tests.torture.markings import DAYS, DISTINCT, MARKINGS_A_DAY, PAUSE_MS_MAX, RSS_MB_MAX, held
from tests.torture.measured import peak_mb
from tests.torture.stops import DRAIN_SECONDS, LOGS, SENT, served, stop_under_load
from tests.torture.table import Row, show

STOPS_EACH = 25
STOP_SECONDS_MAX = DRAIN_SECONDS + 2


def main() -> int:
    """Try everything, print the table, and return 1 if anything failed."""
    return show(chain(_batches(), _markings(), _stops()))


def _batches() -> Iterator[Row]:
    for name, body in (("whole plans", whole_batch()), ("of the largest size", largest())):
        with _service() as (process, port):
            with Watch(port) as watch:
                statuses = together(port, body)
            lost = [None] * (8 - len([status for status in statuses if status in (200, 503)]))
            yield Row(f"eight batches, {name}: answered", [*map(float, statuses), *lost], 503, "")
            yield Row(f"eight batches, {name}: health", watch.took, HEALTH_SECONDS_MAX, "s")
            yield Row(f"eight batches, {name}: peak memory", [peak_mb(process)], PEAK_MB_MAX_TOGETHER, "MB")
    with _service() as (process, port):
        stalled = unread(port, whole_batch())
        with Watch(port) as watch:
            post(port, "/v1/repair-plans/batch", whole_batch(50))
        yield Row("eight callers that do not read: health", watch.took, HEALTH_SECONDS_MAX, "s")
        yield Row("eight callers that do not read: peak memory", [peak_mb(process)], PEAK_MB_MAX_TOGETHER, "MB")
        for connection in stalled:
            connection.close()


def _markings() -> Iterator[Row]:
    for name, what, how_many in (
        (f"{DAYS} days of {MARKINGS_A_DAY} markings", "weeks", DAYS),
        (f"{DISTINCT:,} distinct markings", "distinct", DISTINCT),
    ):
        worker = held(what, how_many)
        yield Row(f"{name}: memory", [worker.rss_mb], RSS_MB_MAX, "MB")
        yield Row(f"{name}: longest collection", [worker.pause_ms], PAUSE_MS_MAX, "ms")


def _stops() -> Iterator[Row]:
    for log in LOGS:
        for client in SENT:
            with tempfile.TemporaryDirectory() as folder:
                took = [stop_under_load(log, client, Path(folder), patience=20) for _ in range(STOPS_EACH)]
            yield Row(f"stopped under load: {client}, log to a {log}", took, STOP_SECONDS_MAX, "s")


@contextmanager
def _service() -> Iterator[tuple[int, int]]:
    """Yield the process id and the port of a service of its own."""
    with tempfile.TemporaryDirectory() as folder, served("file", Path(folder)) as (process, port):
        yield process.pid, port


if __name__ == "__main__":
    sys.exit(main())
