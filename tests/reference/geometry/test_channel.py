"""Channels, mouths and the band against polygons drawn with shapely (https://shapely.readthedocs.io), and against the
figures of a table of natural tangents and secants.
"""

from __future__ import annotations

from math import cos, hypot, radians, sin, tan
from random import Random

import pytest
from shapely.geometry import box
from tests.reference.geometry.shapes import CLOSE, channel

from mendgauge.core import geometry as crown
from mendgauge.core.interval import Interval, point

LAYOUTS = 1500


def test_the_figures_of_a_lean_of_25_degrees() -> None:
    """tan 25 = 0.4663 and sec 25 = 1.1034 by any four-figure table of natural functions (published); the shift under
    14 mm of crown and the mouth of a 6 mm cutter follow from them (derived).
    """
    lean = crown.slope(point(25.0)).low
    assert lean == pytest.approx(0.4663, abs=5e-5)
    assert crown.mouth_major(1.0, 25.0) == pytest.approx(1.1034, abs=5e-5)
    assert 14 * lean == pytest.approx(6.53, abs=5e-3)
    assert crown.mouth_major(6.0, 25.0) == pytest.approx(6.62, abs=5e-3)
    assert crown.channel_length(14.0, 25.0) == pytest.approx(14 * 1.1034, abs=1e-3)


def test_the_mouth_is_where_the_liner_cuts_the_channel() -> None:
    """Place, length and extent across of the mouth."""
    random = Random(1)
    for _ in range(LAYOUTS):
        one = channel(random)
        mouth = one.end
        size = crown.mouth_major(one.diameter, one.lean_deg)
        shift = one.thickness * tan(radians(one.lean_deg))
        across, around = (
            shift * cos(radians(one.toward_deg)),
            shift * sin(radians(one.toward_deg)),
        )
        assert mouth.centroid.x == pytest.approx(one.across + across, abs=1e-6)
        assert mouth.centroid.y == pytest.approx(one.around + around, abs=1e-6)
        assert _longest(mouth.exterior.coords) == pytest.approx(size, rel=CLOSE)
        west, _, east, _ = mouth.bounds
        slope = tan(radians(one.lean_deg)) * cos(radians(one.toward_deg))
        assert (east - west) / 2 == pytest.approx(crown.mouth_reach_across(one.diameter, slope), abs=size * CLOSE)
        assert crown.channel_length(one.thickness, one.lean_deg) == pytest.approx(hypot(one.thickness, shift))


def _longest(corners: object) -> float:
    """The longest line through the middle of a shape that is the same seen from either end."""
    points = list(corners)[:-1]  # type: ignore[call-overload]
    half = len(points) // 2
    return max(hypot(a[0] - b[0], a[1] - b[1]) for a, b in zip(points[:half], points[half:], strict=True))


def test_a_channel_is_in_the_band_when_both_its_mouths_are() -> None:
    random = Random(2)
    for _ in range(LAYOUTS):
        one = channel(random)
        mouths = (one.start, one.end)
        outermost = max(max(-mouth.bounds[0], mouth.bounds[2]) for mouth in mouths)
        reach = crown.largest_reach(
            point(one.across), _slope(one.lean_deg, one.toward_deg), one.thickness, one.diameter
        )
        assert reach == pytest.approx(outermost, abs=CLOSE * crown.mouth_major(one.diameter, one.lean_deg))
        for beside in (-1.0, -0.05, 0.05, 1.0):
            half_width = max(outermost + beside, 0.0)
            band = box(-half_width, -1e4, half_width, 1e4)
            assert (reach <= half_width) == all(band.covers(mouth) for mouth in mouths)


def _slope(lean_deg: float, toward_deg: float) -> Interval:
    return crown.product(crown.slope(point(lean_deg)), crown.cosine(point(toward_deg)))


def test_the_far_mouth_lies_as_far_out_as_its_polygon() -> None:
    random = Random(3)
    for _ in range(LAYOUTS):
        one = channel(random)
        west, _, east, _ = one.end.bounds
        reach = crown.least_reach(
            point(one.across), _slope(one.lean_deg, one.toward_deg), point(one.thickness), one.diameter
        )
        assert reach == pytest.approx(max(east, -west), abs=CLOSE * crown.mouth_major(one.diameter, one.lean_deg))


def test_a_mouth_is_never_smaller_than_its_cutter() -> None:
    assert crown.mouth_major(6.0, 0.0) == 6.0
    assert crown.mouth_reach_across(6.0, 0.0) == 3.0
