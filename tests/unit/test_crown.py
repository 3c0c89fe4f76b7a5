"""The unrolled crown, by cases that can be reckoned in the head."""

from __future__ import annotations

from math import sqrt

import pytest

from mendgauge.core import geometry as crown
from mendgauge.core.interval import Interval, point


@pytest.mark.parametrize(
    ("low", "high", "cosine", "sine"),
    [
        (0, 90, (0, 1), (0, 1)),
        (90, 180, (-1, 0), (0, 1)),
        (170, 190, (-1, -0.9848), (-0.1736, 0.1736)),
        (80, 100, (-0.1736, 0.1736), (0.9848, 1)),
        (260, 280, (-0.1736, 0.1736), (-1, -0.9848)),
        (0, 360, (-1, 1), (-1, 1)),
        (-10, 10, (0.9848, 1), (-0.1736, 0.1736)),
        (350, 370, (0.9848, 1), (-0.1736, 0.1736)),
        (200, 200, (-0.9397, -0.9397), (-0.3420, -0.3420)),
    ],
)
def test_directions(low: float, high: float, cosine: tuple[float, float], sine: tuple[float, float]) -> None:
    """Four-figure values of any table of natural sines and cosines."""
    toward = Interval(low, high)
    found = crown.cosine(toward), crown.sine(toward)
    assert [(one.low, one.high) for one in found] == [
        pytest.approx(cosine, abs=5e-5),
        pytest.approx(sine, abs=5e-5),
    ]


def test_slope_rises_with_the_lean() -> None:
    slope = crown.slope(Interval(0, 45))
    assert (slope.low, slope.high) == pytest.approx((0, 1))


def test_an_upright_channel_reaches_half_its_width_past_its_middle() -> None:
    assert crown.largest_reach(point(-20), point(0), 10, 6) == 23
    assert crown.least_reach(point(-20), point(0), point(10), 6) == 23


def test_a_channel_that_leans_out_reaches_farther_at_its_far_end() -> None:
    # tan theta cos phi = 3/4: the mouth reaches 5/4 of half its width across.
    assert crown.largest_reach(point(20), point(0.75), 8, 8) == 20 + 6 + 5
    assert crown.least_reach(point(20), point(0.75), point(8), 8) == 20 + 6 + 5


def test_a_channel_that_leans_in_still_has_the_mouth_where_it_starts() -> None:
    assert crown.largest_reach(point(20), point(-0.75), 8, 8) == 20 + 5
    assert crown.least_reach(point(20), point(-0.75), point(8), 8) == 20 - 6 + 5


def test_a_channel_may_lean_past_the_centre_line_and_out_on_the_other_side() -> None:
    assert crown.largest_reach(point(2), point(-0.75), 16, 8) == 10 + 5


def test_the_least_reach_is_where_the_far_end_may_meet_the_centre_line() -> None:
    # From 6 mm out, a slope of 3/4 under 8 mm brings the far end just to the centre line.
    assert crown.least_reach(point(6), Interval(-2, 2), point(8), 8) == 5


def test_under_a_thin_crown_a_wide_mouth_decides() -> None:
    # |a + t u| + r sqrt(1 + u^2) with t = 3, r = 5 is least at u = -t / sqrt(r^2 - t^2) = -3/4.
    assert crown.least_reach(point(30), Interval(-5, 5), point(3), 10) == pytest.approx(30 - 2.25 + 6.25)


def test_a_crown_that_may_have_no_thickness_moves_nothing() -> None:
    assert crown.least_reach(point(20), Interval(-1, 1), Interval(0, 0), 6) == 23
    assert crown.least_reach(point(20), Interval(-1, -1), Interval(0, 8), 6) == pytest.approx(12 + 3 * sqrt(2))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ((100, 100), (150, 150), (50, 50)),
        ((1990, 1990), (10, 10), (20, 20)),
        ((0, 0), (2000, 2000), (0, 0)),
        ((0, 0), (1000, 1000), (1000, 1000)),
        ((0, 0), (900, 1200), (800, 1000)),
        ((0, 20), (1990, 1995), (5, 30)),
        ((0, 100), (50, 60), (0, 60)),
        ((0, 2000), (5, 5), (0, 1000)),
        ((-30, -30), (1980, 1980), (10, 10)),
        ((0, 0), (100, 1950), (50, 1000)),
    ],
)
def test_along_the_tread_the_shorter_way_counts(
    one: tuple[float, float], other: tuple[float, float], expected: tuple[float, float]
) -> None:
    found = crown.arc_distance(Interval(*one), Interval(*other), point(2000))
    assert (found.low, found.high) == pytest.approx(expected)
    back = crown.arc_distance(Interval(*other), Interval(*one), point(2000))
    assert (back.low, back.high) == pytest.approx(expected)


def test_straight_distance() -> None:
    assert crown.distance(Interval(3, 5), Interval(4, 12)) == Interval(5, 13)


def test_a_place_beyond_one_turn_is_no_less_than_nothing_away() -> None:
    """A tape reads a little more than the size leaves possible: 4000 mm on at most 3900 is 100 mm past the valve."""
    found = crown.arc_distance(point(0), point(4000), Interval(3100, 3900))
    assert found.low <= 100 <= found.high
