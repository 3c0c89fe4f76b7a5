"""Many holes and long stocks: what is left untried or unsaid, and that the answer says so."""

from __future__ import annotations

from typing import Any

from tests.unit.shelves import TRUCK, UNIT, Json, answer, bench


def test_a_hard_share_out_is_cut_short_and_says_so() -> None:
    # Twelve holes round a truck tyre and a stock of one each of many sizes: more ways than a bench waits for.
    stock = [
        {**UNIT, "code": f"U{index}", "stem_length_mm": 90, "patch_mm": 31 + index, "on_hand": 1} for index in range(14)
    ]
    case = bench(TRUCK, stock=stock)
    case["injuries"] = [{**case["injuries"][0], "diameter_mm": 6, "around_mm": 60 + 240 * place} for place in range(12)]
    found = answer(case)
    assert not found.proven
    assert "not_all_ways_tried" in {one.code for one in found.cautions}
    assert all(injury.choices[0].chosen for injury in found.injuries)


def test_a_share_out_that_is_cut_short_keeps_what_it_had_shared_out() -> None:
    # Each patch is so long that no two find room beside each other: a hundred for the second hole are all in the way.
    stock = [
        {
            **UNIT,
            "code": f"U{index}",
            "stem_length_mm": 90,
            "patch_mm": None,
            "patch_shape": "rectangular",
            "patch_width_mm": 40 + index,
            "patch_length_mm": 490 - index,
            "on_hand": 1,
        }
        for index in range(200)
    ]
    case = bench(TRUCK, stock=stock)
    case["injuries"] = [{**case["injuries"][0], "diameter_mm": 6, "around_mm": 150 * place} for place in range(20)]
    found = answer(case)
    assert not found.proven
    # Beside a patch of more than 450 mm three holes 150 mm apart get none. Beyond the steps that the first two took,
    # every fourth hole still gets the first unit that is left.
    chosen = [injury.choices[0].chosen for injury in found.injuries]
    every_fourth = [None if place % 4 else f"U{place // 4}" for place in range(20)]
    assert [one and one.pieces[0].code for one in chosen] == every_fourth


def many_holes(holes: int, units: int, **more: Any) -> Json:
    """A truck tyre with so many holes of which the lean was not measured, and so many units that fit each."""
    stock = [{**UNIT, "code": f"U{index}", "stem_length_mm": 90, "patch_mm": 40 + index / 10} for index in range(units)]
    case = bench(TRUCK, stock=stock, **more)
    hole = {name: value for name, value in case["injuries"][0].items() if name != "lean_deg"} | {"diameter_mm": 6}
    case["injuries"] = [{**hole, "around_mm": 150 * place} for place in range(holes)]
    return case


def test_of_a_long_stock_for_many_holes_the_first_units_are_tried_and_the_answer_says_so() -> None:
    found = answer(many_holes(20, 200))
    (caution,) = (one for one in found.cautions if one.code == "not_all_tried")
    assert "only the first 20 of the 200 units in the stock were tried" in caution.says
    assert not found.proven
    # What is chosen does all the same.
    chosen = [injury.choices[0].chosen for injury in found.injuries]
    assert {piece.code for one in chosen if one for piece in one.pieces} <= {f"U{index}" for index in range(20)}


def test_a_long_stock_for_few_holes_is_tried_whole() -> None:
    found = answer(many_holes(2, 200))
    assert {"not_all_tried", "not_all_ways_tried"}.isdisjoint(one.code for one in found.cautions)
    assert len(found.injuries[0].choices[0].passed_over) == 199


def test_of_many_holes_it_is_said_of_the_first_why_units_were_passed_over() -> None:
    found = answer(many_holes(12, 50, detail="full"))
    explained = [bool(injury.choices[0].passed_over) for injury in found.injuries]
    assert explained == [True] * 6 + [False] * 6
    (caution,) = (one for one in found.cautions if one.code == "not_all_explained")
    assert "of the first injuries alone, up to 6" in caution.says
    assert "not_all_explained" not in {one.code for one in answer(many_holes(3, 50)).cautions}
