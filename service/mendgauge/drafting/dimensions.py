"""Dimensions as ISO 129-1 has them: extension lines, a dimension line with filled arrows, the value above it.

Where there is no room between the arrows they point inward from outside, and the value stands at the end of the line.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import atan2, cos, hypot, radians, sin
from xml.etree.ElementTree import Element

from mendgauge.drafting.lettering import SMALL_MM, width_mm
from mendgauge.drafting.pens import FINE, INK
from mendgauge.drafting.shapes import Point, backed, curve, line, number, polygon, text

ARROW_MM = 2.5
_ARROW_HALF = 0.42
_BEYOND = 1.5
"""How far an extension line runs past its dimension line."""
_CLEAR = 0.8
"""Between the line and the value above it, and between a shape and its extension line."""
_TAIL = 5.0
"""Length of a dimension line outside its arrows, where these point inward."""
_AIR = 2.0


def arrow(at: Point, toward: Point) -> Element:
    """Return an arrow head with its point at `at`, coming from the direction of `toward`."""
    angle = atan2(toward[1] - at[1], toward[0] - at[0])
    along, aside = (cos(angle), sin(angle)), (-sin(angle), cos(angle))
    base = (at[0] + ARROW_MM * along[0], at[1] + ARROW_MM * along[1])
    sides = [(base[0] + s * _ARROW_HALF * aside[0], base[1] + s * _ARROW_HALF * aside[1]) for s in (1.0, -1.0)]
    return polygon((at, *sides), None, INK)


def horizontal(
    left: float, right: float, at_y: float, value: str, from_y: tuple[float, float], size_mm: float = SMALL_MM
) -> Iterator[Element]:
    """Yield a dimension along x at a height; `from_y` is where on the shape each end is measured."""
    if right < left:
        left, right, from_y = right, left, (from_y[1], from_y[0])
    for x, y in ((left, from_y[0]), (right, from_y[1])):
        yield from _extension((x, y), (x, at_y))
    room, needs = right - left, width_mm(value, size_mm)
    if room >= 2.0 * ARROW_MM + 1.0:
        yield line((left, at_y), (right, at_y), FINE)
        yield arrow((left, at_y), (right, at_y))
        yield arrow((right, at_y), (left, at_y))
    else:
        yield line((left - _TAIL, at_y), (right + _TAIL, at_y), FINE)
        yield arrow((left, at_y), (left - 1.0, at_y))
        yield arrow((right, at_y), (right + 1.0, at_y))
    if room >= needs + _AIR:
        yield text(value, ((left + right) / 2.0, at_y - _CLEAR), size_mm, "middle")
        return
    start = right + (_TAIL if room < 2.0 * ARROW_MM + 1.0 else 0.0) + 1.0
    yield text(value, (start, at_y + size_mm * 0.35), size_mm)


def vertical(
    top: float, bottom: float, at_x: float, value: str, from_x: tuple[float, float], size_mm: float = SMALL_MM
) -> Iterator[Element]:
    """Yield a dimension along y; its value reads level beside the line, which ISO 129-1 allows throughout a drawing."""
    if bottom < top:
        top, bottom, from_x = bottom, top, (from_x[1], from_x[0])
    for x, y in ((from_x[0], top), (from_x[1], bottom)):
        yield from _extension((x, y), (at_x, y))
    if bottom - top >= 2.0 * ARROW_MM + 1.0:
        yield line((at_x, top), (at_x, bottom), FINE)
        yield arrow((at_x, top), (at_x, bottom))
        yield arrow((at_x, bottom), (at_x, top))
    else:
        yield line((at_x, top - _TAIL), (at_x, bottom + _TAIL), FINE)
        yield arrow((at_x, top), (at_x, top - 1.0))
        yield arrow((at_x, bottom), (at_x, bottom + 1.0))
    outside = -1.0 if at_x < min(from_x) else 1.0
    at = (at_x + outside * (_BEYOND + _CLEAR), (top + bottom) / 2.0 + size_mm * 0.36)
    yield text(value, at, size_mm, "end" if outside < 0.0 else "start")


def aligned(one: Point, other: Point, value: str, size_mm: float = SMALL_MM) -> Iterator[Element]:
    """Yield the distance of two points, along the line between them."""
    length = hypot(other[0] - one[0], other[1] - one[1])
    yield line(one, other, FINE)
    if length >= 2.0 * ARROW_MM + 1.0:
        yield arrow(one, other)
        yield arrow(other, one)
    middle = ((one[0] + other[0]) / 2.0, (one[1] + other[1]) / 2.0 + size_mm * 0.36)
    yield from backed(text(value, middle, size_mm, "middle"), width_mm(value, size_mm), middle, size_mm)


def leader(at: Point, to: Point, value: str, size_mm: float = SMALL_MM, *, arrowed: bool = True) -> Iterator[Element]:
    """Yield a leader line from a shape to a value, which stands on the side that the line runs to."""
    rightward = to[0] >= at[0]
    shelf = (to[0] + (2.0 if rightward else -2.0), to[1])
    yield line(at, to, FINE)
    yield line(to, shelf, FINE)
    if arrowed:
        yield arrow(at, to)
    start = (shelf[0] + (0.8 if rightward else -0.8), shelf[1] + size_mm * 0.36)
    yield text(value, start, size_mm, "start" if rightward else "end")


def _extension(start: Point, end: Point) -> Iterator[Element]:
    length = hypot(end[0] - start[0], end[1] - start[1])
    if length > _CLEAR:
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
        yield line(
            (start[0] + _CLEAR * along[0], start[1] + _CLEAR * along[1]),
            (end[0] + _BEYOND * along[0], end[1] + _BEYOND * along[1]),
            FINE,
        )


def from_upright(
    apex: Point, radius: float, degrees: float, value: str, size_mm: float = SMALL_MM
) -> Iterator[Element]:
    """Yield the angle of a line from the upright above a point: counted to the right, negative to the left."""
    lean = radians(degrees)
    upright = (apex[0], apex[1] - radius)
    slanted = (apex[0] + radius * sin(lean), apex[1] - radius * cos(lean))
    side = 1.0 if degrees > 0.0 else -1.0
    sweep = "1" if side > 0.0 else "0"
    r = number(radius)
    yield curve(
        f"M{number(upright[0])} {number(upright[1])} A{r} {r} 0 0 {sweep} {number(slanted[0])} {number(slanted[1])}",
        FINE,
    )
    tangent = (side * cos(lean), side * sin(lean))
    if abs(lean) * radius >= 2.0 * ARROW_MM + 1.0:
        yield arrow(upright, (upright[0] + side, upright[1]))
        yield arrow(slanted, (slanted[0] - tangent[0], slanted[1] - tangent[1]))
        tail = slanted
    else:
        tail = (slanted[0] + _TAIL * tangent[0], slanted[1] + _TAIL * tangent[1])
        before = (upright[0] - side * _TAIL, upright[1])
        yield line(before, upright, FINE)
        yield line(slanted, tail, FINE)
        yield arrow(upright, before)
        yield arrow(slanted, tail)
    at = (tail[0] + side * 1.0, tail[1] + size_mm * 0.36)
    yield text(value, at, size_mm, "start" if side > 0.0 else "end")
