"""The rows of `dimension_checks.csv` (basis and source in each) against what follows from the size alone."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import pytest

from mendgauge.tyre.dimensions import (
    overall_diameter_bounds_mm,
    overall_diameter_mm,
    overall_diameter_regulation_mm,
    rim_diameter_nominal_mm,
)
from mendgauge.tyre.marking import read_marking

with (Path(__file__).parent / "dimension_checks.csv").open(encoding="utf-8", newline="") as lines:
    ROWS = list(csv.DictReader(lines))


def params(rows: list[dict[str, str]]) -> list[Any]:
    return [pytest.param(row, id=f"{row['size']} ({row['basis']})") for row in rows]


@pytest.mark.parametrize("row", params([row for row in ROWS if "/" in row["size"]]))
def test_overall_diameter_of_a_size_with_an_aspect_ratio(row: dict[str, str]) -> None:
    """Whole rows are the regulations' figure, rounded as they round; a row with a decimal is the exact one.

    No tolerance: the figures are the design's, and the regulations' tolerances are on the tyre.
    """
    marking, printed = read_marking(row["size"]), float(row["overall_diameter_mm"])
    if printed.is_integer():
        assert overall_diameter_regulation_mm(marking) == printed
    else:
        assert overall_diameter_mm(marking) == pytest.approx(printed, abs=1e-6)


@pytest.mark.parametrize("row", params([row for row in ROWS if "/" not in row["size"]]))
def test_a_size_without_an_aspect_ratio_gives_no_diameter(row: dict[str, str]) -> None:
    """Its diameter stands only in the standards' tables: the row's own is a tyre around that rim and no more."""
    marking = read_marking(row["size"])
    assert overall_diameter_mm(marking) is None
    assert overall_diameter_regulation_mm(marking) is None
    assert rim_diameter_nominal_mm(marking) < float(row["overall_diameter_mm"])


@pytest.mark.parametrize("row", params(ROWS))
def test_the_diameter_lies_within_what_the_size_leaves_possible(row: dict[str, str]) -> None:
    bounds = overall_diameter_bounds_mm(read_marking(row["size"]))
    assert bounds is not None
    # Where the size gives it, the regulations' rounding is all that is between.
    assert bounds.low - 1.5 <= float(row["overall_diameter_mm"]) <= bounds.high + 1.5
