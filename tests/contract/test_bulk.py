"""Cases as Arrow record batches: answered as over HTTP, byte for byte; columns that do not fit are refused at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import msgspec
import pyarrow as pa
import pytest
from litestar.testing import TestClient
from pyarrow import parquet
from tests.bench.mix import draw
from tests.sound_case import changed

from mendgauge.bulk import ANSWERS, CASES, ColumnError, check, check_each
from mendgauge.bulk.__main__ import tables

ROOT: Final = Path(__file__).parents[2]
GOLDEN: Final = sorted((ROOT / "openapi" / "examples" / "check_repairability").glob("*.json"))
FLAT: Final = {"rulebook": "gb", "tyre.marking": "205/55R16 91V", "assessed_on": "2026-11-24"}


def batch(*rows: dict[str, Any]) -> pa.RecordBatch:
    return pa.RecordBatch.from_pylist(list(rows))


def over_http(client: TestClient[Any], body: bytes) -> str:
    return client.post("/v1/repairability", content=body, headers={"Content-Type": "application/json"}).text


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_a_golden_case_is_answered_as_over_http(client: TestClient[Any], path: Path) -> None:
    example = msgspec.json.decode(path.read_bytes())
    case = example["request"]
    for given in (batch({"case": msgspec.json.encode(case).decode()}), batch(case)):
        (row,) = check(given).to_pylist()
        assert row["status"] == ("ok" if example["status"] == 200 else "failed")
        if example["status"] == 200:
            assert row["answer"] == over_http(client, msgspec.json.encode(case))


def test_a_day_s_mix_is_answered_as_over_http(client: TestClient[Any]) -> None:
    cases = [msgspec.json.encode(case) for case in draw(200)]
    found = check(pa.RecordBatch.from_pydict({"case": cases}))
    for case, row in zip(cases, found.to_pylist(), strict=True):
        assert row["answer"] == over_http(client, case)
        answer = msgspec.json.decode(row["answer"])
        assert (row["verdict"], row["next_step"]) == (answer["verdict"], answer["next_step"])
        assert row["reference"] == answer.get("reference")


def test_columns_named_by_their_place_fill_the_same_case() -> None:
    nested = changed({"detail": None})
    flat = {f"tyre.{name}": value for name, value in nested.pop("tyre").items()}
    flat |= {f"injuries.0.{name}": value for name, value in nested.pop("injuries")[0].items()}
    assert check(batch({**nested, **flat})).equals(check(batch(changed({"detail": None}))))


def test_a_range_may_stand_where_a_number_is_measured() -> None:
    (row,) = check(batch(FLAT | {"tyre.tread_depth_mm": {"low": 3.0, "high": 4.0}})).to_pylist()
    assert row["status"] == "ok"


def test_null_is_not_known_and_an_empty_list_is_none() -> None:
    nothing: dict[str, Any] = {"injuries": [], "earlier_repairs": []}
    unknown, none = check(batch(FLAT | dict.fromkeys(nothing), FLAT | nothing)).to_pylist()
    assert (unknown["verdict"], none["next_step"]) == ("inspect", "find_the_leak")


def test_an_injury_of_which_no_column_says_anything_is_no_injury() -> None:
    with_columns, without = check(batch(FLAT | {"injuries.0.region": None}, FLAT)), check(batch(FLAT))
    assert {row["answer"] for row in with_columns.to_pylist()} == {row["answer"] for row in without.to_pylist()}


def test_a_row_at_fault_costs_no_other() -> None:
    rows: tuple[dict[str, Any], ...] = (
        FLAT,
        FLAT | {"tyre.marking": "round"},
        FLAT | {"tyre.marking": None},
        FLAT | {"tyre.tread_depth_mm": float("nan")},
        FLAT | {"injuries.0.diameter_mm": -1.0},
        FLAT,
    )
    names = dict.fromkeys(name for row in rows for name in row)
    found = check(pa.RecordBatch.from_pylist(list(rows), pa.schema(map(_column, names)))).to_pylist()
    assert [row["status"] for row in found] == ["ok", "failed", "failed", "failed", "failed", "ok"]
    pointers = [msgspec.json.decode(row["problem"])["errors"][0]["pointer"] for row in found[1:-1]]
    assert pointers == ["/tyre/marking", "/tyre", "/tyre/tread_depth_mm", "/injuries/0/diameter_mm"]
    assert "null says that it is not known" in found[3]["problem"]


def _column(name: str) -> pa.Field:
    return pa.field(name, pa.float64() if name.endswith("_mm") else pa.string())


def test_a_case_without_text_or_too_long_is_a_problem_of_its_own() -> None:
    found = check(pa.RecordBatch.from_pydict({"case": [None, "{", f'{{"reference":"{"x" * 600_000}"}}']})).to_pylist()
    assert [msgspec.json.decode(row["problem"])["status"] for row in found] == [400, 400, 413]


def test_columns_of_the_caller_s_own_are_kept_before_the_answers() -> None:
    found = check(batch(FLAT | {"depot": "Ormsley", "id": 7}), keep=("id", "depot"))
    assert found.schema.names == ["id", "depot", *ANSWERS.names]
    assert found.column("depot").to_pylist() == ["Ormsley"]


def test_no_rows_are_no_answers() -> None:
    for empty in (batch(FLAT).slice(1), pa.RecordBatch.from_pylist([], CASES)):
        assert check(empty).equals(pa.RecordBatch.from_pylist([], ANSWERS))


@pytest.mark.parametrize(
    ("columns", "keep", "says"),
    [
        ({"tyre.tread_depht_mm": 5.0}, (), "'tyre.tread_depth_mm' is near"),
        ({"depot": "Ormsley"}, (), "Name it in `keep`"),
        ({"injuries.1234.region": "tread"}, (), "is no part of a case"),
        ({"injuries.0": {"region": "tread"}}, (), "give the list as one column"),
        ({"tyre": {"marking": "205/55R16 91V"}}, (), "'tyre' and 'tyre.marking' fill the same part"),
        ({"case": "{}"}, (), "a case is in one column"),
        ({}, ("depot",), "there is no column 'depot' to keep"),
    ],
)
def test_columns_that_make_no_case_are_refused_at_once(
    columns: dict[str, Any], keep: tuple[str, ...], says: str
) -> None:
    with pytest.raises(ColumnError, match=says.replace("(", r"\(")):
        check(batch(FLAT | columns), keep=keep)


def test_a_parquet_file_is_answered_by_the_batch(tmp_path: Path) -> None:
    cases = pa.table({"case": [msgspec.json.encode(case).decode() for case in draw(300)]})
    parquet.write_table(cases, tmp_path / "cases.parquet", row_group_size=100)
    each = parquet.ParquetFile(tmp_path / "cases.parquet").iter_batches(batch_size=100)
    with parquet.ParquetWriter(tmp_path / "answers.parquet", ANSWERS) as out:
        for answers in check_each(each):
            out.write_batch(answers)
    found = parquet.read_table(tmp_path / "answers.parquet")
    assert found.num_rows == 300
    assert found.column("status").to_pylist() == ["ok"] * 300


def test_the_published_schemas_are_those_of_the_code() -> None:
    """`make openapi` writes them."""
    assert (ROOT / "openapi" / "arrow.md").read_text("utf-8") == tables()
