"""Functions of intervals against samples: every value that some choice gives lies within, and the ends are reached."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product
from math import cos, hypot, radians, sin, sqrt, tan
from random import Random

import pytest
from tests.reference.geometry.shapes import circle_distance

from mendgauge.core import geometry as crown
from mendgauge.core.interval import Interval, point

ROUNDS = 400
EXACT = 1e-9


def interval(random: Random, low: float, high: float) -> Interval:
    """An interval within bounds: wide, narrow or a single value."""
    start = random.uniform(low, high)
    end = random.choice((start, min(high, start + random.uniform(0, (high - low) / 20)), random.uniform(start, high)))
    return Interval(start, end)


def samples(span: Interval, number: int) -> list[float]:
    """Values spread evenly over an interval, its ends among them."""
    if span.low == span.high:
        return [span.low]
    return [span.low + (span.high - span.low) * step / number for step in range(number)] + [span.high]


def holds_and_reaches(found: Interval, values: list[float], near: float) -> bool:
    """Whether an interval holds every value, and neither of its ends is farther off the outermost than the grid's."""
    scale = max(1.0, abs(found.low), abs(found.high))
    least, largest = min(values), max(values)
    holds = found.low - EXACT * scale <= least and largest <= found.high + EXACT * scale
    return holds and least - found.low <= near and found.high - largest <= near


@pytest.mark.parametrize(
    ("function", "of_one", "low", "high"),
    [
        (crown.slope, lambda lean: tan(radians(lean)), 0.0, 80.0),
        (crown.cosine, lambda toward: cos(radians(toward)), 0.0, 360.0),
        (crown.sine, lambda toward: sin(radians(toward)), 0.0, 360.0),
        # Directions read off a probe with a tolerance run a little over either end of the circle.
        (crown.cosine, lambda toward: cos(radians(toward)), -45.0, 405.0),
        (crown.sine, lambda toward: sin(radians(toward)), -45.0, 405.0),
    ],
)
def test_functions_of_one_angle(
    function: Callable[[Interval], Interval], of_one: Callable[[float], float], low: float, high: float
) -> None:
    random = Random(4)
    for _ in range(ROUNDS):
        span = interval(random, low, high)
        values = [of_one(value) for value in samples(span, 2000)]
        assert holds_and_reaches(function(span), values, near=1e-4), span


def test_products() -> None:
    random = Random(5)
    for _ in range(ROUNDS):
        one, other = interval(random, -3, 3), interval(random, -3, 3)
        values = [a * b for a, b in product(samples(one, 9), samples(other, 9))]
        assert holds_and_reaches(crown.product(one, other), values, near=EXACT)


def test_the_largest_reach_of_either_mouth() -> None:
    random = Random(6)
    for _ in range(ROUNDS):
        across, slope = interval(random, -90, 90), interval(random, -3, 3)
        thickness, diameter = random.uniform(0.5, 40), random.uniform(0.5, 60)
        values = [
            max(abs(a), abs(a + thickness * u)) + diameter / 2 * sqrt(1 + u * u)
            for a, u in product(samples(across, 12), samples(slope, 12))
        ]
        found = crown.largest_reach(across, slope, thickness, diameter)
        assert found == pytest.approx(max(values), abs=1e-9)


def test_the_least_reach_of_the_far_mouth() -> None:
    random = Random(7)
    for _ in range(ROUNDS):
        across, slope = interval(random, -90, 90), interval(random, -3, 3)
        thickness = interval(random, 0.0, 40)
        diameter = random.choice((random.uniform(0.5, 13), random.uniform(13, 100)))
        found = crown.least_reach(across, slope, thickness, diameter)
        values = [_least_distance(across, thickness, u) + diameter / 2 * sqrt(1 + u * u) for u in samples(slope, 3000)]
        assert found <= min(values) + EXACT
        # Between two samples the reach falls by no more than its steepest slope, t + d / 2, allows.
        near = (slope.high - slope.low) / 3000 * (thickness.high + diameter / 2)
        assert min(values) - found <= near + EXACT


def _least_distance(across: Interval, thickness: Interval, slope: float) -> float:
    """The least distance of the far end from the centre line: none where two of its places lie on either side of it."""
    ends = [a + t * slope for a, t in product((across.low, across.high), (thickness.low, thickness.high))]
    return 0.0 if min(ends) <= 0.0 <= max(ends) else min(abs(end) for end in ends)


def test_the_distance_along_the_tread_the_shorter_way() -> None:
    random = Random(8)
    for _ in range(ROUNDS):
        round_once = random.uniform(800, 3500)
        one, other = interval(random, -50, round_once * 1.05), interval(random, -50, round_once * 1.05)
        values = [circle_distance(a, b, round_once) for a, b in product(samples(one, 60), samples(other, 60))]
        step = (one.high - one.low + other.high - other.low) / 60
        found = crown.arc_distance(one, other, point(round_once))
        assert holds_and_reaches(found, values, near=step + 1e-4), (one, other)


def test_the_distance_along_a_tread_of_which_only_bounds_are_known() -> None:
    """Of a size that does not give the diameter: the two places lie on the tread, whatever it measures round."""
    random = Random(10)
    for _ in range(ROUNDS):
        shortest, longest = sorted(random.uniform(800, 3500) for _ in range(2))
        one, other = interval(random, 0, longest), interval(random, 0, longest)
        found = crown.arc_distance(one, other, Interval(shortest, longest))
        for round_once in samples(Interval(shortest, longest), 20):
            for a, b in product(samples(one, 12), samples(other, 12)):
                if max(a, b) <= round_once:
                    apart = circle_distance(a, b, round_once)
                    assert found.low - EXACT <= apart <= found.high + EXACT, (one, other)


def test_the_straight_distance() -> None:
    random = Random(9)
    for _ in range(ROUNDS):
        across, around = interval(random, 0, 200), interval(random, 0, 1500)
        values = [hypot(a, b) for a, b in product(samples(across, 9), samples(around, 9))]
        assert holds_and_reaches(crown.distance(across, around), values, near=EXACT)
