"""A fleet's rows from one Parquet file to another: rows a second by one process and by two, and what a worker holds.

Run as a module it takes the number of rows to go up to: `python -m tests.bench.many 1000000`.
"""

from __future__ import annotations

import os
import runpy
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import Final, Self

import msgspec
import pyarrow as pa
from pyarrow import parquet
from tests.bench.mix import SEED, draw
from tests.bench.report import Report
from tests.torture.measured import peak_mb

_DRAWN: Final = 10_000
"""Rows that are drawn with one seed; the next ones with the next, so that no fleet has a case twice by design."""

_EXAMPLE: Final = Path(__file__).parents[2] / "service" / "examples" / "bulk" / "parquet_files.py"


class Workers:
    """The most memory, MB, that any process held which this one started meanwhile: each looked at while it runs.

    The kernel's own figure for children that ended counts what this process held when it started them.
    """

    def __init__(self) -> None:
        self.peak_mb = 0.0
        self._ended = threading.Event()
        self._thread = threading.Thread(target=self._watch)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self._ended.set()
        self._thread.join()

    def _watch(self) -> None:
        while not self._ended.wait(0.2):
            for task in Path("/proc/self/task").iterdir():
                with suppress(FileNotFoundError, ProcessLookupError):
                    for child in (task / "children").read_text("utf-8").split():
                        self.peak_mb = max(self.peak_mb, peak_mb(int(child)) or 0.0)


def _cpu_seconds() -> float:
    """Return the CPU time of this process and of those that it started and that have ended."""
    used = os.times()
    return used.user + used.system + used.children_user + used.children_system


def write(cases: Path, rows: int) -> None:
    """Write a fleet of so many cases."""
    with parquet.ParquetWriter(cases, pa.schema([("case", pa.string())])) as writer:
        for first in range(0, rows, _DRAWN):
            drawn = draw(min(_DRAWN, rows - first), SEED + first // _DRAWN)
            writer.write_table(pa.table({"case": [msgspec.json.encode(case).decode() for case in drawn]}))


def compare(report: Report, sizes: Sequence[int] = (_DRAWN, 3 * _DRAWN)) -> None:
    """Check fleets of growing size with two processes, and one of moderate size with one."""
    check_file: Callable[[Path, Path, int], int] = runpy.run_path(str(_EXAMPLE))["check_file"]
    rates: dict[tuple[int, int], float] = {}
    cpu_us: dict[tuple[int, int], float] = {}
    held: dict[int, float] = {}
    one_process = min(sizes[-1], 10 * _DRAWN)
    with tempfile.TemporaryDirectory() as folder:
        cases, answers = Path(folder, "cases.parquet"), Path(folder, "answers.parquet")
        for rows, processes in (*((rows, 2) for rows in sizes), (one_process, 1)):
            write(cases, rows)
            began, cpu = time.perf_counter(), _cpu_seconds()
            with Workers() as workers:
                check_file(cases, answers, processes)
            rates[rows, processes] = rows / (time.perf_counter() - began)
            cpu_us[rows, processes] = (_cpu_seconds() - cpu) / rows * 1e6
            held.setdefault(rows, workers.peak_mb)
    two, one = rates[sizes[-1], 2], rates[one_process, 1]
    what = f"Parquet to Parquet, {sizes[-1]:,} rows"
    report.add(f"{what}, two processes", f"{two:,.0f} rows/s", f"one: {one:,.0f}", two / one)
    all_in, alone = cpu_us[sizes[-1], 2], cpu_us[one_process, 1]
    report.add(f"{what}, CPU of all of them", f"{all_in:,.0f} µs a row", f"one: {alone:,.0f}", all_in / alone)
    for rows in sizes[1:]:
        report.add(
            f"memory of a worker, {rows:,} rows",
            f"{held[rows]:.0f} MB",
            f"{sizes[0]:,} rows: {held[sizes[0]]:.0f} MB",
            held[rows] / held[sizes[0]],
            "flat: at most 1.10",
        )


if __name__ == "__main__":
    asked = int(sys.argv[1])
    shown = Report()
    compare(shown, [rows for rows in (_DRAWN, 10 * _DRAWN, 100 * _DRAWN) if rows < asked] + [asked])
    shown.show()
