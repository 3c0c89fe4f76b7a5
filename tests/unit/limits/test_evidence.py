"""What a rule on a position saw and what it held it against: the observation, the limit with its sense, the margin."""

from __future__ import annotations

from typing import Any

import pytest
from tests.unit.limits.base import BUS, TRUCK, Json, limits, marking

WITHOUT_VEHICLE: Json = {"vehicle": {"max_speed_kmh": None}, "in_service": {"winter_tyre": False}}
TWO_MATES: Json = {
    "in_service": {
        "axle_mates": [
            {"place": "other_end", "marking": "205/55R16 91V", "tread_depth_mm": depth} for depth in (4.0, 7.5)
        ]
    }
}


def diameters(own: float, mate: float) -> Json:
    """A dual pair with measured diameters, mm."""
    tyre = {"place": "dual_mate", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10, "overall_diameter_mm": mate}
    other = {"place": "other_end", "marking": "315/80R22.5 156/150L", "tread_depth_mm": 10}
    return {"in_service": {"overall_diameter_mm": own, "axle_mates": [tyre, other]}}


def speed(kmh: float) -> Json:
    """A vehicle of a top speed, on tyres that are none of a winter's."""
    return {"vehicle": {"max_speed_kmh": kmh}, "in_service": {"winter_tyre": False}}


# The symbol V is 240 km/h and H 210, UN R30; a load index of 91 is 615 kg, of 156 4000 kg, of 150 3350 kg, of 152
# 3550 kg, UN R54. The differences of a dual pair's diameters are those of TM 9-2610-200-14, table 2-1.
@pytest.mark.parametrize(
    ("rule", "over", "outcome", "observed", "limit", "margin"),
    [
        ("speed_symbol", [speed(200)], "met", (200, 200, "km/h"), (240, None, "km/h", "at_most", True), 40),
        ("speed_symbol", [speed(241)], "broken", (241, 241, "km/h"), (240, None, "km/h", "at_most", True), -1),
        ("speed_symbol", [WITHOUT_VEHICLE], "open", None, (240, None, "km/h", "at_most", True), None),
        (
            "speed_symbol",
            [marking("205/55ZR16"), speed(250)],
            "open",
            (250, 250, "km/h"),
            (240, None, "km/h", "at_most", True),
            -10,
        ),
        ("service_tread", [], "met", (5, 5, "mm"), (1.6, None, "mm", "at_least", True), 3.4),
        (
            "service_tread",
            [{"tyre": {"tread_depth_mm": 1.5}}],
            "broken",
            (1.5, 1.5, "mm"),
            (1.6, None, "mm", "at_least", True),
            -0.1,
        ),
        ("axle_load", [], "met", (980, 980, "kg"), (1230, None, "kg", "at_most", True), 250),
        (
            "axle_load",
            [{"position": {"axle_load_kg": 1300}}],
            "broken",
            (1300, 1300, "kg"),
            (1230, None, "kg", "at_most", True),
            -70,
        ),
        (
            "axle_load",
            [{"position": {"axle_load_kg": None}}],
            "open",
            None,
            (1230, None, "kg", "at_most", True),
            None,
        ),
        ("axle_load", [TRUCK], "met", (11_000, 11_000, "kg"), (13_400, None, "kg", "at_most", True), 2400),
        (
            "axle_load",
            [TRUCK, {"position": {"fitment": None}}],
            "open",
            (11_000, 11_000, "kg"),
            (8000, 13_400, "kg", "at_most", True),
            -3000,
        ),
        ("axle_load", [BUS], "met", (6900, 6900, "kg"), (7100, None, "kg", "at_most", True), 200),
        (
            "dual_match",
            [TRUCK, diameters(1062, 1070)],
            "met",
            (8, 8, "mm"),
            (12.7, None, "mm", "at_most", True),
            4.7,
        ),
        (
            "dual_match",
            [TRUCK, diameters(1070, 1056)],
            "broken",
            (14, 14, "mm"),
            (12.7, None, "mm", "at_most", True),
            -1.3,
        ),
        # The smaller of the two decides the row: at 1010 mm it is the one of 30 to 40 in.
        (
            "dual_match",
            [TRUCK, diameters(1010, 1020)],
            "broken",
            (10, 10, "mm"),
            (9.525, None, "mm", "at_most", True),
            -0.475,
        ),
        (
            "dual_match",
            [TRUCK, {"in_service": {"axle_mates": None}}],
            "open",
            None,
            (12.7, None, "mm", "at_most", True),
            None,
        ),
        (
            "dual_tread",
            [TRUCK, {"tyre": {"tread_depth_mm": 14.0}}],
            "broken",
            (4, 4, "mm"),
            (3.2, None, "mm", "at_most", True),
            -0.8,
        ),
        ("axle_tread", [], "met", (0.5, 0.5, "mm"), (3, None, "mm", "at_most", True), 2.5),
        # Of two tyres at the other end, the one that differs more.
        (
            "axle_tread",
            [TWO_MATES],
            "met",
            (2.5, 2.5, "mm"),
            (3, None, "mm", "at_most", True),
            0.5,
        ),
        (
            "axle_tread",
            [{"in_service": {"axle_mates": []}}],
            "met",
            None,
            (3, None, "mm", "at_most", True),
            None,
        ),
        (
            "age",
            [BUS, {"tyre": {"date_code": "3615"}}],
            "broken",
            (11.233, 11.233, "years"),
            (10, None, "years", "at_most", False),
            -1.233,
        ),
    ],
)
def test_a_rule_on_a_position_says_what_it_saw_and_by_how_much(
    rule: str, over: list[Json], outcome: str, observed: Any, limit: Any, margin: float | None
) -> None:
    found = {finding.rule: finding for finding in limits({"detail": "full"}, *over).findings}[rule]
    seen = found.observed and (found.observed.low, found.observed.high, found.observed.unit)
    held = found.limit
    against = held and (held.value, held.value_high, held.unit, held.sense, held.inclusive)
    assert (found.outcome, seen, against, found.margin) == (outcome, observed, limit, margin)


@pytest.mark.parametrize(
    ("size", "says"),
    [("205/55R16", "The tyre's speed rating is not known"), ("205/55ZR16", "rating of 149 mph (240 km/h) or more is")],
)
def test_a_marking_without_a_symbol_may_be_rated_for_more(size: str, says: str) -> None:
    found = {finding.rule: finding for finding in limits(marking(size), speed(250)).findings}["speed_symbol"]
    assert says in found.says
    assert found.limit is not None
    assert found.limit.value_high is None
