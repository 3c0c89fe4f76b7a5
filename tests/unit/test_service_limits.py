"""What a tyre may do after its repair, by its public answer: speed, load, position, caveats, follow-ups, questions."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any, Final

import msgspec
import pytest

from mendgauge.case import Case
from mendgauge.problem import CaseError
from mendgauge.rulebooks import list_editions
from mendgauge.service_limits import ServiceLimits, find_service_limits

Json = dict[str, Any]

INJURY: Final[Json] = {
    "region": "tread",
    "depth": "through",
    "across_mm": 10,
    "around_mm": 640,
    "measured_from": "outside",
    "diameter_mm": 2.5,
    "stage": "found",
    "lean_deg": 5,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}
CAR: Final[Json] = {
    "rulebook": "gb",
    "assessed_on": "2026-11-24",
    "vehicle": {"kind": "car", "gross_mass_kg": 1900, "max_speed_kmh": 200},
    "position": {"axle": "rear", "steered": False, "fitment": "single", "axle_load_kg": 980},
    "tyre": {
        "marking": "205/55R16 91V",
        "date_code": "2323",
        "tread_depth_mm": 5.0,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted", "speed_rating_after_repair": "retained"},
    },
    "in_service": {"axle_mates": [{"place": "other_end", "marking": "205/55R16 91V", "tread_depth_mm": 5.5}]},
    "injuries": [INJURY],
    "earlier_repairs": [],
    "inspection": {"complete": True},
    "history": {"complete": True, "pressure_found_percent": 90},
}
TRUCK: Final[Json] = {
    "vehicle": {"kind": "truck", "gross_mass_kg": 18_000, "max_speed_kmh": 90},
    "position": {"axle": "drive", "fitment": "dual_outer", "axle_load_kg": 11_000},
    "tyre": {"marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "tread_width_mm": 270},
    "in_service": {
        "overall_diameter_mm": 1070,
        "axle_mates": [
            {
                "place": "dual_mate",
                "marking": "315/80R22.5 156/150L",
                "tread_depth_mm": 10,
                "overall_diameter_mm": 1070,
            },
            {"place": "other_end", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10},
        ],
    },
}
BUS: Final[Json] = {
    "vehicle": {"kind": "bus", "gross_mass_kg": 18_000, "max_speed_kmh": 100},
    "position": {"axle": "steer", "steered": True, "fitment": "single", "axle_load_kg": 6900},
    "tyre": {"marking": "295/80R22.5 152/148M", "tread_depth_mm": 9, "tread_width_mm": 240},
    "in_service": {"axle_mates": [{"marking": "295/80R22.5 152/148M", "tread_depth_mm": 9}]},
}
MOTORCYCLE: Final[Json] = {
    "vehicle": {"kind": "motorcycle", "gross_mass_kg": 400, "max_speed_kmh": 190},
    "position": {"axle": "rear", "fitment": "single", "axle_load_kg": 220},
    "tyre": {"marking": "130/90-16 M/C 67H", "tread_depth_mm": 4, "tread_width_mm": 130},
    "in_service": {"axle_mates": []},
}


def laid_over(base: Any, over: Any) -> Any:
    """Tables merge, anything else replaces; `None` takes a field away."""
    if isinstance(base, dict) and isinstance(over, dict):
        merged = base | {key: laid_over(base.get(key), value) for key, value in over.items()}
        return {key: value for key, value in merged.items() if value is not None}
    return over


def limits(*over: Json) -> ServiceLimits:
    case: Json = CAR
    for one in over:
        case = laid_over(case, one)
    return find_service_limits(msgspec.convert(case, Case))


def policy(**words: Any) -> Json:
    return {"tyre": {"maker_policy": words}}


def marking(text: str, **tyre: Any) -> Json:
    return {
        "tyre": {"marking": text, **tyre},
        "in_service": {"axle_mates": [{"place": "other_end", "marking": text, "tread_depth_mm": 5.0}]},
    }


def codes(answer: ServiceLimits) -> set[str]:
    return {caveat.code for caveat in answer.caveats}


def asked(answer: ServiceLimits) -> list[str]:
    return [question.field for question in answer.to_establish]


def outcome(answer: ServiceLimits, rule: str) -> tuple[str, str | None]:
    found = {finding.rule: (finding.outcome, finding.effect) for finding in answer.findings}
    return found.get(rule, ("met", None))


# --- Speed ----------------------------------------------------------------------------------------------------------


def test_a_good_car_is_fit_and_keeps_its_speed_by_its_makers_word() -> None:
    answer = limits()
    assert (answer.verdict, answer.fit) == ("repairable", "fit")
    assert (answer.speed.status, answer.speed.rests_on, answer.speed.covers_vehicle) == (
        "retained",
        "tyre_maker",
        "yes",
    )
    assert (answer.speed.ceiling_kmh, answer.speed.ceiling_mph) == (240, 149.1)
    assert answer.speed.ceiling_settled
    assert (answer.load.status, answer.position.status) == ("enough", "allowed")
    assert answer.findings == ()
    assert answer.to_establish == ()


@pytest.mark.parametrize("book", [edition.reference for edition in list_editions()])
def test_no_book_keeps_a_rating_without_the_makers_word(book: str) -> None:
    answer = limits({"rulebook": book}, policy(speed_rating_after_repair=None))
    assert (answer.speed.status, answer.speed.rests_on) == ("not_confirmed", "nobody")
    assert answer.speed.possible_statuses == ("retained", "capped", "void")
    assert answer.speed.ceiling_kmh is None
    assert answer.speed.covers_vehicle == "open"
    assert "rating_not_confirmed" in codes(answer)
    assert "rating_retained" not in codes(answer)
    assert "/tyre/maker_policy/speed_rating_after_repair" in asked(answer)
    assert answer.speed.book_says
    assert answer.speed.source


def test_a_void_rating_assures_no_speed() -> None:
    answer = limits(policy(speed_rating_after_repair="void"))
    assert (answer.speed.status, answer.speed.ceiling_kmh, answer.speed.covers_vehicle) == ("void", None, "no")
    assert answer.speed.ceiling_settled
    void = next(caveat for caveat in answer.caveats if caveat.code == "rating_void")
    assert void.acknowledge
    assert void.to == ("counter", "driver", "job_file")


def test_a_capped_rating_is_a_ceiling_in_both_units() -> None:
    answer = limits(policy(speed_rating_after_repair="capped", speed_cap_kmh=180))
    assert (answer.speed.status, answer.speed.ceiling_kmh, answer.speed.ceiling_mph) == ("capped", 180, 111.8)
    assert answer.speed.covers_vehicle == "no"
    assert {"rating_capped", "below_vehicle"} <= codes(answer)
    (cap,) = answer.speed.ceilings
    assert (cap.when, cap.certain, cap.basis) == ("maker_cap", True, None)


def test_a_cap_above_the_symbol_never_makes_it_faster() -> None:
    assert limits(policy(speed_rating_after_repair="capped", speed_cap_kmh=270)).speed.ceiling_kmh == 240


def test_a_figure_alone_says_capped() -> None:
    assert limits(policy(speed_rating_after_repair=None, speed_cap_kmh=180)).speed.status == "capped"


def test_capped_without_a_figure_asks_for_it() -> None:
    answer = limits(policy(speed_rating_after_repair="capped"))
    assert (answer.speed.status, answer.speed.covers_vehicle) == ("capped", "open")
    assert not answer.speed.ceiling_settled
    assert "rating_capped_no_figure" in codes(answer)
    assert asked(answer) == ["/tyre/maker_policy/speed_cap_kmh"]


def test_a_missing_vehicle_speed_is_open_with_the_question() -> None:
    answer = limits({"vehicle": {"max_speed_kmh": None}})
    assert answer.speed.covers_vehicle == "open"
    assert answer.speed.vehicle_kmh is None
    assert (answer.position.status, answer.fit) == ("open", "open")
    assert outcome(answer, "speed_symbol") == ("open", "not_in_this_position")
    assert asked(answer)[0] == "/vehicle/max_speed_kmh"
    assert {"speed_symbol", "covers_vehicle"} <= set(answer.to_establish[0].settles)


@pytest.mark.parametrize(
    ("text", "symbol", "kmh", "floor"),
    [
        ("205/55R16 91H", "H", 210, False),
        ("205/55ZR16", "ZR", 240, True),
        ("245/35ZR20 (95Y)", "(Y)", 300, True),
        ("205/55R16", None, None, False),
    ],
)
def test_brackets_and_zr_are_floors(text: str, symbol: str | None, kmh: float | None, floor: bool) -> None:
    answer = limits(marking(text))
    assert (answer.speed.symbol, answer.speed.rated_kmh, answer.speed.rated_is_floor) == (symbol, kmh, floor)
    assert answer.speed.ceiling_kmh == (None if floor or kmh is None else kmh)
    assert ("speed_floor" in codes(answer)) == floor


@pytest.mark.parametrize(("vehicle_kmh", "covers"), [(240, "yes"), (250, "open")])
def test_above_a_floor_only_the_maker_knows(vehicle_kmh: float, covers: str) -> None:
    answer = limits(marking("205/55ZR16"), {"vehicle": {"max_speed_kmh": vehicle_kmh}})
    assert answer.speed.covers_vehicle == covers


def test_without_a_repair_the_rating_is_the_markings() -> None:
    answer = limits({"injuries": []}, policy(speed_rating_after_repair=None))
    assert (answer.speed.status, answer.speed.rests_on) == ("retained", "marking")
    assert not any(code.startswith("rating_") for code in codes(answer))


def test_a_tyre_that_carries_a_repair_is_a_repaired_one() -> None:
    repair = {"method": "one_piece", "proper": True, "across_mm": -30, "around_mm": 1500, "patch_mm": 45}
    answer = limits({"injuries": [], "earlier_repairs": [repair]}, policy(speed_rating_after_repair="void"))
    assert answer.speed.status == "void"


# --- Speeds not to pass ---------------------------------------------------------------------------------------------


def test_a_motorcycle_keeps_to_80_for_its_first_day() -> None:
    answer = limits(MOTORCYCLE)
    (first,) = answer.speed.ceilings
    assert (first.when, first.max_kmh, first.for_hours, first.certain) == ("first_hours", 80, 24, True)
    assert answer.speed.ceiling_kmh == 210
    assert "first_hours" in codes(answer)


def test_in_france_a_motorcycle_then_keeps_to_120() -> None:
    answer = limits(MOTORCYCLE, {"rulebook": "fr"})
    assert [(one.when, one.max_kmh) for one in answer.speed.ceilings] == [("first_hours", 80), ("afterwards", 120)]
    assert (answer.speed.ceiling_kmh, answer.speed.covers_vehicle) == (120, "no")


def test_a_motorcycle_that_is_not_repaired_has_no_first_day() -> None:
    assert limits(MOTORCYCLE, {"injuries": []}).speed.ceilings == ()


@pytest.mark.parametrize(("book", "kmh", "mph"), [("gb", 80.5, 50), ("de", 80, 49.7)])
def test_a_temporary_spare_has_a_speed_of_its_own(book: str, kmh: float, mph: float) -> None:
    spare = {
        "rulebook": book,
        "tyre": {"marking": "T125/70R16 96M", "tread_width_mm": 100},
        "position": {"axle": "spare"},
        "in_service": None,
    }
    answer = limits(spare)
    assert answer.verdict == "not_repairable"
    (own,) = answer.speed.ceilings
    assert (own.when, own.max_kmh, own.max_mph, own.certain) == ("temporary_use", kmh, mph, True)
    assert (answer.speed.ceiling_kmh, answer.speed.covers_vehicle) == (kmh, "no")
    assert outcome(answer, "speed_symbol") == ("broken", "caution")
    assert {"temporary_use", "spare_position", "not_repairable"} <= codes(answer)


def test_a_run_flat_tyre_goes_80_km_at_80_without_pressure() -> None:
    answer = limits({"tyre": {"traits": {"run_flat": True}}})
    (flat,) = answer.speed.ceilings
    assert (flat.when, flat.max_kmh, flat.for_km, flat.certain) == ("run_deflated", 80, 80, True)
    assert answer.speed.ceiling_kmh == 240


def test_a_limit_that_hangs_on_what_is_not_known_is_told_as_such() -> None:
    answer = limits({"tyre": {"traits": None}})
    assert {(one.when, one.certain) for one in answer.speed.ceilings} == {
        ("temporary_use", False),
        ("run_deflated", False),
    }
    assert not answer.speed.ceiling_settled
    assert "/tyre/traits/temporary_spare" in asked(answer)
    assert "temporary_use" not in codes(answer)


def test_where_the_vehicle_is_not_known_a_motorcycles_day_may_be_due() -> None:
    answer = limits(MOTORCYCLE, {"tyre": {"marking": "4.00-18 64H"}, "vehicle": {"kind": None}})
    first = next(one for one in answer.speed.ceilings if one.when == "first_hours")
    assert not first.certain
    assert "/vehicle/kind" in asked(answer)


# --- Load -----------------------------------------------------------------------------------------------------------


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


def test_the_moulded_load_outranks_the_index() -> None:
    answer = limits({"tyre": {"max_load_kg": 600}})
    assert answer.load.rests_on == "moulded"
    assert answer.load.single is not None
    assert answer.load.single.high == 600


def test_a_moulded_load_falls_with_the_vehicles_speed_too() -> None:
    answer = limits({"tyre": {"max_load_kg": 600}, "vehicle": {"max_speed_kmh": 240}})
    assert answer.load.single is not None
    assert answer.load.single.high == 600 * 0.91


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


# --- Position -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("axle", "told"),
    [("front", ("broken", "not_in_this_position")), ("rear", ("met", None)), (None, ("open", "not_in_this_position"))],
)
def test_in_japan_a_repaired_tyre_keeps_off_the_front_axle(axle: str | None, told: tuple[str, str | None]) -> None:
    answer = limits({"rulebook": "jp", "position": {"axle": axle, "steered": None}})
    assert outcome(answer, "front_repaired") == told
    if told[0] == "open":
        assert asked(answer)[0] == "/position/axle"


def test_in_japan_a_tyre_without_a_repair_may_run_in_front() -> None:
    assert limits({"rulebook": "jp", "injuries": [], "position": {"axle": "front"}}).position.status == "allowed"


@pytest.mark.parametrize(("made", "status"), [("3615", "not_allowed"), ("3617", "allowed")])
def test_ten_years_on_a_coachs_front_axle(made: str, status: str) -> None:
    answer = limits(BUS, {"tyre": {"date_code": made}})
    assert answer.position.status == status


@pytest.mark.parametrize(
    ("traits", "axle", "told"),
    [
        ({"retread": True}, "steer", ("broken", "not_in_this_position")),
        ({"retread": True}, "drive", ("met", None)),
        ({"retread": None, "complete": False}, "steer", ("open", "not_in_this_position")),
    ],
)
def test_no_retread_on_an_american_buss_front_wheels(traits: Json, axle: str, told: tuple[str, str | None]) -> None:
    answer = limits(BUS, {"rulebook": "us", "tyre": {"traits": traits}, "position": {"axle": axle, "steered": None}})
    assert outcome(answer, "front_retread") == told


def test_an_american_truck_may_run_a_retread_in_front() -> None:
    answer = limits(BUS, {"rulebook": "us", "vehicle": {"kind": "truck"}, "tyre": {"traits": {"retread": True}}})
    assert outcome(answer, "front_retread") == ("met", None)


@pytest.mark.parametrize(
    ("axle", "tread", "status"),
    [
        ("steer", 3.2, "allowed"),
        ("steer", 3.1, "not_allowed"),
        ("drive", 3.1, "allowed"),
        ("drive", 1.5, "not_allowed"),
    ],
)
def test_american_tread_by_axle(axle: str, tread: float, status: str) -> None:
    position = {"axle": axle, "steered": None, "fitment": "single"}
    answer = limits(BUS, {"rulebook": "us", "tyre": {"tread_depth_mm": tread}, "position": position})
    assert answer.position.status == status


def test_a_house_keeps_repaired_tyres_off_its_steer_axles() -> None:
    house = {"house_rules": {"refuse_steer_axle": True}}
    answer = limits(BUS, house)
    assert outcome(answer, "house_steer_axle") == ("broken", "not_in_this_position")
    assert answer.findings[0].basis == "house_rule"
    assert outcome(limits(BUS, house, {"injuries": []}), "house_steer_axle") == ("met", None)


def test_the_speed_symbol_must_cover_the_vehicle() -> None:
    answer = limits({"vehicle": {"max_speed_kmh": 241}, "in_service": {"winter_tyre": False}})
    assert outcome(answer, "speed_symbol") == ("broken", "not_in_this_position")
    assert (answer.position.status, answer.speed.covers_vehicle) == ("not_allowed", "no")


@pytest.mark.parametrize(
    ("service", "told", "status"),
    [
        ({"winter_tyre": True, "speed_label": True}, ("broken", "caution"), "allowed"),
        ({"winter_tyre": True, "speed_label": False}, ("broken", "not_in_this_position"), "not_allowed"),
        ({"winter_tyre": True}, ("open", "not_in_this_position"), "open"),
        ({"speed_label": True}, ("open", "not_in_this_position"), "open"),
        ({"winter_tyre": False, "speed_label": True}, ("broken", "not_in_this_position"), "not_allowed"),
    ],
)
def test_a_slower_winter_tyre_runs_by_its_label(service: Json, told: tuple[str, str], status: str) -> None:
    answer = limits(marking("205/55R16 91H"), {"vehicle": {"max_speed_kmh": 225}, "in_service": service})
    assert outcome(answer, "speed_symbol") == told
    assert answer.position.status == status
    assert ("winter_label" in codes(answer)) == (told == ("broken", "caution"))


@pytest.mark.parametrize("tag", ["M+S", "3PMSF"])
def test_the_marking_may_say_that_it_is_a_winter_tyre(tag: str) -> None:
    over = {"vehicle": {"max_speed_kmh": 225}, "in_service": {"speed_label": True}}
    assert limits(marking(f"205/55R16 91H {tag}"), over).position.status == "allowed"


@pytest.mark.parametrize(
    ("mate", "size", "construction"),
    [
        ("205/55R16 94W", "met", "met"),
        ("215/55R16 93V", "broken", "met"),
        ("205/55B16 91V", "met", "broken"),
        (None, "open", "open"),
    ],
)
def test_the_tyres_of_an_axle_are_alike(mate: str | None, size: str, construction: str) -> None:
    told = {"place": "other_end", "tread_depth_mm": 5.0} | ({} if mate is None else {"marking": mate})
    answer = limits({"in_service": {"axle_mates": [told]}})
    assert outcome(answer, "axle_size")[0] == size
    assert outcome(answer, "axle_construction")[0] == construction
    assert ("/in_service/axle_mates/0/marking" in asked(answer)) == (mate is None)


def test_unknown_mates_leave_the_position_open() -> None:
    answer = limits({"in_service": None})
    assert answer.position.status == "open"
    assert asked(answer) == ["/in_service/axle_mates"]


def test_a_spare_has_no_mates_to_ask_for() -> None:
    answer = limits({"in_service": None, "position": {"axle": "spare"}})
    assert answer.position.status == "allowed"
    assert "spare_position" in codes(answer)


@pytest.mark.parametrize(("mate", "told"), [(1079.525, "met"), (1082.7, "met"), (1082.8, "broken"), (1057.2, "broken")])
def test_a_dual_pair_matches_by_its_diameters(mate: float, told: str) -> None:
    pair = {"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "overall_diameter_mm": mate}
    assert outcome(limits(TRUCK, {"in_service": {"axle_mates": [pair]}}), "dual_match")[0] == told


def test_a_dual_pair_that_nobody_measured_is_open_with_the_questions() -> None:
    pair = {"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10}
    answer = limits(TRUCK, {"in_service": {"axle_mates": [pair], "overall_diameter_mm": None}})
    assert outcome(answer, "dual_match")[0] == "open"
    assert {"/in_service/overall_diameter_mm", "/in_service/axle_mates/0/overall_diameter_mm"} <= set(asked(answer))


def test_a_dual_pair_whose_mate_nobody_named_is_open() -> None:
    one = {"place": "other_end", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10}
    answer = limits(TRUCK, {"in_service": {"axle_mates": [one]}})
    assert outcome(answer, "dual_match")[0] == "open"
    assert "/in_service/axle_mates" in asked(answer)


def test_a_tyre_that_may_or_may_not_be_the_mate_proves_no_match() -> None:
    one = {"marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "overall_diameter_mm": 1070}
    answer = limits(TRUCK, {"in_service": {"axle_mates": [one]}})
    assert outcome(answer, "dual_match")[0] == "open"
    assert "/in_service/axle_mates/0/place" in asked(answer)


@pytest.mark.parametrize(
    ("over", "rule"),
    [
        ({"in_service": {"axle_mates": [{"marking": "205/55R16 91V", "tread_depth_mm": 1.9}]}}, "axle_tread"),
        (
            {
                **TRUCK,
                "in_service": {
                    "overall_diameter_mm": 1070,
                    "axle_mates": [
                        {
                            "place": "dual_mate",
                            "marking": "315/80R22.5 156/150L",
                            "tread_depth_mm": 13.3,
                            "overall_diameter_mm": 1075,
                        }
                    ],
                },
            },
            "dual_tread",
        ),
    ],
)
def test_tread_worn_unlike_is_a_caution(over: Json, rule: str) -> None:
    over = laid_over(over, {})
    if rule == "axle_tread":
        over["in_service"]["axle_mates"][0]["place"] = "other_end"
    answer = limits(over)
    assert outcome(answer, rule) == ("broken", "caution")
    assert answer.position.status == "allowed"


# --- What the verdict means for it ----------------------------------------------------------------------------------


def test_a_tyre_that_may_not_be_repaired_is_answered_for_and_the_verdict_comes_first() -> None:
    answer = limits({"inspection": {"bulge": True}})
    assert (answer.verdict, answer.fit) == ("not_repairable", "not_fit")
    assert answer.says.startswith("The tyre may not be repaired")
    assert answer.caveats[0].code == "not_repairable"
    assert answer.load.single is not None
    assert answer.follow_ups == ()
    assert not any(code.startswith("rating_") for code in codes(answer))


def test_an_open_verdict_leaves_the_fit_open() -> None:
    answer = limits({"inspection": None})
    assert (answer.verdict, answer.fit) == ("inspect", "open")
    assert answer.caveats[0].code != "not_repairable"
    assert "verdict_open" in codes(answer)


def test_a_specialists_repair_leaves_the_fit_open() -> None:
    answer = limits({"injuries": [INJURY | {"across_mm": 76}]})
    assert (answer.verdict, answer.fit) == ("specialist", "open")
    assert "specialist_only" in codes(answer)


# --- What to print and to look at again -----------------------------------------------------------------------------


def test_what_must_be_acknowledged_comes_first() -> None:
    answer = limits(policy(speed_rating_after_repair="void"), {"position": {"axle_load_kg": 1300}})
    flags = [caveat.acknowledge for caveat in answer.caveats]
    assert flags == sorted(flags, reverse=True)
    assert all(caveat.basis and caveat.source for caveat in answer.caveats)


def test_torque_is_checked_again_within_the_window_in_both_units() -> None:
    (torque,) = [one for one in limits(TRUCK).follow_ups if one.code == "re_torque"]
    assert (torque.from_km, torque.to_km, torque.from_miles, torque.to_miles) == (80, 160, 50, 100)
    assert torque.basis == "published_summary"
    (habit,) = [one for one in limits().follow_ups if one.code == "re_torque"]
    assert habit.basis == "common_practice"


@pytest.mark.parametrize(
    ("trait", "follow_up", "caveat"),
    [("foam_lined", "foam_look", "foam_refitted"), ("self_sealing", "self_sealing_look", "sealing_layer")],
)
def test_foam_and_sealing_layers_need_a_word(trait: str, follow_up: str, caveat: str) -> None:
    answer = limits({"tyre": {"traits": {trait: True}}})
    assert follow_up in {one.code for one in answer.follow_ups}
    assert caveat in codes(answer)
    assert follow_up not in {one.code for one in limits().follow_ups}


def test_sealant_that_was_put_in_needs_a_word() -> None:
    assert "sealant_cleaned" in codes(limits({"history": {"sealant_used": True}}))


def test_commercial_tyres_are_told_that_slowness_adds_no_load() -> None:
    assert "no_load_for_slowness" in codes(limits(TRUCK))
    assert "no_load_for_slowness" not in codes(limits())


def test_an_american_book_answers_in_american_words() -> None:
    text = msgspec.json.encode(limits({"rulebook": "us"})).decode()
    assert "tyre'" not in text
    assert "The tire may be repaired" in text


def test_the_rules_that_are_met_are_told_on_request() -> None:
    told = {finding.rule: finding.outcome for finding in limits({"explain": True}).findings}
    assert told == dict.fromkeys(
        ("service_tread", "speed_symbol", "axle_load", "axle_size", "axle_construction", "axle_tread"), "met"
    )


def texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts(inner)
    elif isinstance(value, list | tuple):
        for inner in value:
            yield from texts(inner)


@pytest.mark.parametrize("book", [edition.book.id for edition in list_editions()])
@pytest.mark.parametrize("kind", [{}, TRUCK, BUS, MOTORCYCLE, {"tyre": {"traits": None}, "in_service": None}])
def test_every_text_is_filled_in(kind: Json, book: str) -> None:
    answer = limits(kind, {"rulebook": book, "explain": True}, policy(speed_rating_after_repair=None))
    for text in texts(msgspec.to_builtins(answer)):
        assert not set("{}") & set(text), text
        assert "None" not in text


# --- What contradicts itself ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("over", "pointer", "says"),
    [
        ({"in_service": {"axle_mates": [{"marking": "205/55"}]}}, "/in_service/axle_mates/0/marking", "rim"),
        (
            {"in_service": {"axle_mates": [{"place": "dual_mate"}]}},
            "/in_service/axle_mates/0/place",
            "has no dual mate",
        ),
        (
            {**TRUCK, "in_service": {"axle_mates": [{"place": "dual_mate"}, {"place": "dual_mate"}]}},
            "/in_service/axle_mates/1/place",
            "has one mate",
        ),
        ({"position": {"axle": "spare"}}, "/in_service/axle_mates", "no axle yet"),
        ({"in_service": {"overall_diameter_mm": {"low": 640, "high": 630}}}, "/in_service/overall_diameter_mm", "low"),
        (policy(speed_cap_kmh=180), "/tyre/maker_policy/speed_cap_kmh", "retained has no cap"),
    ],
)
def test_what_contradicts_itself_is_refused(over: Json, pointer: str, says: str) -> None:
    with pytest.raises(CaseError) as refused:
        limits(over)
    (flaw,) = refused.value.errors
    assert flaw.pointer == pointer
    assert says in flaw.detail


def test_a_shops_tolerances_reach_the_other_tyres_too() -> None:
    pair = {"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "overall_diameter_mm": 1082}
    measured = {"in_service": {"axle_mates": [pair]}, "measuring": {"ruler_mm": 1}}
    assert outcome(limits(TRUCK, measured), "dual_match")[0] == "open"


def test_today_stands_in_for_a_missing_day() -> None:
    case = msgspec.convert(laid_over(CAR, {"assessed_on": None}), Case)
    assert find_service_limits(case, date(2026, 11, 24)) == limits()
