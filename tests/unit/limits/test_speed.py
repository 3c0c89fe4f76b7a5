"""How fast a repaired tyre may go, and whose word it is."""

from __future__ import annotations

import pytest
from tests.unit.limits.base import MOTORCYCLE, asked, codes, limits, marking, outcome, policy

from mendgauge.rulebooks import list_editions


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
    assert {found.outcome for found in answer.findings} == {"met"}
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


def test_a_limit_that_hangs_on_what_is_not_known_is_reported_as_such() -> None:
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
