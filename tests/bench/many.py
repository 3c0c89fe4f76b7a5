"""A fleet's rows from one Parquet file to another: rows a second by one process and by two, and what a worker holds.

Each file is checked by the example as its user runs it, in a process of its own, from the command to its end: what is
imported and loaded first, about three seconds, is in the figures of one process and of two alike.

Run as a module it takes the number of rows to go up to: `python -m tests.bench.many 1000000`.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Final, NamedTuple

import msgspec
import pyarrow as pa
from pyarrow import parquet
from tests.bench.mix import SEED, draw
from tests.bench.report import Report
from tests.torture.measured import peak_mb, worked_seconds

_DRAWN: Final = 10_000
"""Rows that are drawn with one seed; the next ones with the next, so that no fleet has a case twice by design."""

_EXAMPLE: Final = Path(__file__).parents[2] / "service" / "examples" / "bulk" / "parquet_files.py"

_LOOK_SECONDS: Final = 0.05
"""How often the processes are looked at while they run; the last moment of each is not seen."""


class Checked(NamedTuple):
    """What it took to check a file: seconds, CPU seconds of all processes, and the most memory, MB, that one held."""

    seconds: float
    cpu_seconds: float
    peak_mb: float


def write(cases: Path, rows: int) -> None:
    """Write a fleet of so many cases."""
    with parquet.ParquetWriter(cases, pa.schema([("case", pa.string())])) as writer:
        for first in range(0, rows, _DRAWN):
            drawn = draw(min(_DRAWN, rows - first), SEED + first // _DRAWN)
            writer.write_table(pa.table({"case": [msgspec.json.encode(case).decode() for case in drawn]}))


def check(cases: Path, answers: Path, processes: int) -> Checked:
    """Have the example check a file."""
    began = time.perf_counter()
    command = [sys.executable, str(_EXAMPLE), str(cases), str(answers), str(processes)]
    with subprocess.Popen(command, stdout=subprocess.DEVNULL) as example:
        worked: dict[int, float] = {}
        held = 0.0
        while example.poll() is None:
            for process in _descendants(example.pid):
                with suppress(FileNotFoundError, ProcessLookupError):  # it has just ended
                    worked[process] = worked_seconds(process)
                    held = max(held, peak_mb(process) or 0.0)
            time.sleep(_LOOK_SECONDS)
    assert example.returncode == 0
    return Checked(time.perf_counter() - began, sum(worked.values()), held)


def _descendants(process: int) -> Iterator[int]:
    """Yield a process, what it started, what that started, and so on."""
    yield process
    with suppress(FileNotFoundError, ProcessLookupError):
        for task in Path(f"/proc/{process}/task").iterdir():
            for child in (task / "children").read_text("ascii").split():
                yield from _descendants(int(child))


def compare(report: Report, sizes: Sequence[int] = (_DRAWN, 4 * _DRAWN)) -> None:
    """Check fleets of growing size with two processes, and one of moderate size with one."""
    found: dict[tuple[int, int], Checked] = {}
    most, one_process = sizes[-1], min(sizes[-1], 10 * _DRAWN)
    with tempfile.TemporaryDirectory() as folder:
        cases, answers = Path(folder, "cases.parquet"), Path(folder, "answers.parquet")
        for rows, processes in (*((rows, 2) for rows in sizes), (one_process, 1)):
            write(cases, rows)
            found[rows, processes] = check(cases, answers, processes)
    by_two, by_one = found[most, 2], found[one_process, 1]
    what = f"Parquet to Parquet, {most:,} rows"
    two, one = most / by_two.seconds, one_process / by_one.seconds
    report.add(f"{what}, two processes", f"{two:,.0f} rows/s", f"one: {one:,.0f}", two / one)
    all_in, alone = by_two.cpu_seconds / most * 1e6, by_one.cpu_seconds / one_process * 1e6
    report.add(f"{what}, CPU of all of them", f"{all_in:,.0f} µs a row", f"one: {alone:,.0f}", all_in / alone)
    first = found[sizes[0], 2]
    for rows in sizes[1:]:
        report.add(
            f"memory of a worker, {rows:,} rows",
            f"{found[rows, 2].peak_mb:.0f} MB",
            f"{sizes[0]:,} rows: {first.peak_mb:.0f} MB",
            found[rows, 2].peak_mb / first.peak_mb,
            "flat: at most 1.10",
        )


if __name__ == "__main__":
    asked = int(sys.argv[1])
    shown = Report()
    compare(shown, [rows for rows in (_DRAWN, 10 * _DRAWN, 100 * _DRAWN) if rows < asked] + [asked])
    shown.show()
