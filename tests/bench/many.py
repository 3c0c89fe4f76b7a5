"""A fleet's rows from one Parquet file to another: rows a second by one process and by two, and their memory."""

from __future__ import annotations

import resource
import runpy
import tempfile
import time
from collections.abc import Callable
from itertools import cycle, islice
from pathlib import Path
from typing import Final

import msgspec
import pyarrow as pa
from pyarrow import parquet
from tests.bench.mix import draw
from tests.bench.report import Report

_FEW: Final = 10_000
_MANY: Final = 30_000
_EXAMPLE: Final = Path(__file__).parents[2] / "service" / "examples" / "bulk" / "parquet_files.py"


def compare(report: Report) -> None:
    """Check the same fleet with one process and with two."""
    check_file: Callable[[Path, Path, int], int] = runpy.run_path(str(_EXAMPLE))["check_file"]
    bodies = [msgspec.json.encode(case).decode() for case in draw()]
    with tempfile.TemporaryDirectory() as folder:
        seconds, megabytes = {}, {}
        for rows, processes in ((_FEW, 2), (_MANY, 2), (_MANY, 1)):
            cases = Path(folder, "cases.parquet")
            parquet.write_table(pa.table({"case": [*islice(cycle(bodies), rows)]}), cases, row_group_size=5_000)
            began = time.perf_counter()
            check_file(cases, Path(folder, "answers.parquet"), processes)
            seconds[rows, processes] = time.perf_counter() - began
            megabytes[rows] = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    one, two = _MANY / seconds[_MANY, 1], _MANY / seconds[_MANY, 2]
    report.add("Parquet to Parquet, two processes", f"{two:,.0f} rows/s", f"one: {one:,.0f} rows/s", two / one)
    report.add(
        f"memory of a process, {_MANY:,} rows",
        f"{megabytes[_MANY]:.0f} MB",
        f"{_FEW:,} rows: {megabytes[_FEW]:.0f} MB",
        megabytes[_MANY] / megabytes[_FEW],
        "flat",
    )
