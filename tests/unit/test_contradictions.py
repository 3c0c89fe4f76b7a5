"""What contradicts itself is refused, with the place at fault and what would be right."""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.intake.contradictions import check_case


def flaws(**sections: Any) -> dict[str, str]:
    """What is refused of a case, by pointer."""
    case = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, **sections}
    try:
        check_case(msgspec.convert(case, Case), date(2026, 11, 24))
    except CaseError as error:
        return {flaw.pointer: flaw.detail for flaw in error.errors}
    return {}


@pytest.mark.parametrize("depth", ["rubber_only", "to_cord"])
@pytest.mark.parametrize(
    ("field", "value"), [("measured_from", "inside"), ("other_side_across_mm", 21), ("stage", "prepared")]
)
def test_an_injury_that_does_not_go_through_has_no_inside_and_no_channel(depth: str, field: str, value: Any) -> None:
    injury = {"region": "tread", "depth": depth, "across_mm": 20, field: value}
    (pointer,) = found = flaws(injuries=[injury])
    assert pointer == f"/injuries/0/{field}"
    assert "through" in found[pointer]
    assert not flaws(injuries=[{**injury, "depth": "through"}])
    assert not flaws(injuries=[{**injury, "depth": None}])


@pytest.mark.parametrize(("kind", "marking"), [("car", "205/55R16 91V"), ("motorcycle", "100/90-19 57P")])
def test_a_car_and_a_motorcycle_have_no_dual_wheels(kind: str, marking: str) -> None:
    case: dict[str, Any] = {"vehicle": {"kind": kind}, "tyre": {"marking": marking}}
    for fitment in ("dual", "dual_inner", "dual_outer"):
        assert list(flaws(**case, position={"fitment": fitment})) == ["/position/fitment"]
    assert not flaws(**case, position={"fitment": "single"})
    mates = {"axle_mates": [{"place": "dual_mate"}]}
    assert list(flaws(**case, in_service=mates)) == ["/in_service/axle_mates/0/place"]
    assert not flaws(in_service=mates)


@pytest.mark.parametrize("gone", [{"stage": "prepared"}, {"plugged_from_outside": True}])
def test_a_channel_that_was_cut_or_plugged_has_no_object_left_in_it(gone: dict[str, Any]) -> None:
    assert list(flaws(injuries=[{**gone, "object_in_place": True}])) == ["/injuries/0/object_in_place"]
    assert not flaws(injuries=[{**gone, "object_in_place": False}])


def test_the_front_axle_of_all_but_a_trailer_steers() -> None:
    """A drawbar trailer's may stand on a turntable, or on none."""
    position = {"axle": "front", "steered": False}
    assert list(flaws(vehicle={"kind": "car"}, position=position)) == ["/position/steered"]
    assert not flaws(vehicle={"kind": "trailer"}, position=position)
    assert not flaws(vehicle={"kind": "car"}, position={"axle": "rear", "steered": False})


@pytest.mark.parametrize(
    ("trait", "marking"),
    [
        ("run_flat", "205/55RF16 91V"),
        ("temporary_spare", "T125/80R16 97M"),
        ("tube_type", "10.00R20 146/143K TT"),
        ("retread", "11R22.5 146/143L RETREAD"),
    ],
)
def test_what_the_sidewall_says_is_not_denied(trait: str, marking: str) -> None:
    assert list(flaws(tyre={"marking": marking, "traits": {trait: False}})) == [f"/tyre/traits/{trait}"]
    assert not flaws(tyre={"marking": marking, "traits": {"complete": True}})
    assert not flaws(tyre={"marking": marking.replace("TT", "TL"), "traits": {trait: True}})


@pytest.mark.parametrize(
    ("marking", "traits", "refused"),
    [
        ("205/55R16 91V", {"run_flat": True, "tube_type": True}, "run_flat"),
        ("4.00-18 64S TT", {"run_flat": True}, "run_flat"),
        ("205/55RF16 91V", {"tube_type": True}, "tube_type"),
    ],
)
def test_a_tyre_with_a_tube_is_no_run_flat(marking: str, traits: dict[str, bool], refused: str) -> None:
    """A run-flat stands on its own sidewalls and holds its air without a tube (common practice)."""
    assert list(flaws(tyre={"marking": marking, "traits": traits})) == [f"/tyre/traits/{refused}"]
