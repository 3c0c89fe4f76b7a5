"""Dimensions that follow from a size: heights, diameters, circumferences.

They are of the design, new and inflated; tolerances of the regulations and wear come on top. `None` is given where the
size does not say: an inch size or a metric one without aspect ratio has its diameter only in the standards' tables.

>>> from mendgauge.tyre.marking import read_marking
>>> tyre = read_marking("205/55R16 91V")
>>> section_height_mm(tyre), round(overall_diameter_mm(tyre), 1), overall_diameter_regulation_mm(tyre)
(112.75, 631.9, 632)
"""

from __future__ import annotations

import math
from typing import Final

from mendgauge.core.interval import Interval, point
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.tables import RIM_CODE, SECTION_HEIGHT

MM_PER_INCH: Final = 25.4

ROLLING_PER_DIAMETER: Final = 3.05
"""Rolling circumference of a radial tyre by its overall diameter (common figure; 19 published rows average 3.053)."""


def rim_diameter_mm(marking: Marking) -> float:
    """Return the rim diameter the code stands for, mm, exact."""
    return marking.rim_code if marking.rim_is_mm else marking.rim_code * MM_PER_INCH


def rim_diameter_nominal_mm(marking: Marking) -> int:
    """Return the rim diameter as the regulations list it, whole mm; rounded likewise where they list none."""
    row = RIM_CODE.get(marking.rim_code)
    return _whole(rim_diameter_mm(marking) if row is None else row.mm_nominal)


def section_height_mm(marking: Marking) -> float | None:
    """Section height, mm: section width times aspect ratio; `None` for a size without both."""
    if marking.width_mm is None or marking.aspect is None:
        return None
    return marking.width_mm * marking.aspect / 100


def overall_diameter_mm(marking: Marking) -> float | None:
    """Overall diameter, mm, unrounded: rim and two section heights, or the inches a flotation size begins with.

    `None` for inch and alphanumeric sizes and for metric ones without aspect ratio.
    """
    if marking.overall_in is not None:
        return marking.overall_in * MM_PER_INCH
    height = section_height_mm(marking)
    return None if height is None else rim_diameter_mm(marking) + 2 * height


def overall_diameter_bounds_mm(marking: Marking) -> Interval | None:
    """Return every overall diameter that the size leaves possible, mm; `None` where it gives not even the width.

    A point where the size gives it; else rim and two section heights as they are of sizes without aspect ratio.
    """
    diameter = overall_diameter_mm(marking)
    if diameter is not None:
        return point(diameter)
    width, rim = marking.section_width_mm, rim_diameter_mm(marking)
    if width is None:
        return None
    return Interval(rim + 2 * SECTION_HEIGHT["least"] * width, rim + 2 * SECTION_HEIGHT["most"] * width)


def overall_diameter_regulation_mm(marking: Marking) -> int | None:
    """Overall diameter as UN R30 6.1.2.1 and R54 reckon it, mm: nominal rim and section height each in whole mm first.

    `None` for a size without width in mm and aspect ratio.
    """
    height = section_height_mm(marking)
    return None if height is None else rim_diameter_nominal_mm(marking) + 2 * _whole(height)


def outer_circumference_mm(marking: Marking) -> float | None:
    """Circumference of the tread, mm; `None` where the overall diameter is."""
    diameter = overall_diameter_mm(marking)
    return None if diameter is None else math.pi * diameter


def rolling_circumference_mm(marking: Marking) -> float | None:
    """Way rolled in one turn under load, mm; `None` where the overall diameter is, and for other than radial tyres."""
    diameter = overall_diameter_mm(marking)
    return None if diameter is None or marking.structure != "R" else ROLLING_PER_DIAMETER * diameter


def revolutions_per_km(marking: Marking) -> float | None:
    """Return the turns in a kilometre; `None` where the rolling circumference is."""
    rolled = rolling_circumference_mm(marking)
    return None if rolled is None else 1_000_000 / rolled


def _whole(value: float) -> int:
    """To the nearest whole number, a half upwards, as the regulations round."""
    return math.floor(value + 0.5)
