"""A drawing as a test measures it: every shape and text at its place on paper, mm."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from typing import NamedTuple
from xml.etree import ElementTree

from mendgauge.drafting.lettering import width_mm

SVG = "{http://www.w3.org/2000/svg}"
WIDE_DASHED = "6 1.5 0.25 1.5"
"""The dashes of the line that bounds the band: ISO 128-2 04.2, its long dashes halved, 0.5 mm wide."""


class Placed(NamedTuple):
    """An element, and how far it was moved."""

    element: ElementTree.Element
    x: float
    y: float

    def number(self, name: str) -> float:
        return float(self.element.get(name, "0"))


class Box(NamedTuple):
    """The room that a text takes."""

    content: str
    left: float
    top: float
    right: float
    bottom: float


class Drawn:
    """A drawing that was read."""

    def __init__(self, svg: str | bytes) -> None:
        self.root = ElementTree.fromstring(svg)
        self.width = float(self.root.get("width", "").removesuffix("mm"))
        self.height = float(self.root.get("height", "").removesuffix("mm"))
        self.placed = list(_placed(self.root, 0.0, 0.0))

    def of(self, tag: str) -> list[Placed]:
        return [one for one in self.placed if one.element.tag == SVG + tag]

    @property
    def texts(self) -> list[str]:
        return [one.element.text or "" for one in self.of("text")]

    @property
    def title(self) -> str:
        return self.root.findtext(f"{SVG}title") or ""

    @property
    def description(self) -> str:
        return self.root.findtext(f"{SVG}desc") or ""

    def band_lines(self) -> list[tuple[float, float, float, float]]:
        """The ends of every line that bounds the band."""
        return [
            (one.x + one.number("x1"), one.y + one.number("y1"), one.x + one.number("x2"), one.y + one.number("y2"))
            for one in self.of("line")
            if one.element.get("stroke-dasharray") == WIDE_DASHED
        ]

    def boxes(self) -> Iterator[Box]:
        """The room of every text, reckoned with the widths of Helvetica's letters."""
        for one in self.of("text"):
            content, size = one.element.text or "", one.number("font-size")
            x, y, width = one.x + one.number("x"), one.y + one.number("y"), width_mm(content, size)
            left = x - {"start": 0.0, "middle": width / 2.0, "end": width}[one.element.get("text-anchor", "start")]
            yield Box(content, left, y - 0.716 * size, left + width, y)

    def off_the_sheet(self) -> list[Box]:
        return [
            box
            for box in self.boxes()
            if box.left < 0.0 or box.top < 0.0 or box.right > self.width or box.bottom > self.height
        ]

    def on_each_other(self) -> list[tuple[str, str]]:
        """Every two texts that share room."""
        return [
            (one.content, other.content)
            for one, other in combinations(self.boxes(), 2)
            if one.left < other.right and other.left < one.right and one.top < other.bottom and other.top < one.bottom
        ]


def _placed(element: ElementTree.Element, x: float, y: float) -> Iterator[Placed]:
    moved = element.get("transform", "")
    if moved.startswith("translate("):
        by_x, by_y = moved.removeprefix("translate(").removesuffix(")").split()
        x, y = x + float(by_x), y + float(by_y)
    yield Placed(element, x, y)
    for inner in element:
        yield from _placed(inner, x, y)
