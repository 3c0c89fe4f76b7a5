"""Every marking of `size_markings.jsonl` and `size_markings_bad.jsonl` reads, or is refused, as its row says.

Each row of the first names its basis and source. The second is our own contract on what is refused and what is warned
of (common practice); its `why` says the reason.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest

from mendgauge.tyre.dimensions import (
    overall_diameter_mm,
    overall_diameter_regulation_mm,
    rim_diameter_mm,
    rim_diameter_nominal_mm,
    section_height_mm,
)
from mendgauge.tyre.load import load_of
from mendgauge.tyre.marking import Marking, MarkingError, read_marking
from mendgauge.tyre.speed import speed_of
from mendgauge.tyre.tables import LOAD_RANGE

HERE = Path(__file__).parent


def rows(name: str) -> list[Any]:
    lines = (HERE / name).read_text(encoding="utf-8").splitlines()
    return [pytest.param(row, id=ascii(row["marking"])) for row in map(json.loads, lines)]


READABLE = rows("size_markings.jsonl")
ODD = rows("size_markings_bad.jsonl")


@pytest.mark.parametrize("row", READABLE)
def test_a_marking_says_what_its_row_expects(row: dict[str, Any]) -> None:
    marking = read_marking(row["marking"])
    said = msgspec.json.decode(msgspec.json.encode(marking))
    assert {name: said[name] for name in row["expect"]} == row["expect"]
    assert marking.unread == ()


@pytest.mark.parametrize("row", READABLE)
def test_a_markings_plain_spelling_reads_back_to_the_same_marking(row: dict[str, Any]) -> None:
    marking = read_marking(row["marking"])
    assert read_marking(str(marking)) == marking


@pytest.mark.parametrize("row", READABLE)
def test_sound_markings_carry_no_warning_but_of_their_kind(row: dict[str, Any]) -> None:
    codes = {warning.code for warning in read_marking(row["marking"]).warnings}
    assert codes <= {"temporary_spare", "mc_without_suffix", "out_of_scope_speed"}
    assert ("temporary_spare" in codes) == row["marking"].startswith("T")


def derived(marking: Marking) -> dict[str, Any]:
    """All that the rows derive from a marking, under the rows' names."""
    load, speed = load_of(marking), speed_of(marking)
    diameter = overall_diameter_mm(marking)
    by_service_or_zr = speed if marking.speed or marking.zr else None
    values = {
        "load_kg_single": load.single_kg if load else None,
        "load_kg_dual_each": load.dual_kg if load else None,
        "speed_km_h": by_service_or_zr.kmh if by_service_or_zr else None,
        "speed_is_floor": by_service_or_zr.is_floor if by_service_or_zr else None,
        "rim_mm_exact": rim_diameter_mm(marking),
        "rim_mm_nominal": rim_diameter_nominal_mm(marking),
        "section_height_mm_exact": section_height_mm(marking),
        "overall_diameter_mm_exact": diameter if marking.form == "metric" else None,
        "overall_diameter_mm_nominal": diameter if marking.form == "flotation" else None,
        "overall_diameter_mm_regulation": overall_diameter_regulation_mm(marking),
        "ply_rating_from_load_range": LOAD_RANGE[marking.load_range].ply_rating if marking.load_range else None,
    }
    return {name: value for name, value in values.items() if value is not None}


@pytest.mark.parametrize("row", READABLE)
def test_what_follows_from_a_marking_is_what_its_row_derives(row: dict[str, Any]) -> None:
    """The rows give one decimal or more and are exact, so the tolerance is that of floating point alone."""
    assert derived(read_marking(row["marking"])) == pytest.approx(row["derived"], abs=1e-6)


@pytest.mark.parametrize("row", [row for row in ODD if row.values[0]["expect"] == "reject"])
def test_what_is_no_marking_is_refused_with_its_reason(row: dict[str, Any]) -> None:
    with pytest.raises(MarkingError) as refused:
        read_marking(row["marking"])
    assert refused.value.code == row["code"]
    assert refused.value.detail


@pytest.mark.parametrize("row", [row for row in ODD if row.values[0]["expect"] == "warn"])
def test_what_reads_but_looks_odd_is_warned_of(row: dict[str, Any]) -> None:
    warnings = read_marking(row["marking"]).warnings
    assert [warning.code for warning in warnings] == [row["code"]]
    assert all(warning.says for warning in warnings)


@pytest.mark.parametrize("row", [row for row in ODD if row.values[0]["expect"] == "ok"])
def test_the_sound_neighbours_of_odd_markings_carry_no_warning(row: dict[str, Any]) -> None:
    assert read_marking(row["marking"]).warnings == ()
