"""Check Parquet files of cases on a Dask cluster: `python with_dask.py CASES ANSWERS`.

The workers need `mendgauge[bulk]` installed. Dask runs a task again where it lost a worker; the answers are the same.
"""

from __future__ import annotations

import sys

import dask.dataframe as dd
import pandas as pd
import pyarrow as pa
from distributed import Client

from mendgauge.bulk import ANSWERS, check


def answers_of(cases: dd.DataFrame) -> dd.DataFrame:
    """Return the answers to a data frame of cases, its columns as `openapi/arrow.md` has them."""
    return cases.map_partitions(_answers, meta=_frame(ANSWERS.empty_table()))


def _answers(part: pd.DataFrame) -> pd.DataFrame:
    return _frame(pa.Table.from_batches([check(pa.RecordBatch.from_pandas(part, preserve_index=False))]))


def _frame(table: pa.Table) -> pd.DataFrame:
    frame: pd.DataFrame = table.to_pandas(types_mapper=pd.ArrowDtype)
    return frame


if __name__ == "__main__":
    with Client():
        answers_of(dd.read_parquet(sys.argv[1], dtype_backend="pyarrow")).to_parquet(sys.argv[2])
