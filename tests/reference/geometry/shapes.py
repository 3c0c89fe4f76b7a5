"""The crown of a tyre drawn flat with shapely: channels cut by planes, patches as discs, and copies across the seam.

Drawn from the definitions, with none of the service's formulas: a cylinder that leans is cut by the liner's plane, and
its cut is found point by point.
"""

from __future__ import annotations

from math import asin, cos, pi, radians, sin, tau
from random import Random
from typing import NamedTuple

from shapely import Polygon
from shapely.affinity import translate
from shapely.geometry import Point

CORNERS = 180
"""Of a circle or an ellipse drawn as a polygon: it lies inside by 1 - cos(pi / 180) of its size at most."""

CLOSE = 1.6e-4
"""That share of the size."""


class Channel(NamedTuple):
    """A channel: where it starts on one side of the crown, how wide it is, and which way it runs to the other."""

    across: float
    around: float
    diameter: float
    lean_deg: float
    toward_deg: float
    thickness: float

    @property
    def direction(self) -> tuple[float, float, float]:
        """Its axis, a unit vector: across, around, and through the crown."""
        lean, toward = radians(self.lean_deg), radians(self.toward_deg)
        return sin(lean) * cos(toward), sin(lean) * sin(toward), cos(lean)

    def mouth(self, depth: float) -> Polygon:
        """Where a plane at a depth cuts the channel.

        Each point of the circle square to the axis is moved along the axis until it lies in the plane.
        """
        x, y, z = self.direction
        lean, toward = radians(self.lean_deg), radians(self.toward_deg)
        # Two unit vectors square to the axis and to each other: one in the plane of the lean, one across it.
        leaning = (cos(lean) * cos(toward), cos(lean) * sin(toward), -sin(lean))
        level = (-sin(toward), cos(toward), 0.0)
        radius = self.diameter / 2
        corners = []
        for corner in range(CORNERS):
            turn = tau * corner / CORNERS
            px, py, pz = (
                radius * (cos(turn) * one + sin(turn) * other) for one, other in zip(leaning, level, strict=True)
            )
            along = (depth - pz) / z
            corners.append((self.across + px + along * x, self.around + py + along * y))
        return Polygon(corners)

    @property
    def start(self) -> Polygon:
        return self.mouth(0.0)

    @property
    def end(self) -> Polygon:
        return self.mouth(self.thickness)


def channel(random: Random, widest: float = 90.0, round_once: float = 2000.0) -> Channel:
    """Any channel through the crown of a tyre."""
    return Channel(
        across=random.uniform(-widest, widest),
        around=random.uniform(0.0, round_once),
        diameter=random.choice((random.uniform(0.5, 13.0), random.uniform(13.0, 60.0))),
        lean_deg=random.choice((0.0, random.uniform(0.0, 30.0), random.uniform(30.0, 80.0))),
        toward_deg=random.uniform(0.0, 360.0),
        thickness=random.uniform(0.5, 40.0),
    )


def disc(across: float, around: float, diameter: float) -> Polygon:
    return Point(across, around).buffer(diameter / 2, quad_segs=CORNERS // 4)


def farthest(shape: Polygon, across: float, around: float) -> float:
    """The largest distance of a shape's edge from a point: the radius of the disc about it that covers the shape."""
    return float(Point(across, around).hausdorff_distance(shape.exterior))


def across_the_seam(shape: Polygon, round_once: float) -> tuple[Polygon, ...]:
    """A shape and its copies a turn before and a turn after: unrolled, the tread has a seam where there is none."""
    return tuple(translate(shape, 0.0, turn * round_once) for turn in (-1, 0, 1))


def circle_distance(one: float, other: float, round_once: float) -> float:
    """The shorter way between two places on a circle, by the angle between the two as seen from its middle."""
    angle = abs(one - other) / round_once * 2 * pi
    opening = abs(complex(cos(angle), sin(angle)) - 1) / 2
    return 2 * asin(min(1.0, opening)) / (2 * pi) * round_once
