"""The worst that callers can do, in five minutes and one table: `make torture`. It calls loopback alone."""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from tests.torture.bodies import CPU_SECONDS_MAX, PEAK_MB_MAX, hostile, post
from tests.torture.clients import misbehaving
from tests.torture.fuzz import fuzzed
from tests.torture.measured import cpu_seconds, peak_mb
from tests.torture.others import kept_waiting
from tests.torture.promises import promised
from tests.torture.stops import served
from tests.torture.table import Row, show


def main() -> int:
    """Try everything, print the table, and return 1 if anything failed."""
    return show(_rows())


def _rows() -> Iterator[Row]:
    for trial in (misbehaving, _promises, _bodies, kept_waiting, _fuzz):
        with tempfile.TemporaryDirectory() as folder:
            yield from trial(Path(folder))


def _promises(folder: Path) -> Iterator[Row]:
    with served("file", folder) as (_, port):
        yield from promised(port)


def _bodies(folder: Path) -> Iterator[Row]:
    with served("file", folder) as (process, port):
        seconds = []
        for path, body, coding in hostile():
            before = cpu_seconds(process.pid)
            status = post(port, path, body, coding)
            seconds.append(cpu_seconds(process.pid) - before if 200 <= status < 500 else None)
        yield Row("bodies as large and as dear as can be: CPU", seconds, CPU_SECONDS_MAX, "s")
        yield Row("the same: peak memory", [peak_mb(process.pid)], PEAK_MB_MAX, "MB")


def _fuzz(folder: Path) -> Iterator[Row]:
    folders = [folder / name for name in ("one", "two")]
    for each in folders:
        each.mkdir()
    with served("file", folders[0]) as (one, port), served("file", folders[1]) as (two, other_port):
        yield from fuzzed((port, other_port))
        yield Row("fuzzed bodies: peak memory", [peak_mb(one.pid), peak_mb(two.pid)], PEAK_MB_MAX, "MB")


if __name__ == "__main__":
    sys.exit(main())
