"""The parts of a gauge, each at full size, lengths in mm: check lines, band, angle fan, holes, patches, depths."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import cos, pi, radians, sin
from typing import Final
from xml.etree.ElementTree import Element

from mendgauge.core.interval import point
from mendgauge.drafting.dimensions import leader
from mendgauge.drafting.hatching import hatched
from mendgauge.drafting.lettering import LEADING, SMALL_MM, TITLE_MM, lines_of, width_mm
from mendgauge.drafting.pens import CENTRE, FINE, HIDDEN, INK, LIMIT, OUTLINE, PAPER
from mendgauge.drafting.shapes import Point, backed, curve, disc, line, lines, number, polygon, polyline, text
from mendgauge.operations.drawings.signs import dimension
from mendgauge.rulebooks.provision import Language
from mendgauge.wording.gauges import GaugeWords
from mendgauge.wording.quantities import quantity

CHECK_MM: Final = 100.0
CHECK_INCHES: Final = 4.0
_MM_PER_INCH: Final = 25.4

STRIP_MM: Final = 44.0
"""Height of the strip with the band."""
BEYOND_MM: Final = 8.0
"""Paper left beyond the edge of the band, so that the edge is a line and not a cut."""
OVERLAP_MM: Final = 12.0
"""Paper of each half that lies on the other where a strip is in two pieces."""
FAN_MM: Final = 48.0
"""Radius of the angle fan."""
_FAN_TO_DEG: Final = 60
FAN_WIDTH_MM: Final = 2.0 * (FAN_MM * sin(radians(_FAN_TO_DEG)) + 8.0)
_CLEAR_MM: Final = 2.5
"""A number of the ruler stands so far from the edge of the band, or not at all."""
_STEP_MM: Final = 8.0
_DEEPEST_STEP: Final = 8


def check_lines(left: float, top: float, room: float, words: GaugeWords) -> Iterator[Element]:
    """Yield two lines of known length, by which a scaled print is found out."""
    inches = CHECK_INCHES * _MM_PER_INCH
    for place, (length, label) in enumerate(((CHECK_MM, words.check_mm), (inches, words.check_inches))):
        y = top + 6.0 + place * 9.0
        yield line((left, y), (left + length, y), OUTLINE)
        for x in (left, left + length):
            yield line((x, y - 2.0), (x, y + 2.0), OUTLINE)
        middle = (left + length / 2.0, y - 1.0)
        yield text(label, middle, SMALL_MM, "middle")
    beside = left + inches + 5.0
    said = lines_of(words.check, left + room - beside, SMALL_MM)
    yield from lines(said, (beside, top + 5.0), SMALL_MM)


def whole_strip(centre: float, top: float, half: float, words: GaugeWords, language: Language) -> Iterator[Element]:
    """Yield the band in one piece about a centre line."""
    yield from _cut_out(centre - half - BEYOND_MM, top, centre + half + BEYOND_MM, top + STRIP_MM)
    yield from _edge(centre, half, 1.0, top)
    yield from _edge(centre, half, -1.0, top)
    yield line((centre, top - 2.0), (centre, top + STRIP_MM + 2.0), CENTRE)
    yield from _ruler(centre, top, -half, half)
    value = f"{words.band} {dimension(point(2.0 * half), language)}"
    at = (centre, top + 14.0)
    yield from backed(text(value, at, TITLE_MM, "middle", bold=True), width_mm(value, TITLE_MM), at, TITLE_MM)
    yield from _centred(words.lay_band, (centre, top + 21.0), 2.0 * half - 8.0)


def half_strip(
    centre: float, top: float, half: float, side: float, words: GaugeWords, language: Language
) -> Iterator[Element]:
    """Yield one half of the band, with the marks by which it is laid on the other."""
    ends = sorted((centre - side * OVERLAP_MM, centre + side * (half + BEYOND_MM)))
    yield from _cut_out(ends[0], top, ends[1], top + STRIP_MM)
    yield from _edge(centre, half, side, top)
    yield line((centre, top - 2.0), (centre, top + STRIP_MM + 2.0), CENTRE)
    yield from _ruler(centre, top, min(0.0, side * half), max(0.0, side * half))
    for y in (top + 8.0, top + STRIP_MM - 14.0):
        yield from _register((centre, y))
    value = f"{words.half_band} {dimension(point(half), language)}"
    at = (centre + side * half / 2.0, top + 14.0)
    yield text(value, at, TITLE_MM, "middle", bold=True)
    yield from _centred(words.lay_halves, (at[0], top + 21.0), half - 24.0)


def edge_strip(left: float, top: float, inset: float, words: GaugeWords, language: Language) -> Iterator[Element]:
    """Yield a strip to lay with its end at the edge of the tread: the band begins at the line."""
    right = left + inset + 70.0
    yield from _cut_out(left, top, right, top + STRIP_MM)
    yield line((left, top), (left, top + STRIP_MM), OUTLINE)
    yield from hatched(((left, top), (left + inset, top), (left + inset, top + STRIP_MM), (left, top + STRIP_MM)), 4.0)
    yield line((left + inset, top - 2.0), (left + inset, top + STRIP_MM + 2.0), LIMIT)
    x = left + inset + 4.0
    yield text(dimension(point(inset), language), (x, top + 10.0), TITLE_MM, bold=True)
    yield text(words.inset, (x, top + 15.0), SMALL_MM, bold=True)
    yield from lines(lines_of(words.lay_edge, 62.0, SMALL_MM), (x, top + 21.0), SMALL_MM)


def fan(
    centre: float, top: float, one_piece_deg: float, lean_deg: float | None, words: GaugeWords
) -> Iterator[Element]:
    """Yield angles from the perpendicular on both sides, with the largest lean for a unit of one piece."""
    apex = (centre, top + FAN_MM - 1.0)
    reach = FAN_WIDTH_MM / 2.0
    yield from _cut_out(centre - reach, top, centre + reach, apex[1] + 2.0)
    left, right = _on_fan(apex, -_FAN_TO_DEG, FAN_MM - 8.0), _on_fan(apex, _FAN_TO_DEG, FAN_MM - 8.0)
    r = number(FAN_MM - 8.0)
    yield curve(f"M{number(left[0])} {number(left[1])} A{r} {r} 0 0 1 {number(right[0])} {number(right[1])}", FINE)
    for angle in range(-_FAN_TO_DEG, _FAN_TO_DEG + 1, 5):
        inner = 0.0 if angle == 0 else FAN_MM - (14.0 if angle % 10 == 0 else 11.0)
        yield line(_on_fan(apex, angle, inner), _on_fan(apex, angle, FAN_MM - 8.0), CENTRE if angle == 0 else FINE)
        if angle % 10 == 0:
            x, y = _on_fan(apex, angle, FAN_MM - 5.5)
            yield text(f"{abs(angle)}°", (x, y + 1.0), SMALL_MM, "middle")
    for toward, limit, label in ((-1.0, one_piece_deg, words.one_piece), (1.0, lean_deg, words.no_repair)):
        if limit is None or limit > _FAN_TO_DEG:
            continue
        for side in (-1.0, 1.0):
            yield line(apex, _on_fan(apex, side * limit, FAN_MM - 8.0), LIMIT)
        at, to = _on_fan(apex, toward * limit, 14.0), (apex[0] + toward * 18.0, apex[1] - 5.0)
        yield from leader(at, to, label.format(limit=f"{limit:g}°"), arrowed=False)
    yield line((centre - reach + 4.0, apex[1]), (centre + reach - 4.0, apex[1]), OUTLINE)


def holes(
    left: float, top: float, sizes: Sequence[float], limits: Sequence[float], language: Language
) -> Iterator[Element]:
    """Yield holes at full size in a row, those at a limit with a wide line; each has its size under it."""
    x = left
    for size in sorted({*sizes, *limits}):
        label = dimension(point(size), language)
        room = max(size, width_mm(label, SMALL_MM)) + 5.0
        centre = (x + room / 2.0, top + 8.0)
        yield disc(centre, size / 2.0, OUTLINE if size in limits else FINE)
        yield text(label, (centre[0], top + 18.0), SMALL_MM, "middle", bold=size in limits)
        x += room


def patches(centre: Point, sizes: Sequence[float], language: Language) -> Iterator[Element]:
    """Yield patches at full size about one centre, each with its diameter."""
    x, y = centre
    largest = max(sizes) / 2.0
    yield line((x - largest - 3.0, y), (x + largest + 3.0, y), CENTRE)
    yield line((x, y - largest - 3.0), (x, y + largest + 3.0), CENTRE)
    for size in sizes:
        yield disc(centre, size / 2.0, OUTLINE)
        label = f"Ø {dimension(point(size), language)}"
        at = (x, y + size / 2.0 - 1.2)
        yield from backed(text(label, at, SMALL_MM, "middle"), width_mm(label, SMALL_MM), at, SMALL_MM)


def tread_steps(
    left: float, top: float, least: Sequence[float], words: GaugeWords, language: Language
) -> Iterator[Element]:
    """Yield steps of 1 to 8 mm to hold beside a groove, with the least tread of the rulebook across them."""
    base = top + _DEEPEST_STEP + 4.0
    run: list[Point] = [(left, base)]
    for step in range(1, _DEEPEST_STEP + 1):
        x = left + (step - 1) * _STEP_MM
        run += [(x, base - step), (x + _STEP_MM, base - step)]
        yield text(f"{step}", (x + _STEP_MM / 2.0, base + 4.0), SMALL_MM, "middle")
    right = left + _DEEPEST_STEP * _STEP_MM
    run.append((right, base))
    yield polyline((*run, (left, base)), OUTLINE)
    for depth in least:
        yield line((left - 3.0, base - depth), (right + 3.0, base - depth), HIDDEN)
    if least:
        value = " / ".join(quantity(depth, depth, "mm", language, tread=True) for depth in least)
        yield text(words.least_tread.format(value=value), (left, base + 9.0), SMALL_MM)


def paragraph(content: str, left: float, top: float, room: float) -> tuple[list[Element], float]:
    """Return a paragraph of small text, and its height."""
    said = lines_of(content, room, SMALL_MM)
    return lines(said, (left, top + SMALL_MM), SMALL_MM), len(said) * SMALL_MM * LEADING + 0.8


def _on_fan(apex: Point, degrees: float, radius: float) -> Point:
    angle = degrees * pi / 180.0
    return apex[0] + radius * sin(angle), apex[1] - radius * cos(angle)


def _cut_out(left: float, top: float, right: float, bottom: float) -> Iterator[Element]:
    """Yield the line along which a part is cut out."""
    yield polygon(((left, top), (right, top), (right, bottom), (left, bottom)), HIDDEN, PAPER)


def _edge(centre: float, half: float, side: float, top: float) -> Iterator[Element]:
    """Yield one edge of the band, with what lies beyond it hatched."""
    edge, end = centre + side * half, centre + side * (half + BEYOND_MM)
    yield from hatched(((edge, top), (end, top), (end, top + STRIP_MM), (edge, top + STRIP_MM)), 2.4)
    yield line((edge, top - 2.0), (edge, top + STRIP_MM + 2.0), LIMIT)


def _ruler(centre: float, top: float, low: float, high: float) -> Iterator[Element]:
    """Yield a ruler from the centre line outward along the foot of a strip."""
    base = top + STRIP_MM
    ticks = []
    for mark in range(int(low), int(high) + 1):
        if low <= mark <= high:
            length = 6.0 if mark % 10 == 0 else 4.0 if mark % 5 == 0 else 2.0
            ticks.append(f"M{number(centre + mark)} {number(base)}v{number(-length)}")
            if mark % 10 == 0 and (mark == 0 or min(mark - low, high - mark) > _CLEAR_MM):
                yield text(f"{abs(mark)}", (centre + mark, base - 7.0), 2.4, "middle")
    yield curve("".join(ticks), FINE)


def _register(at: Point) -> Iterator[Element]:
    """Yield a register mark: a ring on a cross, to be laid on the same of the other piece."""
    x, y = at
    yield disc(at, 2.0, FINE)
    yield line((x - 3.5, y), (x + 3.5, y), FINE)
    yield disc(at, 0.3, FINE, INK)


def _centred(content: str, at: Point, room: float) -> Iterator[Element]:
    for place, said in enumerate(lines_of(content, max(room, 40.0), SMALL_MM)):
        where = (at[0], at[1] + place * SMALL_MM * LEADING)
        yield from backed(text(said, where, SMALL_MM, "middle"), width_mm(said, SMALL_MM), where, SMALL_MM)
