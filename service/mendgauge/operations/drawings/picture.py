"""A finished picture."""

from __future__ import annotations

from typing import Literal, TypeAlias

import msgspec

View: TypeAlias = Literal["sheet", "crown_section", "liner_plan"]
"""What is drawn: both views with all that belongs to them, or one view alone."""


class Picture(msgspec.Struct, frozen=True):
    """A drawing as SVG, its true size on paper in mm, and the same in words."""

    svg: str
    width_mm: float
    height_mm: float
    title: str
    description: str
