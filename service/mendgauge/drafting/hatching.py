"""Hatching by ISO 128-50: narrow lines at 45 degrees, drawn as lines, so that every program shows them alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil, floor, sqrt
from xml.etree.ElementTree import Element

from mendgauge.drafting.pens import FINE, Pen
from mendgauge.drafting.shapes import Point, curve, number

SPACING_MM = 1.4


def hatched(points: Sequence[Point], spacing_mm: float = SPACING_MM, pen: Pen = FINE) -> Iterator[Element]:
    """Yield the hatching of a shape without dents; nothing where it is too small for a line."""
    step = spacing_mm * sqrt(2.0)
    levels = [x + y for x, y in points]
    found = []
    for place in range(ceil(min(levels) / step), floor(max(levels) / step) + 1):
        ends = _ends(points, place * step)
        if len(ends) == 2:
            (x1, y1), (x2, y2) = ends
            found.append(f"M{number(x1)} {number(y1)}L{number(x2)} {number(y2)}")
    if found:
        yield curve("".join(found), pen)


def _ends(points: Sequence[Point], level: float) -> list[Point]:
    """Return where the line x + y = level enters and leaves a shape."""
    found: set[Point] = set()
    for (x1, y1), (x2, y2) in zip(points, (*points[1:], points[0]), strict=True):
        there, then = x1 + y1 - level, x2 + y2 - level
        if there * then < 0.0:
            share = there / (there - then)
            found.add((round(x1 + share * (x2 - x1), 6), round(y1 + share * (y2 - y1), 6)))
        elif there == 0.0:
            found.add((round(x1, 6), round(y1, 6)))
    ends = sorted(found)
    return [] if len(ends) < 2 or ends[0] == ends[-1] else [ends[0], ends[-1]]
