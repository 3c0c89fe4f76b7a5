"""The dew point held against PsychroLib 2.5 (ASHRAE Handbook of Fundamentals 2017, chapter 1, equations 5 and 6)."""

from __future__ import annotations

import psychrolib
import pytest

from mendgauge.operations.work_plans.drying import dew_point_c

psychrolib.SetUnitSystem(psychrolib.SI)

# The Magnus formula is meant for water. Below freezing the handbook reckons over ice, where a liner is stopped anyway.
FREEZING_C = 0.02


@pytest.mark.parametrize("air_c", range(0, 46, 3))
def test_the_dew_point_is_that_of_the_handbook(air_c: int) -> None:
    compared = 0
    for humidity in range(5, 101, 5):
        handbook = psychrolib.GetTDewPointFromRelHum(float(air_c), humidity / 100.0)
        if handbook > FREEZING_C:
            assert dew_point_c(air_c, humidity) == pytest.approx(handbook, abs=0.05), humidity
            compared += 1
    assert compared or air_c == 0


@pytest.mark.parametrize("air_c", [-20.0, 0.0, 5.0, 19.5, 40.0])
def test_saturated_air_is_at_its_dew_point(air_c: float) -> None:
    assert dew_point_c(air_c, 100.0) == pytest.approx(air_c, abs=1e-9)


def test_a_liner_at_five_degrees_is_dry_or_wet_as_the_handbook_says() -> None:
    """At the coldest liner that may be coated: the humidity at which water settles on it, from both formulas."""
    for air_c in (6.0, 10.0, 15.0, 25.0):
        wet = psychrolib.GetRelHumFromTDewPoint(air_c, 5.0) * 100.0
        assert dew_point_c(air_c, wet - 0.5) < 5.0 < dew_point_c(air_c, wet + 0.5)
