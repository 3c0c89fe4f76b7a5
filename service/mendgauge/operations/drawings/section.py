"""The section through the crown: where across the tyre every channel lies, and the band it must keep to."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final
from xml.etree.ElementTree import Element

from mendgauge.core.interval import Interval
from mendgauge.drafting.dimensions import horizontal
from mendgauge.drafting.hatching import hatched
from mendgauge.drafting.lettering import BODY_MM, SMALL_MM
from mendgauge.drafting.pens import CENTRE, FINE, HIDDEN, LIMIT, PAPER
from mendgauge.drafting.scales import largest_scale, scale_in_words
from mendgauge.drafting.shapes import Point, curve, line, moved, number, polygon, text
from mendgauge.operations.drawings.crown import Channel, Crown, channels_of, crown_of, middle
from mendgauge.operations.drawings.layout import WIDTH, Block
from mendgauge.operations.drawings.marks import ACROSS, at_injury, at_tread
from mendgauge.operations.drawings.signs import FLAG_MM, RING_MM, dimension, flags, ring
from mendgauge.operations.workup import Workup

_ROOM: Final = WIDTH - 30.0
_ROW: Final = 7.0
_SHOULDER_DROP: Final = 16.0
"""How far below the tread the cut through the sidewall is drawn, mm on paper."""
_BELTS: Final = ((0.30, 0.96), (0.52, 0.90))
"""Where the belts are sketched: depth below the groove base as a share of the crown, and their share of the tread."""
_DIMENSIONED: Final = 4
"""So many channels have their place dimensioned; of more, the table beside each says it."""


def section_of(workup: Workup) -> Block:
    """Return the section through the crown."""
    crown, channels, words = crown_of(workup), channels_of(workup), workup.bound.words
    texts = words.drawings
    scale = largest_scale(((crown.section_width.high, _ROOM),), most=1.0)
    sight = _Section(crown, scale)
    above = list(_above(workup, sight, channels))
    height_above = _height_above(channels)
    below = list(_below(workup, sight))
    parts = [*_tyre(sight), *(part for one in channels for part in _channel(sight, one)), *_band(sight), *above, *below]
    title = f"{texts.crown_section}, {texts.scale} {scale_in_words(scale)}"
    rows = 2 + (crown.half_band is not None)
    return Block(
        [text(title, (0.0, BODY_MM), BODY_MM, bold=True), moved(parts, (WIDTH / 2.0, 4.0 + height_above))],
        4.0 + height_above + sight.bottom + 5.0 + rows * _ROW,
    )


class _Section:
    """The crown on paper: x from the centre line, y from the surface of the tread."""

    def __init__(self, crown: Crown, scale: float) -> None:
        self.crown = crown
        self.scale = scale
        self.half = middle(crown.section_width) / 2.0 * scale
        self.tread_half = middle(crown.tread_width) / 2.0 * scale
        self.groove = middle(crown.tread) * scale
        self.liner = self.groove + middle(crown.thickness) * scale
        self.bottom = max(_SHOULDER_DROP, self.liner + 6.0)

    def across(self, place: float) -> float:
        """Return where a place across the tyre is on paper, no farther out than the tyre is wide."""
        return max(-self.half, min(self.half, place * self.scale))

    def on_shoulder(self, share: float, side: float) -> Point:
        """Return a point on the outline of the shoulder, from the tread edge (0) to where the sidewall is cut (1)."""
        left = 1.0 - share
        reach = left * left * self.tread_half + 2.0 * left * share * self.half + share * share * self.half
        return side * reach, share * share * self.bottom


def _tyre(sight: _Section) -> Iterator[Element]:
    half, tread, liner, bottom = sight.half, sight.tread_half, sight.liner, sight.bottom
    inner = max(half - liner * 0.7, half * 0.8)
    yield from _edge_zones(sight)
    yield curve(_outline(half, tread, 0.0, bottom))
    yield curve(_outline(inner, min(tread, inner * 0.98), liner, bottom))
    for side in (-1.0, 1.0):
        yield _break_line((side * inner, bottom), (side * half, bottom))
    for depth, share in _BELTS:
        y = sight.groove + depth * (liner - sight.groove)
        yield line((-share * tread, y), (share * tread, y), HIDDEN)
    yield line((0.0, -4.0), (0.0, sight.bottom), CENTRE)


def _outline(half: float, tread: float, top: float, bottom: float) -> str:
    found = [
        f"M{number(-half)} {number(bottom)}",
        f"Q{number(-half)} {number(top)} {number(-tread)} {number(top)}",
        f"L{number(tread)} {number(top)}",
        f"Q{number(half)} {number(top)} {number(half)} {number(bottom)}",
    ]
    return " ".join(found)


def _edge_zones(sight: _Section) -> Iterator[Element]:
    """Yield where the edge of the tread may lie."""
    low, high = (0.5 * edge * sight.scale for edge in (sight.crown.tread_width.low, sight.crown.tread_width.high))
    high = min(high, sight.half)
    if high - low > 0.2:
        for side in (-1.0, 1.0):
            yield from hatched(_box(side * low, side * high, 0.0, min(2.2, sight.liner)))


def _break_line(start: Point, end: Point) -> Element:
    """Return a free end of a part view: a narrow line with a jag (ISO 128-3)."""
    middle_x, y = (start[0] + end[0]) / 2.0, start[1]
    along = 1.0 if end[0] > start[0] else -1.0
    points = (
        (start[0] - 1.5 * along, y),
        (middle_x - 0.9 * along, y),
        (middle_x - 0.4 * along, y - 1.4),
        (middle_x + 0.4 * along, y + 1.4),
        (middle_x + 0.9 * along, y),
        (end[0] + 1.5 * along, y),
    )
    return curve("M" + " L".join(f"{number(x)} {number(y)}" for x, y in points), FINE)


def _channel(sight: _Section, channel: Channel) -> Iterator[Element]:
    """Yield a channel: sure where it is dark, hatched where it may be; a groove where it comes out in one."""
    if not channel.may_go_through or not channel.placed:
        return
    in_groove = channel.emerges == ("groove",)
    top = sight.groove if in_groove else 0.0
    radius = middle(channel.diameter) / 2.0 * sight.scale if channel.sized else 0.6
    outer, inner = channel.outer, channel.inner
    left, right = sight.across(outer.low), sight.across(outer.high)
    below = (sight.across(inner.low), sight.across(inner.high))
    if in_groove and right - left < 1.0:
        yield from _groove(sight, (left + right) / 2.0, radius)
    zone = (
        (left - radius, top),
        (right + radius, top),
        (below[1] + radius, sight.liner),
        (below[0] - radius, sight.liner),
    )
    if right - left > 0.3 or below[1] - below[0] > 0.3:
        yield polygon(zone, None, PAPER)
        yield from hatched(zone)
        yield polygon(zone, FINE)
    else:
        yield polygon(zone, FINE, "#000")


def _groove(sight: _Section, at: float, radius: float) -> Iterator[Element]:
    half = max(radius + 1.0, 1.6)
    yield polygon(_box(at - half, at + half, -0.6, sight.groove), None, PAPER)
    for x in (at - half, at + half):
        yield line((x, 0.0), (x, sight.groove))
    yield line((at - half, sight.groove), (at + half, sight.groove))


def _band(sight: _Section) -> Iterator[Element]:
    half = sight.crown.half_band
    if half is None:
        return
    top, bottom = -3.0, sight.liner + 3.0
    for side in (-1.0, 1.0):
        low, high = side * sight.across(half.low), side * sight.across(half.high)
        if abs(high - low) > 0.3:
            yield from hatched(_box(low, high, top, 0.0))
            yield line((high, top), (high, bottom), LIMIT)
        yield line((low, top), (low, bottom), LIMIT)


def _box(left: float, right: float, top: float, bottom: float) -> Sequence[Point]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))


def _height_above(channels: Sequence[Channel]) -> float:
    """Return the room above the tread: the dimensions of places, then the rings."""
    rows = min(len(_dimensioned(channels)), _DIMENSIONED)
    return 6.0 + rows * _ROW + 2.0 * RING_MM * (1 + _levels(channels)) + 3.0


def _dimensioned(channels: Sequence[Channel]) -> list[Channel]:
    found = [one for one in channels if one.placed and one.on_tread]
    return found if len(found) <= _DIMENSIONED else []


def _levels(channels: Sequence[Channel]) -> int:
    return min(3, max(0, len(channels) - 1))


def _above(workup: Workup, sight: _Section, channels: Sequence[Channel]) -> Iterator[Element]:
    """Yield the place of each channel from the centre line, and its number with the flags of its rules."""
    language = workup.bound.words.language
    dimensioned = sorted(_dimensioned(channels), key=lambda one: abs(middle(one.outer)))
    for row, channel in enumerate(dimensioned):
        y = -5.0 - row * _ROW
        place = sight.across(middle(channel.outer))
        if abs(place) > 0.3:
            value = dimension(channel.outer.magnitude() if _one_side(channel.outer) else channel.outer, language)
            yield from horizontal(0.0, place, y, value, (-4.0, 0.0))
    base = -6.0 - len(dimensioned) * _ROW - RING_MM
    taken: list[tuple[float, float, int]] = []
    for channel in sorted(channels, key=lambda one: middle(one.outer)):
        marks = at_injury(workup, channel.index, ACROSS)
        at = _spot(sight, channel)
        width = 2.0 * RING_MM + len(marks) * FLAG_MM + 1.0
        level = _free_level(taken, at[0] - RING_MM, width)
        taken.append((at[0] - RING_MM, at[0] - RING_MM + width, level))
        y = base - level * (2.0 * RING_MM + 0.6)
        yield line((at[0], y + RING_MM), at, FINE)
        yield from ring(channel.index, (at[0], y))
        yield from flags(marks, (at[0] + RING_MM + 0.6, y))
    if marks := at_tread(workup):
        at = (-sight.tread_half * 0.6, -4.0)
        yield line((at[0], 0.0), at, FINE)
        yield from flags(marks, at)


def _one_side(of: Interval) -> bool:
    return of.low >= 0.0 or of.high <= 0.0


def _free_level(taken: list[tuple[float, float, int]], left: float, width: float) -> int:
    for level in range(10):
        if all(other != level or left > right or left + width < start for start, right, other in taken):
            return level
    return 10


def _spot(sight: _Section, channel: Channel) -> Point:
    """Return where the number of an injury points: its place, or about where its part of the tyre is."""
    if channel.on_tread:
        return (sight.across(middle(channel.outer)) if channel.placed else sight.tread_half * 0.12, 0.0)
    side = -1.0 if middle(channel.outer) < 0.0 else 1.0
    return sight.on_shoulder({"shoulder": 0.35, "sidewall": 0.8, "bead": 1.0}[channel.regions[0]], side)


def _below(workup: Workup, sight: _Section) -> Iterator[Element]:
    """Yield the widths: of the band, the tread and the section, each in a row of its own."""
    language, texts, crown = workup.bound.words.language, workup.bound.words.drawings, sight.crown
    rows: list[tuple[float, str, float]] = []
    if crown.half_band is not None:
        value = f"{texts.band} {dimension(crown.half_band.times(2.0), language)}"
        rows.append((sight.across(middle(crown.half_band)), value, sight.liner + 3.0))
    rows.append((sight.tread_half, f"{texts.tread_width} {dimension(crown.tread_width, language)}", sight.liner + 1.0))
    rows.append((sight.half, f"{texts.section_width} {dimension(crown.section_width, language)}", sight.bottom))
    for row, (half, value, start) in enumerate(rows):
        y = sight.bottom + 5.0 + row * _ROW
        yield from horizontal(-half, half, y, value, (start, start), SMALL_MM)
