"""The examples of `service/examples/bulk` give the answers that one call gives, and none is lost with a worker."""

from __future__ import annotations

import importlib
import os
import signal
import sys
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any, Final

import msgspec
import pyarrow as pa
import pytest
from pyarrow import parquet
from tests.bench.mix import draw
from tests.contract.test_licences import APART, ROOT, stated_in

from mendgauge.bulk import check

pytestmark = pytest.mark.engines
EXAMPLES: Final = Path(__file__).parents[2] / "service" / "examples" / "bulk"
ROWS: Final = 3_000
FILES: Final = 6


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of files of cases."""
    folder = tmp_path_factory.mktemp("cases")
    bodies = [msgspec.json.encode(case).decode() for case in draw(ROWS)]
    for place in range(FILES):
        parquet.write_table(pa.table({"case": bodies[place::FILES]}), folder / f"{place}.parquet")
    return folder


@pytest.fixture(scope="module")
def expected(cases: Path) -> list[str]:
    (whole,) = parquet.read_table(cases).combine_chunks().to_batches()
    return said(check(whole).to_pylist())


def said(rows: Iterable[Any]) -> list[str]:
    """Return all answers and problems, in an order of their own: engines keep none."""
    return sorted(row["answer"] or row["problem"] for row in rows)


@pytest.fixture
def example(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Import an example by its name, here and in whatever process an engine starts."""
    monkeypatch.syspath_prepend(str(EXAMPLES))
    monkeypatch.setenv("PYTHONPATH", str(EXAMPLES))
    monkeypatch.setenv("PYSPARK_PYTHON", sys.executable)
    return importlib.import_module


def test_a_file_is_checked_on_every_core(example: Any, cases: Path, tmp_path: Path) -> None:
    answers = tmp_path / "answers.parquet"
    assert example("parquet_files").check_file(cases / "0.parquet", answers, processes=2) == ROWS // FILES
    first = parquet.read_table(cases / "0.parquet").to_batches()[0]
    assert parquet.read_table(answers).column("answer").to_pylist() == check(first).column("answer").to_pylist()


def test_spark_gives_the_same_answers(example: Any, cases: Path, expected: list[str]) -> None:
    with_spark = example("with_spark")
    session = example("pyspark.sql").SparkSession.builder.master("local[2]").config("spark.ui.enabled", "false")
    spark = session.config("spark.driver.host", "127.0.0.1").getOrCreate()
    try:
        answers = with_spark.answers_of(spark.read.parquet(str(cases))).toArrow()
    finally:
        spark.stop()
    assert said(answers.to_pylist()) == expected


@pytest.fixture
def dask(example: Any) -> Iterator[Any]:
    client = example("distributed").Client
    with client(n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1") as dask:
        yield dask


def test_dask_gives_the_same_answers_though_a_worker_is_killed(
    example: Any, dask: Any, cases: Path, expected: list[str]
) -> None:
    frame = example("dask.dataframe").read_parquet(str(cases), dtype_backend="pyarrow")
    under_way = dask.compute(example("with_dask").answers_of(frame))
    first = next(iter(dask.run(os.getpid).values()))
    while not any(dask.processing().values()):
        time.sleep(0.01)
    os.kill(first, signal.SIGKILL)
    assert said(pa.Table.from_pandas(under_way.result()).to_pylist()) == expected


def test_the_engines_state_the_licences_that_are_listed() -> None:
    listed = APART["requirements-engines.lock"]
    assert stated_in(ROOT / ".venv-engines", listed) == listed
