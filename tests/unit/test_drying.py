"""The climate at the bench: when cement dries as usual, slowly, or must not be put on."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest

from mendgauge.case.shop import Bench
from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.operations.work_plans.drying import Climate
from mendgauge.rulebooks import list_editions

RULE = list_editions()[0].procedure.drying[0]


def climate(air: Any = None, humidity: Any = None, liner: Any = None) -> Climate:
    given = {"air_temperature_c": air, "relative_humidity_percent": humidity, "liner_temperature_c": liner}
    return Climate(msgspec.convert(given, Bench), RULE)


@pytest.mark.parametrize(
    ("air", "humidity", "slow"),
    [
        (18, 55, NO),
        (10, 70, NO),  # the figures themselves still pass
        (9.9, 55, YES),
        (18, 70.1, YES),
        (9, 90, YES),
        (None, 55, EITHER),
        (18, None, EITHER),
        (8, None, YES),
        (None, 71, YES),
        ({"low": 9, "high": 12}, 55, EITHER),
        (None, None, EITHER),
    ],
)
def test_cement_dries_slowly_under_ten_degrees_or_over_seventy_percent(air: Any, humidity: Any, slow: Truth) -> None:
    assert climate(air, humidity, 16).slow == slow


@pytest.mark.parametrize(
    ("air", "humidity", "liner", "stopped"),
    [
        (18, 55, 16, NO),
        (5, 55, 5, NO),
        (4.9, 55, 10, YES),
        (18, 55, 4.9, YES),
        (20, 50, 9.3, NO),  # dew point 9.26
        (20, 50, 9.2, YES),
        (20, 100, 20, YES),  # at the dew point
        (20, 50, None, EITHER),
        (20, None, 21, NO),  # warmer than the air, so warmer than any dew point
        (None, None, None, EITHER),
        ({"low": 3, "high": 4}, None, None, YES),
    ],
)
def test_no_cement_in_the_cold_or_on_a_liner_that_sweats(air: Any, humidity: Any, liner: Any, stopped: Truth) -> None:
    assert climate(air, humidity, liner).stopped == stopped


def test_what_is_missing_is_named() -> None:
    assert list(climate(18, None, {"low": 14, "high": 16}).missing()) == [
        "/bench/relative_humidity_percent",
        "/bench/liner_temperature_c",
    ]
    assert not list(climate(18, 50, 15).missing())
