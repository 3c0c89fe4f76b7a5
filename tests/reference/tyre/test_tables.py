"""The tables shipped with the reader, against published facts other than themselves."""

from __future__ import annotations

import math

import pytest

from mendgauge.tyre.load import load_at_speed, load_kg
from mendgauge.tyre.marking import read_marking
from mendgauge.tyre.speed import SYMBOLS_BY_SPEED, kmh_of
from mendgauge.tyre.tables import LOAD_INDEX, LOAD_RANGE, LOAD_SPEED_R30, RIM_CODE, SPEED_SYMBOL, LoadSpeedRow

LABELLED = {"V": "205/55R16 91V", "W": "205/55R16 91W", "Y": "205/55R16 91Y", "<=H": "205/55R16 91H"}
"""A tyre for each symbol of the table; load index 91 is 615 kg."""


@pytest.mark.parametrize(
    ("index", "kg"), [(59, 243), (53, 206), (62, 265), (61, 257), (83, 487), (103, 875), (105, 925), (91, 615)]
)
def test_load_indices_that_are_often_misprinted(index: int, kg: float) -> None:
    """UN R30 Annex 4, as printed in the French order of 24 October 1994, annex II (published)."""
    assert load_kg(index) == kg


def test_the_load_index_is_no_formula() -> None:
    """43 of the first 201 entries lie more than 1 % off 45 x 10^(n/80), index 37 most (derived)."""
    off = {n: abs(LOAD_INDEX[n].kg / (45 * 10 ** (n / 80)) - 1) for n in range(201)}
    assert sum(share > 0.01 for share in off.values()) == 43
    assert max(off, key=off.__getitem__) == 37


def test_load_indices_run_without_gap_and_rise() -> None:
    """UN R54 Annex 4: 0 to 279."""
    assert list(LOAD_INDEX) == list(range(280))
    loads = [row.kg for row in LOAD_INDEX.values()]
    assert loads == sorted(set(loads))


def test_speed_symbols_rank_by_speed() -> None:
    """UN R30 and R54, speed category symbols (published): H stands between U and V."""
    assert "".join(s for s in SYMBOLS_BY_SPEED if len(s) == 1) == "BCDEFGJKLMNPQRSTUHVWY"
    assert [kmh_of(f"A{n}") for n in range(1, 9)] == [5 * n for n in range(1, 9)]
    assert not {"I", "O", "X", "Z"} & set(SPEED_SYMBOL)


def test_load_range_letters_skip_i_and_k_and_step_by_two_plies() -> None:
    """US load-range letters, two agreeing trade tables (published)."""
    assert "".join(LOAD_RANGE) == "ABCDEFGHJLMN"
    assert [row.ply_rating for row in LOAD_RANGE.values()] == list(range(2, 26, 2))


def test_listed_rim_diameters_are_the_code_in_whole_millimetres() -> None:
    """UN R30 and R54: code times 25.4 (published), listed in whole mm (from_memory)."""
    for row in RIM_CODE.values():
        assert row.mm_nominal == math.floor(row.rim_code * (25.4 if row.rim_code < 100 else 1) + 0.5)


@pytest.mark.parametrize(
    "row",
    [
        pytest.param(row, id=f"{row.symbol} at {row.vehicle_max_speed_km_h:g} ({row.basis})")
        for row in LOAD_SPEED_R30
        if row.symbol in LABELLED
    ],
)
def test_load_falls_with_the_vehicles_speed_as_un_r30_says(row: LoadSpeedRow) -> None:
    """The published end points, and the from_memory points between, which the straight line must meet."""
    load = load_at_speed(read_marking(LABELLED[row.symbol]), row.vehicle_max_speed_km_h)
    assert load is not None
    assert load.single_kg == pytest.approx(615 * row.percent_of_LI_load / 100)
