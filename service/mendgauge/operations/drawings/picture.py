"""A finished picture."""

from __future__ import annotations

from datetime import date
from typing import Literal, TypeAlias

import msgspec

from mendgauge.printing.press import Form, Page, Pages, print_pages
from mendgauge.rulebooks.provision import Language

View: TypeAlias = Literal["sheet", "crown_section", "liner_plan"]
"""What is drawn: both views with all that belongs to them, or one view alone."""


class Picture(msgspec.Struct, frozen=True):
    """A drawing as SVG, its true size on paper in mm, and the same in words."""

    svg: str
    width_mm: float
    height_mm: float
    title: str
    description: str
    language: Language
    on: date


def print_picture(picture: Picture, form: Form) -> bytes:
    """Return a picture at its true size as PDF, or as PNG.

    Raises:
        PrintingNotInstalledError: The typesetter is not installed.
    """
    page = Page(picture.svg, picture.description)
    return print_pages(
        Pages(picture.title, picture.on, picture.language, picture.width_mm, picture.height_mm, (page,)), form
    )
