"""Where a repaired tyre may run."""

from __future__ import annotations

import pytest
from tests.unit.limits.base import BUS, TRUCK, Json, asked, codes, laid_over, limits, marking, outcome


@pytest.mark.parametrize(
    ("axle", "expected"),
    [("front", ("broken", "not_in_this_position")), ("rear", ("met", None)), (None, ("open", "not_in_this_position"))],
)
def test_in_japan_a_repaired_tyre_keeps_off_the_front_axle(axle: str | None, expected: tuple[str, str | None]) -> None:
    answer = limits({"rulebook": "jp", "position": {"axle": axle, "steered": None}})
    assert outcome(answer, "front_repaired") == expected
    if expected[0] == "open":
        assert asked(answer)[0] == "/position/axle"


def test_in_japan_a_tyre_without_a_repair_may_run_in_front() -> None:
    assert (
        limits({"rulebook": "jp", "injuries": [], "position": {"axle": "front", "steered": True}}).position.status
        == "allowed"
    )


@pytest.mark.parametrize(("made", "status"), [("3615", "not_allowed"), ("3617", "allowed")])
def test_ten_years_on_a_coachs_front_axle(made: str, status: str) -> None:
    answer = limits(BUS, {"tyre": {"date_code": made}})
    assert answer.position.status == status


@pytest.mark.parametrize(
    ("traits", "axle", "expected"),
    [
        ({"retread": True}, "steer", ("broken", "not_in_this_position")),
        ({"retread": True}, "drive", ("met", None)),
        ({"retread": None, "complete": False}, "steer", ("open", "not_in_this_position")),
    ],
)
def test_no_retread_on_an_american_buss_front_wheels(traits: Json, axle: str, expected: tuple[str, str | None]) -> None:
    answer = limits(BUS, {"rulebook": "us", "tyre": {"traits": traits}, "position": {"axle": axle, "steered": None}})
    assert outcome(answer, "front_retread") == expected


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


@pytest.mark.parametrize(
    ("unknown", "field"),
    [
        ({"position": {"axle": None, "steered": None}}, "/position/axle"),
        ({"injuries": None}, "/injuries/0/depth"),
    ],
)
def test_what_a_house_rule_on_steer_axles_hangs_on_is_asked_for(unknown: Json, field: str) -> None:
    answer = limits(BUS, {"house_rules": {"refuse_steer_axle": True}}, unknown)
    assert outcome(answer, "house_steer_axle") == ("open", "not_in_this_position")
    asks = {question.field: question.settles for question in answer.to_establish}
    assert "house_steer_axle" in asks[field]


def test_the_speed_symbol_must_cover_the_vehicle() -> None:
    answer = limits({"vehicle": {"max_speed_kmh": 241}, "in_service": {"winter_tyre": False}})
    assert outcome(answer, "speed_symbol") == ("broken", "not_in_this_position")
    assert (answer.position.status, answer.speed.covers_vehicle) == ("not_allowed", "no")


@pytest.mark.parametrize(
    ("service", "expected", "status"),
    [
        ({"winter_tyre": True, "speed_label": True}, ("broken", "caution"), "allowed"),
        ({"winter_tyre": True, "speed_label": False}, ("broken", "not_in_this_position"), "not_allowed"),
        ({"winter_tyre": True}, ("open", "not_in_this_position"), "open"),
        ({"speed_label": True}, ("open", "not_in_this_position"), "open"),
        ({"winter_tyre": False, "speed_label": True}, ("broken", "not_in_this_position"), "not_allowed"),
    ],
)
def test_a_slower_winter_tyre_runs_by_its_label(service: Json, expected: tuple[str, str], status: str) -> None:
    answer = limits(marking("205/55R16 91H"), {"vehicle": {"max_speed_kmh": 225}, "in_service": service})
    assert outcome(answer, "speed_symbol") == expected
    assert answer.position.status == status
    assert ("winter_label" in codes(answer)) == (expected == ("broken", "caution"))


def test_a_speed_that_may_or_may_not_be_covered_is_open() -> None:
    over = {"vehicle": {"max_speed_kmh": {"low": 240, "high": 250}}, "in_service": {"winter_tyre": False}}
    assert outcome(limits(over), "speed_symbol") == ("open", "not_in_this_position")


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
        # A size with neither R nor a dash does not say how the tyre is built.
        ("205/55 16 91V", "met", "open"),
        (None, "open", "open"),
    ],
)
def test_the_tyres_of_an_axle_are_alike(mate: str | None, size: str, construction: str) -> None:
    one = {"place": "other_end", "tread_depth_mm": 5.0} | ({} if mate is None else {"marking": mate})
    answer = limits({"in_service": {"axle_mates": [one]}})
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


@pytest.mark.parametrize(
    ("mate", "expected"), [(1079.525, "met"), (1082.7, "met"), (1082.8, "broken"), (1057.2, "broken")]
)
def test_a_dual_pair_matches_by_its_diameters(mate: float, expected: str) -> None:
    pair = {"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "overall_diameter_mm": mate}
    assert outcome(limits(TRUCK, {"in_service": {"axle_mates": [pair]}}), "dual_match")[0] == expected


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


@pytest.mark.parametrize("rule", ["axle_size", "axle_construction", "axle_tread"])
def test_a_spare_has_no_axle_to_match_yet(rule: str) -> None:
    over = {"detail": "full", "position": {"axle": "spare", "fitment": None, "axle_load_kg": None}, "in_service": None}
    answer = limits(over)
    assert outcome(answer, rule) == ("met", None)


@pytest.mark.parametrize(("depth", "expected"), [(5.5, "met"), (1.8, "open")])
def test_a_tyre_of_which_nobody_says_where_it_sits_may_be_the_other_one(depth: float, expected: str) -> None:
    mate = {"marking": "205/55R16 91V", "tread_depth_mm": depth}
    answer = limits({"detail": "full", "in_service": {"axle_mates": [mate]}})
    assert outcome(answer, "axle_tread")[0] == expected


def test_a_tyre_fitted_singly_has_no_dual_mate_to_match() -> None:
    unknown = {"detail": "full", "in_service": None}
    assert outcome(limits(TRUCK, unknown), "dual_tread") == ("open", "caution")
    assert outcome(limits(BUS, unknown), "dual_tread") == ("met", None)
