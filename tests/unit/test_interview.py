"""Few questions are asked until it is clear what to do, in every book; what waits for the workshop is not forgotten."""

from __future__ import annotations

from collections import defaultdict
from functools import cache
from statistics import median
from typing import Any

import msgspec
import pytest
from tests.bench.calls import Call, draw_calls
from tests.bench.interview import Interview, interview, of_the_fleet
from tests.bench.sizes import BOOKS

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability

CALLS = 250


@cache
def calls() -> list[tuple[Call, Interview]]:
    return [(call, interview(call.said, call.truth)) for call in draw_calls(CALLS)]


def test_at_most_four_questions_in_the_middle_and_six_at_most_in_every_book() -> None:
    counts = defaultdict(list)
    for one in [*of_the_fleet(), *(held for _, held in calls())]:
        counts[one.book].append(len(one.asked))
    assert set(counts) == set(BOOKS)
    assert {book: median(some) for book, some in counts.items() if median(some) > 4} == {}
    assert {book: max(some) for book, some in counts.items() if max(some) > 6} == {}


def test_what_is_decided_by_phone_is_what_the_whole_tyre_comes_to() -> None:
    for call, held in calls():
        if held.answer.verdict != "inspect":
            assert check_repairability(msgspec.convert(call.truth, Case)).verdict == held.answer.verdict


def test_what_waits_for_the_workshop_is_asked_there() -> None:
    waited = {
        one.field for _, held in calls() if held.answer.next_step == "book_in" for one in questions_left(held.answer)
    }
    assert waited >= {"/tyre/maker_policy/repair", "/tyre/tread_depth_mm", "/tyre/traits/temporary_spare"}


def questions_left(answer: Repairability) -> list[Any]:
    return [one for one in answer.to_establish if one.waits]


CAR: dict[str, Any] = {
    "rulebook": "gb",
    "vehicle": {"kind": "car"},
    "tyre": {"marking": "205/55R16 91V"},
    "injuries": [{"region": "tread", "plugged_from_outside": False}],
}


def asked(kind: str, **traits: bool) -> tuple[str, str]:
    case = CAR | {"vehicle": {"kind": kind}, "tyre": CAR["tyre"] | {"traits": traits}}
    answer = check_repairability(msgspec.convert(case, Case))
    return answer.next_step, answer.to_establish[0].field


def test_the_makers_word_is_asked_before_a_run_flat_is_booked_in() -> None:
    assert asked("car") == ("ask_first", "/tyre/traits/run_flat")
    assert asked("car", run_flat=True) == ("ask_first", "/tyre/maker_policy/repair")
    assert asked("car", run_flat=False)[0] == "book_in"


def test_nobody_is_asked_whether_a_motorcycle_has_run_flats() -> None:
    case = CAR | {"vehicle": {"kind": "motorcycle"}, "tyre": {"marking": "120/70ZR17 M/C (58W)"}}
    answer = check_repairability(msgspec.convert(case, Case))
    assert answer.next_step == "book_in"


@pytest.mark.parametrize(
    ("kind", "marking", "traits"),
    [
        ("motorcycle", "4.00-18 64S TT", {}),
        ("truck", "10.00-20 146/143K TT", {}),
        ("car", "205/55R16 91V", {"tube_type": True}),
    ],
)
def test_nobody_is_asked_whether_a_tyre_with_a_tube_is_a_run_flat(
    kind: str, marking: str, traits: dict[str, bool]
) -> None:
    case = {"rulebook": "gb", "detail": "full", "vehicle": {"kind": kind}, "tyre": {"marking": marking}}
    assert "/tyre/traits/run_flat" in questions(case | {"tyre": {"marking": marking.removesuffix(" TT")}})
    assert "/tyre/traits/run_flat" not in questions(case | {"tyre": {"marking": marking, "traits": traits}})


def questions(case: dict[str, Any]) -> set[str]:
    return {one.field for one in check_repairability(msgspec.convert(case, Case)).to_establish}


@pytest.mark.parametrize("missing", ["maker_policy", "tread_depth_mm"])
def test_what_waits_is_asked_first_once_nothing_is_left_for_the_bench(missing: str) -> None:
    answers = []
    for call in draw_calls(CALLS):
        if check_repairability(msgspec.convert(call.truth, Case)).next_step == "repair":
            tyre = {name: value for name, value in call.truth["tyre"].items() if name != missing}
            answers.append(check_repairability(msgspec.convert(call.truth | {"tyre": tyre}, Case)))
    still_open = [answer for answer in answers if answer.verdict == "inspect"]
    assert still_open
    assert {answer.next_step for answer in still_open} == {"ask_first"}
    assert {answer.to_establish[0].field.split("/")[2] for answer in still_open} == {missing}
