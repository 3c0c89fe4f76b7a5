"""The cases that the builders make, and what the service makes of them."""

from __future__ import annotations

import msgspec
import pytest
from litestar.testing import TestClient

from mendgauge.server import create_app
from mendgauge_client import (
    EarlierRepair,
    History,
    Inspection,
    Position,
    Range,
    Traits,
    TyreCase,
    Vehicle,
    bench_case,
    give_or_take,
    roadside_case,
    tread_puncture,
)


def sent(case: TyreCase) -> object:
    return msgspec.json.decode(msgspec.json.encode(case))


def verdict(case: TyreCase) -> object:
    with TestClient(create_app()) as service:
        answer = service.post("/v1/repairability", content=msgspec.json.encode(case), headers=JSON)
    assert answer.status_code == 200, answer.text
    return answer.json()["verdict"]


JSON = {"Content-Type": "application/json"}


def test_a_bench_case_says_that_all_was_looked_for() -> None:
    case = bench_case("gb", "205/55R16 91V", tread_puncture(4.0, across_mm=20), vehicle="car", tread_depth_mm=5)
    assert sent(case) == {
        "rulebook": "gb",
        "vehicle": {"kind": "car"},
        "tyre": {"marking": "205/55R16 91V", "tread_depth_mm": 5, "traits": {"complete": True}},
        "injuries": [
            {
                "region": "tread",
                "depth": "through",
                "stage": "found",
                "diameter_mm": 4.0,
                "across_mm": 20,
                "measured_from": "outside",
            }
        ],
        "earlier_repairs": [],
        "inspection": {"complete": True},
    }


def test_what_the_bench_found_is_kept_beside_what_it_did_not_find() -> None:
    seen, traits, driver = Inspection(bulge=True), Traits(run_flat=True), History(sealant_used=True)
    repairs = [EarlierRepair(method="one_piece", proper=True)]
    case = bench_case(
        "eu", "205/55R16 91V", seen=seen, traits=traits, driver_says=driver, earlier_repairs=iter(repairs)
    )
    assert sent(case) == {
        "rulebook": "eu",
        "tyre": {"marking": "205/55R16 91V", "traits": {"run_flat": True, "complete": True}},
        "injuries": [],
        "earlier_repairs": [{"method": "one_piece", "proper": True}],
        "inspection": {"bulge": True, "complete": True},
        "history": {"sealant_used": True, "complete": True},
    }
    assert (seen.complete, traits.complete, driver.complete) == (False, False, False), "the caller's own are untouched"


def test_a_roadside_case_claims_nothing_that_a_driver_cannot_know() -> None:
    case = roadside_case("gb", "195/65R15 91H", vehicle="car", region="tread", object="screw", reference="C-117")
    assert sent(case) == {
        "rulebook": "gb",
        "reference": "C-117",
        "vehicle": {"kind": "car"},
        "tyre": {"marking": "195/65R15 91H"},
        "injuries": [{"region": "tread", "object": "screw"}],
    }


@pytest.mark.parametrize("vehicle", ["truck", Vehicle(kind="truck")])
@pytest.mark.parametrize("axle", ["drive", Position(axle="drive")])
def test_a_word_does_for_a_vehicle_or_a_position(vehicle: Vehicle, axle: Position) -> None:
    for case in (
        bench_case("gb", "315/80R22.5 156/150L", vehicle=vehicle, axle=axle),
        roadside_case("gb", "315/80R22.5 156/150L", vehicle=vehicle, axle=axle),
    ):
        assert (case.vehicle, case.position) == (Vehicle(kind="truck"), Position(axle="drive"))


def test_give_or_take() -> None:
    assert give_or_take(4.0, 0.5) == Range(low=3.5, high=4.5)
    assert give_or_take(-30, 0) == Range(low=-30, high=-30)
    with pytest.raises(ValueError, match="tolerance=-1 is negative"):
        give_or_take(4.0, -1)


def test_what_a_bench_found_decides_and_what_a_driver_says_does_not() -> None:
    hole = tread_puncture(give_or_take(4.0, 0.5), across_mm=10, lean_deg=5)
    found = bench_case(
        "gb",
        "205/55R16 91V",
        hole,
        vehicle="car",
        axle="front",
        tread_depth_mm=5,
        date_code="2323",
        driver_says=History(pressure_found_percent=85),
    )
    assert verdict(found) == "repairable"
    found.inspection = Inspection(belt_separation=True)
    assert verdict(found) == "not_repairable"
    assert verdict(roadside_case("gb", "205/55R16 91V", vehicle="car", region="tread")) == "inspect"
    assert verdict(roadside_case("gb", "205/55R16 91V", vehicle="car", region="sidewall")) != "repairable"
