"""Lines as ISO 128-2 has them: one wide and one narrow width in the ratio 2 : 1, and dashes in multiples of the width.

The group is 0.5 mm (wide 0.5, narrow 0.25, lettering 0.35). Everything is black on white: what a line means is in its
width and its dashes, so a drawing copies, and reads the same to whoever sees no colours.
"""

from __future__ import annotations

from typing import Final

import msgspec

INK: Final = "#000"
PAPER: Final = "#fff"
TINT: Final = "#d9d9d9"
"""A light grey for what is filled, which a copier keeps apart from both."""

WIDE_MM: Final = 0.5
NARROW_MM: Final = 0.25

# ISO 128-2: the parts of a line in multiples of its width.
_DASH, _GAP, _LONG, _DOT = 12.0, 3.0, 24.0, 0.5
_LONG_IF_SHORT = 12.0
"""Long dashes of the wide line, halved: what it bounds is drawn so small that a whole one would be the whole line."""


class Pen(msgspec.Struct, frozen=True):
    """A line by its width, mm, and the lengths of its dashes and gaps in multiples of that; none is continuous."""

    width_mm: float
    dashes: tuple[float, ...] = ()

    def attributes(self) -> dict[str, str]:
        """Return the pen as SVG writes it."""
        found = {"stroke": INK, "stroke-width": f"{self.width_mm:g}"}
        if self.dashes:
            found["stroke-dasharray"] = " ".join(f"{part * self.width_mm:g}" for part in self.dashes)
        return found


OUTLINE: Final = Pen(WIDE_MM)
"""01.2: visible outlines."""
FINE: Final = Pen(NARROW_MM)
"""01.1: dimension, extension and leader lines, hatching, break lines."""
HIDDEN: Final = Pen(NARROW_MM, (_DASH, _GAP))
"""02.1: what lies hidden, and what may be there."""
CENTRE: Final = Pen(NARROW_MM, (_LONG, _GAP, _DOT, _GAP))
"""04.1: centre lines."""
LIMIT: Final = Pen(WIDE_MM, (_LONG_IF_SHORT, _GAP, _DOT, _GAP))
"""04.2: where a requirement holds: the repairable band."""
ADJACENT: Final = Pen(NARROW_MM, (_LONG, _GAP, _DOT, _GAP, _DOT, _GAP))
"""05.1: what is there beside the subject: earlier repairs."""
