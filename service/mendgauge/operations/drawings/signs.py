"""Signs on a drawing: the number of an injury in a ring, and flags for rules, filled where broken, empty where open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final
from xml.etree.ElementTree import Element

from mendgauge.core.interval import Interval
from mendgauge.drafting.lettering import SMALL_MM
from mendgauge.drafting.pens import FINE, INK, PAPER, Pen
from mendgauge.drafting.shapes import Point, disc, polygon, text
from mendgauge.operations.drawings.marks import Mark
from mendgauge.rulebooks.provision import Language
from mendgauge.wording.quantities import quantity

RING_MM: Final = 2.4
"""Radius of the ring round the number of an injury."""
FLAG_MM: Final = 5.6
"""Width of a flag, and of the room that it takes."""
_WHOLE_FROM_MM: Final = 300.0
"""From here on a dimension is a whole number: nobody lays a tape to a tenth round a tyre."""
_LONG_LABEL: Final = 3
_RING: Final = Pen(0.35)


def ring(index: int, at: Point) -> list[Element]:
    """Return the number of an injury in a ring; the first is 1."""
    return [disc(at, RING_MM, _RING, PAPER), text(f"{index + 1}", (at[0], at[1] + 1.0), SMALL_MM, "middle", bold=True)]


def flag(mark: Mark, at: Point) -> list[Element]:
    """Return the flag of a rule, its left end at a point: dark with a light number where broken, else light."""
    x, y = at
    shape = (
        (x, y - 2.2),
        (x + FLAG_MM - 1.6, y - 2.2),
        (x + FLAG_MM - 0.4, y),
        (x + FLAG_MM - 1.6, y + 2.2),
        (x, y + 2.2),
    )
    label = f"{mark.number}" if mark.broken else f"{mark.number}?"
    return [
        polygon(shape, FINE, INK if mark.broken else PAPER),
        text(
            label,
            (x + 2.3, y + 0.95),
            2.6 if len(label) < _LONG_LABEL else 2.1,
            "middle",
            bold=True,
            fill=PAPER if mark.broken else INK,
        ),
    ]


def flags(marks: Iterable[Mark], at: Point) -> Iterator[Element]:
    """Yield flags in a row, from a point to the right."""
    for place, mark in enumerate(marks):
        yield from flag(mark, (at[0] + place * FLAG_MM, at[1]))


def dimension(of: Interval, language: Language, *, tread: bool = False) -> str:
    """Return a length as a dimension: in millimetres without the unit, or in inches as an American tape reads it.

    >>> dimension(Interval(143.5, 143.5), "en-GB"), dimension(Interval(5.5, 8.0), "en-US")
    ('143.5', '7/32 to 5/16 in')
    """
    if language == "en-US":
        return quantity(of.low, of.high, "mm", language, tread=tread).partition(" (")[0]
    low, high = (f"{round(end, 1 if end < _WHOLE_FROM_MM else None) + 0.0:g}" for end in (of.low, of.high))
    return low if low == high else f"{low} to {high}"
