"""Check a Parquet file of cases on one machine: `python parquet_files.py CASES ANSWERS [PROCESSES]`.

It takes a process to each core unless it is given a number.
"""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context
from os import cpu_count
from pathlib import Path

import pyarrow as pa
from pyarrow import parquet

from mendgauge.bulk import check

ROWS = 1_000
"""A batch takes half a second and a few megabytes: memory stays flat however long the file is, and at its end no
process waits long for the last batch of another."""


def check_file(cases: Path, answers: Path, processes: int | None = None) -> int:
    """Write the answers to the cases of one file to another, in their order; return how many rows there are."""
    rows, writer = 0, None
    try:
        for batch in _answers(parquet.ParquetFile(cases).iter_batches(ROWS), processes or cpu_count() or 1):
            writer = writer or parquet.ParquetWriter(answers, batch.schema, compression="zstd")
            writer.write_batch(batch)
            rows += batch.num_rows
    finally:
        if writer is not None:
            writer.close()
    return rows


def _answers(batches: Iterator[pa.RecordBatch], processes: int) -> Iterator[pa.RecordBatch]:
    """Yield the answers to each batch, with two batches under way for each process and no more."""
    under_way: deque[Future[pa.RecordBatch]] = deque()
    context = get_context("forkserver")
    context.set_forkserver_preload(["mendgauge.bulk"])  # imported once, which takes a second and more, and shared
    with ProcessPoolExecutor(processes, context) as pool:
        for batch in batches:
            under_way.append(pool.submit(check, batch))
            if len(under_way) == 2 * processes:
                yield under_way.popleft().result()
        while under_way:
            yield under_way.popleft().result()


if __name__ == "__main__":
    source, target, *processes = sys.argv[1:]
    print(f"{check_file(Path(source), Path(target), *map(int, processes)):,} cases checked")
