"""Scales of ISO 5455: the largest that still fits, and how it is written."""

from __future__ import annotations

from typing import Final

SCALES: Final = (5.0, 2.0, 1.0, 0.5, 0.4, 0.25, 0.2, 0.1, 0.05, 0.02)
"""Enlarging, full size and reducing, from the largest; 1 : 2.5 and 1 : 4 are those that lie between."""


def largest_scale(extents: tuple[tuple[float, float], ...], most: float = SCALES[0]) -> float:
    """Return the largest scale at which every length fits its room; each is given with the room it has, mm.

    >>> largest_scale(((205.0, 180.0), (20.0, 60.0)))
    0.5
    """
    fits = [scale for scale in SCALES if scale <= most and all(length * scale <= room for length, room in extents)]
    return fits[0] if fits else SCALES[-1]


def scale_in_words(scale: float) -> str:
    """Return a scale as a drawing states it.

    >>> scale_in_words(0.5), scale_in_words(2.0)
    ('1 : 2', '2 : 1')
    """
    return f"{scale:g} : 1" if scale >= 1.0 else f"1 : {1.0 / scale:g}"
