"""How a sheet is laid out: blocks under each other, each as wide as the sheet."""

from __future__ import annotations

from typing import Final
from xml.etree.ElementTree import Element

import msgspec

WIDTH: Final = 180.0
"""Width of what is drawn, mm: within the margins of A4 and of Letter."""
GAP: Final = 6.0
MARGIN: Final = 5.0


class Block(msgspec.Struct, frozen=True):
    """A part of a sheet, drawn from its upper left corner, its height and its width, mm."""

    parts: list[Element]
    height: float
    width: float = WIDTH
