"""What the verdict means for the limits, what to print and to look at again, and what is refused."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import msgspec
import pytest
from tests.unit.limits.base import (
    BUS,
    CAR,
    INJURY,
    MOTORCYCLE,
    TRUCK,
    Json,
    codes,
    laid_over,
    limits,
    outcome,
    policy,
)

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.rulebooks import list_editions


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
    outcomes = {finding.rule: finding.outcome for finding in limits({"detail": "full"}).findings}
    assert outcomes == dict.fromkeys(
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
    answer = limits(kind, {"rulebook": book, "detail": "full"}, policy(speed_rating_after_repair=None))
    for text in texts(msgspec.to_builtins(answer)):
        assert not set("{}") & set(text), text
        assert "None" not in text


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
        ({"position": {"axle": "spare"}}, "/in_service/axle_mates", "on no axle"),
        ({"in_service": {"overall_diameter_mm": {"low": 640, "high": 630}}}, "/in_service/overall_diameter_mm", "low"),
        (policy(speed_cap_kmh=180), "/tyre/maker_policy/speed_cap_kmh", "retained rating has no cap"),
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


@pytest.mark.parametrize(
    ("of", "code", "due"),
    [
        (CAR, "pressure_check", date(2026, 11, 25)),
        (CAR, "inspection", date(2026, 12, 24)),
        (TRUCK, "inspection", date(2026, 12, 1)),
        (TRUCK, "re_torque", None),
    ],
)
def test_a_follow_up_has_its_day_or_its_distance(of: dict[str, Any], code: str, due: date | None) -> None:
    # 24 hours, every 30 days, every 7 days and 80 to 160 km after a repair on 24 November 2026: arithmetic.
    (found,) = [one for one in limits(of).follow_ups if one.code == code]
    assert found.due_on == due
    assert (found.to_km is None) == (due is not None)
