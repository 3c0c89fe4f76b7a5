"""What a repaired tyre and its axle may carry."""

from __future__ import annotations

import pytest
from tests.unit.limits.base import CAR, MOTORCYCLE, TRUCK, Json, asked, codes, limits, marking, outcome


def test_shortfall_in_kg_and_percent() -> None:
    answer = limits({"position": {"axle_load_kg": 1300}})
    load = answer.load
    assert (load.status, load.tyres_on_axle, answer.fit) == ("short", 2, "not_fit")
    assert load.capacity is not None
    assert (load.capacity.low, load.capacity.unit) == (1230, "kg")
    assert load.shortfall is not None
    assert (load.shortfall.low, load.shortfall.high) == (70, 70)
    assert load.shortfall_percent is not None
    assert load.shortfall_percent.low == 5.38
    assert "load_short" in codes(answer)
    assert outcome(answer, "axle_load") == ("broken", "not_in_this_position")


def test_a_load_equal_to_the_capacity_is_enough() -> None:
    assert limits({"position": {"axle_load_kg": 1230}}).load.status == "enough"
    assert limits({"position": {"axle_load_kg": 1230.1}}).load.status == "short"


def test_an_unknown_axle_load_is_open_with_the_question() -> None:
    answer = limits({"position": {"axle_load_kg": None}})
    assert (answer.load.status, answer.load.required) == ("open", None)
    assert asked(answer) == ["/position/axle_load_kg"]


def test_a_car_is_fitted_singly_without_being_asked() -> None:
    answer = limits(CAR, {"position": {"fitment": None}})
    assert answer.load.tyres_on_axle == 2
    assert "/position/fitment" not in asked(answer)


def test_an_unknown_fitment_leaves_both_capacities() -> None:
    answer = limits(TRUCK, {"position": {"fitment": None, "axle_load_kg": 12_000}})
    assert answer.load.tyres_on_axle is None
    assert answer.load.capacity is not None
    assert (answer.load.capacity.low, answer.load.capacity.high) == (8000, 13_400)
    assert answer.load.status == "open"
    assert "/position/fitment" in asked(answer)


def test_a_dual_axle_has_four_tyres_at_the_dual_load() -> None:
    answer = limits(TRUCK)
    assert answer.load.tyres_on_axle == 4
    assert answer.load.capacity is not None
    assert answer.load.capacity.low == 4 * 3350
    assert answer.fit == "fit"


def test_a_motorcycle_has_one_tyre_an_axle() -> None:
    answer = limits(MOTORCYCLE)
    assert answer.load.tyres_on_axle == 1
    assert answer.load.capacity is not None
    assert answer.load.capacity.high == 307


@pytest.mark.parametrize(
    ("kmh", "low", "high"),
    [
        (270, 670, 670),
        (285, 670 * 0.925, 670 * 0.925),
        (300, 670 * 0.85, 670 * 0.85),
        (301, 0, 670 * 0.85),
        (330, 0, 670 * 0.85),
        ({"low": 297, "high": 330}, 0, 670 * 0.865),
        ({"low": 300, "high": 301}, 0, 670 * 0.85),
    ],
)
def test_above_300_kmh_a_bracketed_y_tyre_is_granted_nothing_and_at_most_what_it_carries_at_300(
    kmh: Json, low: float, high: float
) -> None:
    """UN R30, definition of the maximum load rating: Y from 100 % at 270 to 85 % at 300 km/h, linear between.

    Above 300 km/h the load is the tyre maker's to say; that he grants no more there than at 300 is our own inference.
    """
    tyre = {"marking": "225/45ZR17 (94Y)"}
    load = limits({"rulebook": "au", "tyre": tyre, "vehicle": {"max_speed_kmh": kmh}}).load
    assert load.single is not None
    assert (load.single.low, load.single.high) == pytest.approx((low, high), abs=0.01)


def test_the_moulded_load_outranks_the_index() -> None:
    answer = limits({"tyre": {"max_load_kg": 600}})
    assert answer.load.rests_on == "moulded"
    assert answer.load.single is not None
    assert answer.load.single.high == 600


def test_a_moulded_load_falls_with_the_vehicles_speed_too() -> None:
    answer = limits({"tyre": {"max_load_kg": 600}, "vehicle": {"max_speed_kmh": 240}})
    assert answer.load.single is not None
    assert answer.load.single.high == 600 * 0.91


def test_less_load_at_top_speed_is_said_only_where_there_is_less() -> None:
    for index in range(80, 120):  # UN R30: the load falls above 210 km/h, by the vehicle's top speed
        assert "load_falls" not in codes(limits(marking(f"205/55R16 {index}V"), {"vehicle": {"max_speed_kmh": 210}}))
        assert "load_falls" in codes(limits(marking(f"205/55R16 {index}V"), {"vehicle": {"max_speed_kmh": 240}}))


def test_a_moulded_load_far_above_the_index_was_misread() -> None:
    answer = limits({"tyre": {"max_load_kg": 915}})
    assert answer.load.rests_on == "load_index"
    assert answer.load.single is not None
    assert answer.load.single.high == 615
    assert "moulded_misread" in codes(answer)


def test_a_moulded_range_that_may_be_misread_grants_no_more_than_either() -> None:
    answer = limits({"tyre": {"max_load_kg": {"low": 600, "high": 900}}})
    assert answer.load.single is not None
    assert (answer.load.single.low, answer.load.single.high) == (600, 621.15)


def test_without_an_index_only_the_moulded_load_speaks() -> None:
    assert limits(marking("205/55R16")).load.rests_on == "nothing"
    answer = limits(marking("205/55R16", max_load_kg=615))
    assert (answer.load.rests_on, answer.load.status) == ("moulded", "enough")


def test_without_a_symbol_a_moulded_load_holds_to_the_speed_where_the_first_symbol_falls() -> None:
    fast = {"vehicle": {"max_speed_kmh": 211}}
    assert limits(marking("205/55R16", max_load_kg=615), fast).load.status == "open"


def test_where_neither_index_nor_moulded_load_is_known_it_is_asked_for() -> None:
    answer = limits(marking("205/55R16"))
    assert (answer.load.status, answer.load.single, answer.load.capacity) == ("open", None, None)
    assert {"/tyre/max_load_kg", "/tyre/marking"} <= set(asked(answer))


def test_a_light_truck_tyre_is_not_trusted_to_its_index_near_the_limit() -> None:
    lt = marking("LT235/85R16 120/116R")
    answer = limits(lt, {"vehicle": {"kind": "van", "max_speed_kmh": 150}, "position": {"axle_load_kg": 2785}})
    assert answer.load.status == "open"
    assert asked(answer)[0] == "/tyre/max_load_kg"
    assert "index_not_moulded" in codes(answer)


def test_an_additional_description_is_a_point_of_its_own() -> None:
    two = {"tyre": {"marking": "315/80R22.5 156/150L (154/150M)"}}
    slow, fast = limits(TRUCK, two), limits(TRUCK, two, {"vehicle": {"max_speed_kmh": 125}})
    assert slow.load.single is not None
    assert fast.load.single is not None
    assert (slow.load.single.high, fast.load.single.high) == (4000, 3750)


def test_a_moulded_dual_load_outranks_the_dual_index_and_never_the_single_load() -> None:
    over = {"in_service": {"max_load_dual_kg": 3300}}
    assert limits(TRUCK, over).load.dual == limits(TRUCK, {"tyre": {"max_load_kg": 3300}}).load.dual


@pytest.mark.parametrize("text", ["120/70ZR17 M/C (58W)", "120/70ZR17 M/C 58W"])
def test_a_fast_motorcycles_load_is_left_to_its_maker_where_its_index_falls(text: str) -> None:
    answer = limits(MOTORCYCLE, {"tyre": {"marking": text}, "vehicle": {"max_speed_kmh": 255}})
    assert answer.load.single is not None
    assert answer.load.single.low == 0
    assert answer.load.status == "open"
