"""The liner unrolled: the band, the mouth of every channel, the patches with what is buffed, the repairs it carries.

A tyre is two metres round and its repairs are a hand's width across, so the view is interrupted: what lies together is
drawn together, at one scale, and the empty lengths between are left out at the break lines.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, degrees, hypot
from typing import Final
from xml.etree.ElementTree import Element

import msgspec

from mendgauge.core.geometry import mouth_major, product
from mendgauge.core.interval import Interval
from mendgauge.drafting.dimensions import aligned, arrow, horizontal, vertical
from mendgauge.drafting.hatching import hatched
from mendgauge.drafting.lettering import BODY_MM, SMALL_MM, width_mm
from mendgauge.drafting.pens import ADJACENT, CENTRE, FINE, HIDDEN, INK, LIMIT, OUTLINE, PAPER, TINT, Pen
from mendgauge.drafting.scales import largest_scale, scale_in_words
from mendgauge.drafting.shapes import (
    Point,
    backed,
    curve,
    disc,
    ellipse,
    line,
    moved,
    number,
    polygon,
    text,
)
from mendgauge.operations.drawings.crown import Channel, Crown, channels_of, crown_of, middle
from mendgauge.operations.drawings.figures import chosen_at
from mendgauge.operations.drawings.layout import WIDTH, Block
from mendgauge.operations.drawings.marks import ON_THE_LINER, at_injury
from mendgauge.operations.drawings.signs import RING_MM, dimension, flags, ring
from mendgauge.operations.repair_units.answer import Outline
from mendgauge.operations.workup import Workup
from mendgauge.wording.quantities import quantity

_RIGHT: Final = 24.0
"""Room for what stands right of the view."""
_ROOM_ACROSS: Final = 120.0
_JOIN: Final = 5.0
"""Between two parts of the interrupted view, on paper."""
_BESIDE_MM: Final = 12.0
"""Liner shown beside what lies on it, mm of the tyre."""
_SHOULDER_MM: Final = 10.0
"""Liner shown beyond the edge of the tread, mm of the tyre."""
_APART_MM: Final = 60.0
"""What lies nearer than this is drawn together, mm of the tyre."""
_LEFT_OF_MM: Final = 32.0
"""Liner shown before the first of what lies together: its place across is dimensioned there, mm of the tyre."""
_UNKNOWN_MOUTH_MM: Final = 3.0
_DIMENSIONED_FROM: Final = 0.4
"""At a smaller scale there is no room for the place across, which the figures say too."""
_ROW: Final = 7.0
_WIDE_RANGE: Final = 0.25
"""A place along the tread that may be anywhere in more than this share of the circumference is as good as not known."""


class _Spot(msgspec.Struct, frozen=True):
    """Something on the liner: its place along and across, and how far it reaches, mm of the tyre."""

    along: Interval
    across: Interval
    reach: float
    channel: Channel | None = None
    earlier: int | None = None
    patch: Outline | None = None
    buffed: Outline | None = None

    @property
    def first(self) -> float:
        return self.along.low - self.reach

    @property
    def last(self) -> float:
        return self.along.high + self.reach


class _Part(msgspec.Struct, frozen=True):
    """One part of the interrupted view: what lies on it, from where to where along the liner, mm of the tyre."""

    spots: tuple[_Spot, ...]
    first: float
    last: float
    placed: bool = True
    valve: bool = False

    @property
    def length(self) -> float:
        return self.last - self.first


def plan_of(workup: Workup, most: float = 1.0) -> Block:
    """Return the liner unrolled, at a scale of at most so much."""
    crown, texts = crown_of(workup), workup.bound.words.drawings
    parts = _parts(workup, crown)
    length = sum(part.length for part in parts)
    start = _start(workup, crown)
    room = WIDTH - start - _RIGHT - _JOIN * (len(parts) - 1)
    spots = [spot for part in parts for spot in part.spots]
    reach = max((max(spot.across.high, -spot.across.low) + spot.reach for spot in spots), default=0.0)
    half = min(max(crown.tread_width.high / 2.0 + _SHOULDER_MM, reach), crown.section_width.high / 2.0)
    scale = largest_scale(((length, room), (2.0 * half, _ROOM_ACROSS)), most=most)
    sight = _Plan(crown, scale, half)
    found: list[Element] = []
    x = start
    places: list[tuple[_Part, float]] = []
    for part in parts:
        places.append((part, x))
        found += _part(workup, sight, part, x)
        x += part.length * scale + _JOIN
    end = x - _JOIN
    found += _across_dimensions(workup, sight, start)
    found += _along_dimensions(workup, sight, places)
    count = sum(1 for part, _ in places if part.placed for spot in part.spots if spot.channel is not None)
    below = sight.half + 6.0 + _ROW * count
    found += _scale_bar(workup, scale, (start, below + 5.0))
    found += _sides(workup, sight, end)
    top = 6.0 + sight.half + 7.0
    title = f"{texts.liner_plan}, {texts.scale} {scale_in_words(scale)}"
    heading = text(title, (0.0, BODY_MM), BODY_MM, bold=True)
    width = min(WIDTH, max(end + _RIGHT, width_mm(title, BODY_MM) * 1.1))
    return Block([heading, moved(found, (0.0, top))], top + below + 12.0, width)


def _start(workup: Workup, crown: Crown) -> float:
    """Return the room left of the view, for the width of the band."""
    if crown.half_band is None:
        return 8.0
    return 10.5 + width_mm(dimension(crown.half_band.times(2.0), workup.bound.words.language), SMALL_MM)


class _Plan:
    """The liner on paper: y from the centre line, positive places upward."""

    def __init__(self, crown: Crown, scale: float, half_mm: float) -> None:
        self.crown = crown
        self.scale = scale
        self.half = half_mm * scale

    def y(self, across: float) -> float:
        return -across * self.scale


def _parts(workup: Workup, crown: Crown) -> tuple[_Part, ...]:
    """Return the parts of the view: from the valve on, and last what lies nobody knows where along the tread."""
    spots = [*_channel_spots(workup), *_earlier_spots(workup, crown)]
    known = sorted((one for one in spots if _is_placed(one, crown)), key=lambda one: one.first)
    found: list[list[_Spot]] = []
    for spot in known:
        if found and spot.first - max(one.last for one in found[-1]) < _APART_MM:
            found[-1].append(spot)
        else:
            found.append([spot])
    parts = [_part_of(group) for group in found]
    if parts and parts[0].first < _APART_MM:
        parts[0] = msgspec.structs.replace(parts[0], first=min(parts[0].first, -_BESIDE_MM), valve=True)
    else:
        parts.insert(0, _Part((), -_BESIDE_MM, 2.0 * _BESIDE_MM, valve=True))
    lost = [one for one in spots if not _is_placed(one, crown)]
    parts += [_Part((spot,), -spot.reach - _BESIDE_MM, spot.reach + _BESIDE_MM, placed=False) for spot in lost]
    return tuple(parts)


def _part_of(group: Sequence[_Spot]) -> _Part:
    first = min(one.first for one in group) - _LEFT_OF_MM
    return _Part(tuple(group), first, max(one.last for one in group) + _BESIDE_MM)


def _is_placed(spot: _Spot, crown: Crown) -> bool:
    return spot.along.high - spot.along.low < _WIDE_RANGE * crown.circumference.low


def _channel_spots(workup: Workup) -> Iterator[_Spot]:
    for channel in channels_of(workup):
        if not channel.may_go_through:
            continue
        chosen = chosen_at(workup, channel)
        patch = None if chosen is None else chosen.patch
        buffed = None if chosen is None else chosen.buffed
        known = channel.sized and channel.aimed
        mouth = mouth_major(channel.diameter.high, channel.lean.high) / 2.0 if known else _UNKNOWN_MOUTH_MM
        reach = mouth if buffed is None else buffed.length_mm / 2.0
        yield _Spot(channel.around, channel.inner, reach, channel=channel, patch=patch, buffed=buffed)


def _earlier_spots(workup: Workup, crown: Crown) -> Iterator[_Spot]:
    for repair in workup.facts[0].earlier:
        along = repair.around if repair.sides == ("inside",) else product(repair.around, crown.ratio)
        yield _Spot(along, repair.across, repair.patch.high / 2.0, earlier=repair.index)


def _part(workup: Workup, sight: _Plan, part: _Part, x: float) -> Iterator[Element]:
    """Yield one part of the view, its left end at x."""
    width, half = part.length * sight.scale, sight.half
    left, right = x, x + width

    def at(along: float) -> float:
        return x + (along - part.first) * sight.scale

    yield from _band(sight, left, right)
    for side in (-1.0, 1.0):
        yield line((left, side * half), (right, side * half), OUTLINE)
    tread = sight.crown.tread_width
    for side in (-1.0, 1.0):
        low, high = (side * 0.5 * edge * sight.scale for edge in (tread.low, tread.high))
        if abs(high - low) > 0.4:
            yield from hatched(((left, low), (right, low), (right, high), (left, high)), 3.0)
        yield line((left, (low + high) / 2.0), (right, (low + high) / 2.0), HIDDEN)
    yield line((left - 1.5, 0.0), (right + 1.5, 0.0), CENTRE)
    yield _torn(left, half)
    yield _torn(right, half)
    if part.valve:
        yield from _valve(workup, sight, at(0.0))
    for spot in part.spots:
        middle_x = at(middle(spot.along)) if part.placed else (left + right) / 2.0
        yield from _spot(workup, sight, spot, middle_x, placed=part.placed, alone=part.placed and len(part.spots) == 1)
    if part.placed:
        yield from _spacings(workup, sight, part, x)
    else:
        note = workup.bound.words.drawings.along_not_known
        where = ((left + right) / 2.0, half + 7.5)
        yield text(note, where, SMALL_MM, "middle")


def _band(sight: _Plan, left: float, right: float) -> Iterator[Element]:
    band = sight.crown.half_band
    if band is None:
        return
    for side in (-1.0, 1.0):
        low, high = side * band.low * sight.scale, side * band.high * sight.scale
        if abs(high - low) > 0.4:
            yield from hatched(((left, low), (right, low), (right, high), (left, high)))
            yield line((left, high), (right, high), LIMIT)
        yield line((left, low), (right, low), LIMIT)


def _torn(x: float, half: float) -> Element:
    points = ((x, -half - 2.0), (x, -2.0), (x - 1.5, -0.7), (x + 1.5, 0.7), (x, 2.0), (x, half + 2.0))
    return curve("M" + " L".join(f"{number(a)} {number(b)}" for a, b in points), FINE)


def _valve(workup: Workup, sight: _Plan, x: float) -> Iterator[Element]:
    y = sight.half
    yield line((x, -sight.half - 3.0), (x, sight.half + 3.0), CENTRE)
    yield disc((x, y + 2.2), 2.2, OUTLINE, PAPER)
    yield disc((x, y + 2.2), 0.8, OUTLINE, INK)
    yield text(workup.bound.words.drawings.valve, (x, -sight.half - 4.0), SMALL_MM, "middle")


def _spot(workup: Workup, sight: _Plan, spot: _Spot, x: float, *, placed: bool, alone: bool) -> Iterator[Element]:
    scale = sight.scale
    spread = (spot.along.high - spot.along.low) / 2.0 * scale if placed else 0.0
    low, high = sight.y(spot.across.high), sight.y(spot.across.low)
    y = (low + high) / 2.0
    if spot.earlier is not None:
        yield from _earlier(workup, spot, (x, y), (spread, (high - low) / 2.0), scale)
        return
    channel = spot.channel
    if channel is None:
        return
    unsure = max(spread, (high - low) / 2.0) > 0.4
    if spot.buffed is not None and spot.patch is not None:
        found = placed and channel.placed
        yield from _outline(spot.buffed, (x, y), scale, HIDDEN, "none")
        yield from _outline(spot.patch, (x, y), scale, OUTLINE if found else HIDDEN, TINT if found else "none")
        yield from _bead_arrows(spot.patch, (x, y), scale)
    if unsure:
        radius = max(0.8, channel.diameter.high / 2.0 * scale if channel.sized else 0.0)
        zone = _box(x - spread - radius, x + spread + radius, low - radius, high + radius)
        yield polygon(zone, None, PAPER)
        yield from hatched(zone)
        yield polygon(zone, FINE)
    if channel.sized:
        narrow = channel.diameter.high / 2.0 * scale
        if channel.aimed:
            long = mouth_major(channel.diameter.high, channel.lean.high) / 2.0 * scale
            yield ellipse((x, y), long, narrow, OUTLINE, turned=_turned(channel))
        else:
            yield disc((x, y), narrow, HIDDEN)
        yield disc((x, y), 0.35, FINE, INK)
    else:
        yield line((x - 1.5, y), (x + 1.5, y), OUTLINE)
        yield line((x, y - 1.5), (x, y + 1.5), OUTLINE)
    if alone and channel.placed and abs(y) > 1.0 and scale >= _DIMENSIONED_FROM:
        value = dimension(_size(spot.across), workup.bound.words.language)
        beside = x - spot.reach * scale - 2.5
        yield from vertical(0.0, y, beside, value, (x, x))
    marks = at_injury(workup, channel.index, ON_THE_LINER)
    reach = max(spot.reach * scale, 4.0)
    ring_at = (x + reach * 0.72 + RING_MM, y - reach * 0.72 - RING_MM)
    yield line((x, y), ring_at, FINE)
    yield from ring(channel.index, ring_at)
    yield from flags(marks, (ring_at[0] + RING_MM + 0.6, ring_at[1]))


def _size(of: Interval) -> Interval:
    """Return a place across without its side where it is surely on one."""
    return of.magnitude() if of.low >= 0.0 or of.high <= 0.0 else of


def _turned(channel: Channel) -> float:
    """Return which way the mouth is longest: along the lean. Upward on paper is toward positive places across."""
    across, along = middle(channel.shift), middle(channel.along)
    if hypot(across, along) < 1e-9:
        return 0.0
    return -degrees(atan2(across, along))


def _outline(of: Outline, at: Point, scale: float, pen: Pen, fill: str) -> Iterator[Element]:
    half_along, half_across = of.length_mm / 2.0 * scale, of.width_mm / 2.0 * scale
    if of.shape == "round":
        yield disc(at, half_across, pen, fill)
        return
    yield polygon(_box(at[0] - half_along, at[0] + half_along, at[1] - half_across, at[1] + half_across), pen, fill)


def _bead_arrows(patch: Outline, at: Point, scale: float) -> Iterator[Element]:
    half = patch.width_mm / 2.0 * scale
    length = max(2.5, half * 0.35)
    for side in (-1.0, 1.0):
        tip = (at[0], at[1] + side * (half - 0.6))
        foot = (at[0], tip[1] - side * length)
        yield line(foot, tip, FINE)
        yield arrow(tip, foot)


def _earlier(workup: Workup, spot: _Spot, at: Point, spread: Point, scale: float) -> Iterator[Element]:
    radius = spot.reach * scale
    if max(spread) > 0.4:
        zone = _box(
            at[0] - spread[0] - radius,
            at[0] + spread[0] + radius,
            at[1] - spread[1] - radius,
            at[1] + spread[1] + radius,
        )
        yield from hatched(zone, 2.6)
        yield polygon(zone, FINE)
    yield disc(at, radius, ADJACENT, PAPER)
    label = f"{workup.bound.words.drawings.earlier} {(spot.earlier or 0) + 1}"
    where = (at[0], at[1] + 0.5 * radius + 1.4)
    yield from backed(text(label, where, SMALL_MM, "middle"), width_mm(label, SMALL_MM), where, SMALL_MM)


def _spacings(workup: Workup, sight: _Plan, part: _Part, x: float) -> Iterator[Element]:
    """Yield the distance of each two neighbours that are drawn together, centre to centre at the liner."""
    language = workup.bound.words.language
    centres = {
        spot: (x + _place_in(part, sight, spot), sight.y(middle(spot.across)))
        for spot in sorted(part.spots, key=lambda one: middle(one.along))
        if spot.earlier is not None or spot.channel is not None
    }
    for one, other in pairwise(centres):
        if one.channel is None and other.channel is None:
            continue
        apart = _distance(one, other)
        if apart is not None:
            yield from aligned(centres[one], centres[other], dimension(apart, language))


def _place_in(part: _Part, sight: _Plan, spot: _Spot) -> float:
    return (middle(spot.along) - part.first) * sight.scale


def _distance(one: _Spot, other: _Spot) -> Interval | None:
    channel, rest = (one.channel, other) if one.channel is not None else (other.channel, one)
    if channel is None:
        return None
    for neighbour in channel.needs.neighbours:
        if neighbour.earlier and neighbour.index == rest.earlier:
            return neighbour.distance
        if not neighbour.earlier and rest.channel is not None and neighbour.index == rest.channel.index:
            return neighbour.distance
    return None


def _across_dimensions(workup: Workup, sight: _Plan, start: float) -> Iterator[Element]:
    language = workup.bound.words.language
    band = sight.crown.half_band
    if band is not None:
        half = middle(band) * sight.scale
        yield from vertical(-half, half, start - 6.0, dimension(band.times(2.0), language), (start, start))


def _along_dimensions(workup: Workup, sight: _Plan, places: list[tuple[_Part, float]]) -> Iterator[Element]:
    """Yield the place of each channel from the valve, each in a row of its own, across the breaks between."""
    language = workup.bound.words.language
    start = next(x - part.first * sight.scale for part, x in places if part.valve)
    row = 0
    for part, x in places:
        for spot in part.spots:
            if part.placed and spot.channel is not None:
                there = x + _place_in(part, sight, spot)
                y = sight.half + 10.0 + row * _ROW
                value = dimension(spot.along, language)
                yield from horizontal(
                    start, there, y, value, (sight.half + 4.0, sight.y(middle(spot.across)) + spot.reach * sight.scale)
                )
                row += 1


def _scale_bar(workup: Workup, scale: float, at: Point) -> Iterator[Element]:
    """Yield a bar of a round length, half of it filled."""
    american = workup.bound.words.language == "en-US"
    unit = 25.4 if american else 10.0
    length = next((n for n in (1, 2, 5, 10, 20, 50) if n * unit * scale >= 20.0), 50) * unit
    half, (x, y) = length * scale / 2.0, at
    yield polygon(_box(x, x + half, y, y + 1.6), FINE, INK)
    yield polygon(_box(x + half, x + 2.0 * half, y, y + 1.6), FINE, PAPER)
    label = quantity(length, length, "mm", workup.bound.words.language)
    yield text(label, (x + 2.0 * half + 1.5, y + 1.9), SMALL_MM)


def _sides(workup: Workup, sight: _Plan, end: float) -> Iterator[Element]:
    """Yield which side of the tyre is which, and where the beads are."""
    x = end + 5.0
    for side, sign in ((-1.0, "+"), (1.0, "–")):
        foot, tip = (x, side * sight.half * 0.4), (x, side * (sight.half - 1.0))
        yield line(foot, tip, FINE)
        yield arrow(tip, foot)
        yield text(workup.bound.words.drawings.bead, (x + 2.0, (foot[1] + tip[1]) / 2.0 + 1.0), SMALL_MM)
        yield text(sign, (x, foot[1] - side * 3.0 + 1.2), BODY_MM, "middle", bold=True)


def _box(left: float, right: float, top: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))
