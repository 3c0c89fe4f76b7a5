"""Every row of `date_code_cases.jsonl`: the grammar of 49 CFR 574.5, the weeks by calendar arithmetic."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from mendgauge.tyre.date_code import DateCodeError, age_years, american_week, iso_week, made_between, read_date_code

TODAY = date(2026, 11, 24)


def rows(*results: str) -> list[Any]:
    lines = (Path(__file__).parent / "date_code_cases.jsonl").read_text(encoding="utf-8").splitlines()
    return [pytest.param(row, id=row["tin"]) for row in map(json.loads, lines) if row["result"] in results]


@pytest.mark.parametrize("row", rows("ok"))
def test_a_date_code_says_what_its_row_expects(row: dict[str, Any]) -> None:
    code = read_date_code(row["tin"], TODAY)
    for name in ("format", "plant", "middle", "date_code", "week", "year"):
        assert getattr(code, name) == row[name], name
    assert list(code.flags) == row["flags"]
    assert list(code.year_candidates) == row.get("year_candidates", [])


@pytest.mark.parametrize("row", [row for row in rows("ok") if row.values[0]["year"]])
def test_the_day_of_manufacture_lies_in_the_weeks_of_either_count(row: dict[str, Any]) -> None:
    spans = [tuple(map(date.fromisoformat, row[count])) for count in ("us_week_range", "iso_week_range") if row[count]]
    made = made_between(read_date_code(row["tin"], TODAY))
    assert made is not None
    if spans:
        assert made == (min(span[0] for span in spans), max(span[1] for span in spans))
    for count, name in ((american_week, "us_week_range"), (iso_week, "iso_week_range")):
        if row[name]:
            assert [day.isoformat() for day in count(row["week"], row["year"])] == row[name]


@pytest.mark.parametrize("row", rows("reject"))
def test_what_is_no_date_code_is_refused_with_its_reason(row: dict[str, Any]) -> None:
    with pytest.raises(DateCodeError) as refused:
        read_date_code(row["tin"], TODAY)
    assert [refused.value.code] == row["flags"]
    assert refused.value.detail


@pytest.mark.parametrize("row", rows("warn"))
def test_a_sidewall_without_a_date_is_reported_and_has_no_age(row: dict[str, Any]) -> None:
    code = read_date_code(row["tin"], TODAY)
    assert list(code.flags) == row["flags"]
    assert age_years(code, TODAY) is None
