"""The room for patches: what tread, earlier repairs and other holes leave, and who gets which."""

from __future__ import annotations

from typing import Any

import pytest
from tests.given import given
from tests.unit.shelves import UNIT, Json, answer, bench, codes, only, reasons

from mendgauge.operations.repair_units.answer import Choice


def two_holes(apart: float, **changes: Any) -> Json:
    case = bench(**changes)
    case["injuries"].append({**case["injuries"][0], "around_mm": 640 + apart})
    return case


def test_two_holes_get_patches_that_stay_clear_of_each_other() -> None:
    small, large = {**UNIT, "code": "small", "patch_mm": 31, "on_hand": 1}, {**UNIT, "code": "large", "patch_mm": 45}
    case = two_holes(58, stock=[large, small])
    taken = [injury.choices[0] for injury in answer(case).injuries]
    assert [codes(choice) for choice in taken] == [["small"], ["large"]]
    assert reasons(taken[1])["small"] == ["used_up"]
    tight = [injury.choices[0] for injury in answer(two_holes(57, stock=[large, small])).injuries]
    assert [codes(choice) for choice in tight] == [["small"], []]
    assert tight[1].nothing_fits is not None
    assert tight[1].nothing_fits.code == "meets_injury"
    assert tight[1].nothing_fits.by == 1.0


def test_an_earlier_patch_known_to_a_range_is_kept_clear_of_at_its_largest() -> None:
    earlier = {"method": "one_piece", "proper": True, "across_mm": 20, "around_mm": 700, "measured_from": "inside"}

    def with_patch(size: Any) -> Choice:
        return only(bench(stock=[UNIT], earlier_repairs=[{**earlier, "patch_mm": size}]))

    for size, certain in ((45, True), ({"low": 40, "high": 46}, False)):
        chosen = with_patch(size).chosen
        assert chosen is not None
        assert chosen.certain == certain
    missed = with_patch({"low": 46, "high": 50})
    assert missed.chosen is None
    assert given(missed.room).limited_by == "earlier_repair"
    assert given(missed.room).patch_mm == 2 * (60 - 25 - 20)


def test_the_room_is_what_tread_and_neighbours_leave() -> None:
    narrow = bench(tyre={"tread_width_mm": 130})
    for case, limited_by, most in (
        (bench(), "shoulder", 2 * (80 - 20)),
        (narrow, "shoulder", 2 * (65 - 20)),
        (two_holes(60), "injury", 2 * (60 - 20) - 30.023),
    ):
        room = answer(case).injuries[0].choices[0].room
        assert given(room).limited_by == limited_by
        assert given(room).patch_mm == pytest.approx(most, abs=1e-3)


def test_the_room_is_reckoned_where_the_leaning_channel_opens() -> None:
    # Measured outside, leaning 20 degrees outward through 7 mm: 7 x tan 20 = 2.548 mm farther out inside.
    room = only(bench(hole={"measured_from": "outside", "lean_deg": 20})).room
    assert given(room).patch_mm == pytest.approx(2 * (80 - 22.548), abs=1e-3)
