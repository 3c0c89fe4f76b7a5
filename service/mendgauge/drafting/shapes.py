"""Shapes of a drawing as SVG elements, in millimetres on paper; x runs right, y down.

The standard library writes the XML, so that no text of a caller can become markup.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final, Literal, TypeAlias
from xml.etree.ElementTree import Element, SubElement, tostring

from mendgauge.drafting.lettering import BODY_MM, FAMILY, LEADING
from mendgauge.drafting.pens import INK, OUTLINE, PAPER, Pen

Point: TypeAlias = tuple[float, float]
Anchor: TypeAlias = Literal["start", "middle", "end"]

SVG: Final = "http://www.w3.org/2000/svg"


def number(value: float) -> str:
    """Return a coordinate to a thousandth of a millimetre, without needless digits.

    >>> number(2.50049), number(-0.0001)
    ('2.5', '0')
    """
    return f"{round(value, 3) + 0.0:.3f}".rstrip("0").rstrip(".")


def line(start: Point, end: Point, pen: Pen = OUTLINE) -> Element:
    """Return a straight line."""
    ends = {"x1": start[0], "y1": start[1], "x2": end[0], "y2": end[1]}
    return Element("line", {name: number(value) for name, value in ends.items()} | pen.attributes())


def polygon(points: Sequence[Point], pen: Pen | None = OUTLINE, fill: str = "none") -> Element:
    """Return a closed shape with straight sides."""
    return Element("polygon", {"points": _points(points), "fill": fill} | (pen.attributes() if pen else {}))


def polyline(points: Sequence[Point], pen: Pen = OUTLINE) -> Element:
    """Return an open run of straight lines."""
    return Element("polyline", {"points": _points(points), "fill": "none"} | pen.attributes())


def ellipse(centre: Point, across: float, along: float, pen: Pen = OUTLINE, *, turned: float = 0.0) -> Element:
    """Return an ellipse by its half axes, the first turned by so many degrees clockwise from x; not filled."""
    found = {"cx": centre[0], "cy": centre[1], "rx": across, "ry": along}
    more = {"transform": f"rotate({number(turned)} {number(centre[0])} {number(centre[1])})"} if turned else {}
    return Element("ellipse", {k: number(v) for k, v in found.items()} | {"fill": "none"} | more | pen.attributes())


def disc(centre: Point, radius: float, pen: Pen = OUTLINE, fill: str = "none") -> Element:
    """Return a circle."""
    found = {"cx": centre[0], "cy": centre[1], "r": radius}
    return Element("circle", {k: number(v) for k, v in found.items()} | {"fill": fill} | pen.attributes())


def curve(path: str, pen: Pen = OUTLINE) -> Element:
    """Return a line along an SVG path."""
    return Element("path", {"d": path, "fill": "none"} | pen.attributes())


def text(
    content: str,
    at: Point,
    size_mm: float = BODY_MM,
    anchor: Anchor = "start",
    *,
    bold: bool = False,
    turned: float = 0.0,
    fill: str = INK,
) -> Element:
    """Return one line of text, its base line at a point."""
    found = {"x": number(at[0]), "y": number(at[1]), "font-size": number(size_mm), "fill": fill}
    if anchor != "start":
        found["text-anchor"] = anchor
    if bold:
        found["font-weight"] = "bold"
    if turned:
        found["transform"] = f"rotate({number(turned)} {number(at[0])} {number(at[1])})"
    made = Element("text", found)
    made.text = content
    return made


def lines(content: Iterable[str], at: Point, size_mm: float = BODY_MM) -> list[Element]:
    """Return lines of text under each other, the first with its base line at a point."""
    return [text(one, (at[0], at[1] + place * size_mm * LEADING), size_mm) for place, one in enumerate(content)]


def backed(label: Element, width: float, at: Point, size_mm: float, anchor: Anchor = "middle") -> list[Element]:
    """Return a text on a patch of paper, which keeps lines behind it from running through its letters."""
    left = at[0] - {"start": 0.0, "middle": width / 2.0, "end": width}[anchor]
    top = at[1] - size_mm * 0.8
    box = (
        (left - 0.5, top),
        (left + width + 0.5, top),
        (left + width + 0.5, top + size_mm),
        (left - 0.5, top + size_mm),
    )
    return [polygon(box, None, PAPER), label]


def moved(parts: Iterable[Element], by: Point) -> Element:
    """Return shapes moved to another place."""
    found = Element("g", {"transform": f"translate({number(by[0])} {number(by[1])})"})
    found.extend(parts)
    return found


def drawing(parts: Iterable[Element], width: float, height: float, title: str, description: str) -> str:
    """Return a whole drawing at its true size, with a title and a description for whoever cannot see it."""
    root = Element(
        "svg",
        {
            "xmlns": SVG,
            "width": f"{number(width)}mm",
            "height": f"{number(height)}mm",
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "role": "img",
            "aria-label": title,
            "font-family": FAMILY,
            "stroke-linejoin": "round",
        },
    )
    SubElement(root, "title").text = title
    SubElement(root, "desc").text = description
    SubElement(root, "rect", {"width": number(width), "height": number(height), "fill": PAPER})
    root.extend(parts)
    return tostring(root, encoding="unicode") + "\n"


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)
