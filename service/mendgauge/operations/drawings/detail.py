"""A channel enlarged: its lean, its mouth, the stem with what stays proud, the patch; and its figures beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import radians, tan
from typing import Final
from xml.etree.ElementTree import Element

from mendgauge.core.geometry import mouth_reach_across
from mendgauge.core.interval import Interval
from mendgauge.drafting.dimensions import from_upright, horizontal, leader, vertical
from mendgauge.drafting.hatching import hatched
from mendgauge.drafting.lettering import BODY_MM, LEADING, SMALL_MM, lines_of, width_mm
from mendgauge.drafting.pens import CENTRE, FINE, HIDDEN, OUTLINE, PAPER, TINT
from mendgauge.drafting.scales import largest_scale, scale_in_words
from mendgauge.drafting.shapes import Point, curve, line, lines, moved, number, polygon, text
from mendgauge.operations.drawings.crown import Channel, Crown, crown_of, middle
from mendgauge.operations.drawings.figures import figures_of, patch_across, proud_of
from mendgauge.operations.drawings.layout import WIDTH, Block
from mendgauge.operations.drawings.marks import at_injury
from mendgauge.operations.drawings.signs import FLAG_MM, RING_MM, dimension, flags, ring
from mendgauge.operations.workup import Workup

_ROOM_ACROSS: Final = 86.0
_ROOM_DOWN: Final = 46.0
_TABLE: Final = 128.0
_ROW: Final = 6.5
_OUT: Final = 5.0
"""From the cut to the dimensions beside it."""
_BESIDE: Final = 6.0
"""Crown shown beside the widest thing in it, mm on paper."""
_LARGEST: Final = 2.0
_PATCH_MM: Final = 1.6
"""How thick a patch is drawn, on paper: its own thickness is not known."""


def detail_of(workup: Workup, channel: Channel) -> Block:
    """Return one injury enlarged, with its figures."""
    texts = workup.bound.words.drawings
    rows = list(figures_of(workup, channel))
    table = _Table(rows)
    marks = at_injury(workup, channel.index)
    head = [*ring(channel.index, (RING_MM, 2.0)), *flags(marks, (2.0 * RING_MM + 1.0, 2.0))]
    if not (channel.may_go_through and channel.sized and channel.aimed):
        # Nothing to enlarge: no channel, or one whose size or lean nobody measured.
        beside = 2.0 * RING_MM + 5.0 + FLAG_MM * len(marks)
        return Block([*head, moved(table.parts, (beside, 0.0))], max(8.0, table.height))
    cut = _Cut(crown_of(workup), channel, proud_of(workup, channel), patch_across(workup, channel))
    scale = f"{texts.detail}, {texts.scale} {scale_in_words(cut.scale)}"
    drawn = [*_crown(cut), *_patch(cut), *_channel(cut), *_dimensions(cut, workup)]
    top = 9.0 + 2.0 * _ROW + cut.above
    parts = [
        *head,
        text(scale, (2.0 * RING_MM + 2.0 + FLAG_MM * len(marks), 3.0), SMALL_MM),
        moved(drawn, (_left_of(cut, workup) + cut.half, top)),
        moved(table.parts, (_TABLE, 3.0)),
    ]
    return Block(parts, max(top + cut.deep + 4.0 + 2.0 * _ROW, table.height + 4.0))


def _left_of(cut: _Cut, workup: Workup) -> float:
    """Return the room left of the cut for the dimensions of depth."""
    values = (dimension(cut.crown.thickness, workup.bound.words.language), _tread(cut, workup))
    return 7.5 + _OUT + max(width_mm(value, SMALL_MM) for value in values)


def _tread(cut: _Cut, workup: Workup) -> str:
    return dimension(cut.crown.tread, workup.bound.words.language, tread=True)


class _Table:
    """Figures by name, each broken into lines."""

    def __init__(self, rows: Sequence[tuple[str, str]]) -> None:
        self.parts: list[Element] = []
        y = BODY_MM
        for name, value in rows:
            self.parts.append(text(name, (0.0, y), SMALL_MM, bold=True))
            y += SMALL_MM * LEADING
            written = lines_of(value, WIDTH - _TABLE, SMALL_MM)
            self.parts += lines(written, (0.0, y), SMALL_MM)
            y += SMALL_MM * LEADING * len(written) + 0.8
        self.height = y


class _Cut:
    """The crown round one channel on paper: x from where it comes out, y from the base of the groove down."""

    def __init__(self, crown: Crown, channel: Channel, proud: Interval | None, patch: Interval | None) -> None:
        self.crown, self.channel, self.proud, self.patch = crown, channel, proud, patch
        steepest = channel.slope.magnitude().high
        reach = mouth_reach_across(channel.diameter.high, steepest)
        half_patch = 0.0 if patch is None else patch.high / 2.0
        left = min(-reach, channel.shift.low - max(reach, half_patch))
        right = max(reach, channel.shift.high + max(reach, half_patch))
        deep = crown.thickness.high + crown.tread.high
        extents = ((right - left, _ROOM_ACROSS - 2.0 * _BESIDE), (deep, _ROOM_DOWN))
        self.scale = largest_scale(extents, most=_LARGEST)
        self.offset = -(left + right) / 2.0
        self.half = (right - left) / 2.0 * self.scale + _BESIDE
        self.liner = middle(crown.thickness) * self.scale
        self.deep = max(self.liner + _PATCH_MM, crown.thickness.high * self.scale)
        self.surface = -middle(crown.tread) * self.scale
        self.in_groove = channel.emerges == ("groove",)
        self.top = 0.0 if self.in_groove else self.surface
        self.above = -min(self.surface, -crown.tread.high * self.scale) + 2.0
        self.reach = Interval(
            mouth_reach_across(channel.diameter.low, channel.slope.magnitude().low) * self.scale, reach * self.scale
        )

    def x(self, place: float) -> float:
        return (place + self.offset) * self.scale

    @property
    def in_this_plane(self) -> bool:
        """Whether the whole lean is known and shows in this cut."""
        lean, slope = self.channel.lean, self.channel.slope
        steep = tan(radians(lean.low))
        return lean.known and lean.low > 0.0 and slope.known and abs(abs(slope.low) - steep) < 1e-6

    @property
    def shift(self) -> Interval:
        return Interval(self.x(self.channel.shift.low), self.x(self.channel.shift.high))


def _crown(cut: _Cut) -> Iterator[Element]:
    half, scale = cut.half, cut.scale
    for low, high, y in (
        (cut.crown.thickness.low, cut.crown.thickness.high, cut.liner),
        (-cut.crown.tread.high, -cut.crown.tread.low, cut.surface),
    ):
        if (high - low) * scale > 0.3:
            zone = _box(-half, half, low * scale, high * scale)
            yield from hatched(zone, 2.2)
            for edge in (low, high):
                yield line((-half, edge * scale), (half, edge * scale), FINE)
        else:
            yield line((-half, y), (half, y), OUTLINE)
    yield line((-half, 0.0), (half, 0.0), FINE if not cut.in_groove else HIDDEN)
    for share in (0.30, 0.52):
        yield line((-half, share * cut.liner), (half, share * cut.liner), HIDDEN)
    for side in (-half, half):
        yield _torn(side, cut.surface, cut.liner)
    if cut.in_groove:
        yield from _groove(cut)


def _groove(cut: _Cut) -> Iterator[Element]:
    at, half = cut.x(0.0), cut.reach.high + 2.5
    top = -cut.crown.tread.high * cut.scale - 0.4
    yield polygon(_box(at - half, at + half, top, 0.0), None, PAPER)
    for x in (at - half, at + half):
        yield line((x, cut.surface), (x, 0.0))
    yield line((at - half, 0.0), (at + half, 0.0))


def _torn(x: float, top: float, bottom: float) -> Element:
    """Return where the drawing of the crown ends: a narrow line with a jag (ISO 128-3)."""
    y = (top + bottom) / 2.0
    points = ((x, top - 1.0), (x, y - 1.2), (x - 1.2, y - 0.4), (x + 1.2, y + 0.4), (x, y + 1.2), (x, bottom + 1.0))
    return curve("M" + " L".join(f"{number(a)} {number(b)}" for a, b in points), FINE)


def _channel(cut: _Cut) -> Iterator[Element]:
    """Yield the channel: grey where it surely is, hatched where its edges may lie; with its axis where that is sure."""
    top, bottom = cut.top, cut.liner
    at, shift, reach = cut.x(0.0), cut.shift, cut.reach
    low, high = reach.low, reach.high
    if cut.proud is not None and cut.proud.high > 0.0:
        yield from _stem_above(cut, at, high)
    left = ((at - high, top), (at - low, top), (shift.high - low, bottom), (shift.low - high, bottom))
    right = ((at + low, top), (at + high, top), (shift.high + high, bottom), (shift.low + low, bottom))
    core = ((at - low, top), (at + low, top), (shift.low + low, bottom), (shift.high - low, bottom))
    whole = (left[0], right[1], right[2], left[3])
    yield polygon(whole, None, PAPER)
    if max(high - low, shift.high - shift.low) < 0.2:
        yield polygon(whole, OUTLINE, TINT if cut.proud is not None else PAPER)
    elif core[2][0] > core[3][0]:
        yield polygon(core, None, TINT)
        for edge in (left, right):
            yield from hatched(edge)
            yield polygon(edge, FINE)
    else:
        yield from hatched(whole)
        yield polygon(whole, FINE)
    if shift.high - shift.low < 0.2:
        slant = (middle(shift) - at) / (bottom - top)
        yield line((at - 3.0 * slant, top - 3.0), (middle(shift) + 3.0 * slant, bottom + 3.0), CENTRE)


def _stem_above(cut: _Cut, at: float, half: float) -> Iterator[Element]:
    """Yield what of the stem stays above the tread, or above the base of the groove, once it is trimmed."""
    if cut.proud is None:
        return
    low, high = (cut.top - height * cut.scale for height in (cut.proud.low, cut.proud.high))
    yield polygon(_box(at - half, at + half, low, cut.top), OUTLINE, TINT)
    if low - high > 0.3:
        yield from hatched(_box(at - half, at + half, high, low))
        yield polygon(_box(at - half, at + half, high, low), FINE)


def _patch(cut: _Cut) -> Iterator[Element]:
    if cut.patch is None:
        return
    half, at = cut.patch.high / 2.0 * cut.scale, middle(cut.shift)
    top = cut.liner
    yield polygon(
        ((at - half, top), (at + half, top), (at + half - 1.0, top + _PATCH_MM), (at - half + 1.0, top + _PATCH_MM)),
        OUTLINE,
        TINT,
    )


def _dimensions(cut: _Cut, workup: Workup) -> Iterator[Element]:
    language = workup.bound.words.language
    channel, at = cut.channel, cut.x(0.0)
    reach = cut.reach.high
    shift = channel.shift
    # The axis rises against its shift, so the diameter stands on the side of the shift.
    side = 1.0 if middle(shift) >= 0.0 else -1.0
    to = (at + side * (reach + 5.0), -cut.above - 9.0)
    yield from leader((at + side * reach, cut.top), to, f"Ø {dimension(channel.diameter, language)}")
    if cut.in_this_plane:
        radius = cut.top + cut.above + 9.0
        lean = channel.lean.low
        yield line((at, cut.top), (at, cut.top - radius - 2.0), FINE)
        slant = side * -tan(radians(lean))
        yield line((at, cut.top), (at + slant * (radius + 1.0), cut.top - radius - 1.0), CENTRE)
        yield from from_upright((at, cut.top), radius, -side * lean, f"{lean:g}°")
    if abs(middle(shift)) > 0.05 or shift.high - shift.low > 0.05:
        value = dimension(shift.magnitude(), language)
        below = cut.deep + 5.0
        if abs(middle(cut.shift) - at) > 0.3:
            yield from horizontal(at, middle(cut.shift), below, value, (cut.top, cut.liner))
    if cut.patch is not None:
        half, centre = cut.patch.high / 2.0 * cut.scale, middle(cut.shift)
        below = cut.deep + 5.0 + _ROW
        start = (cut.liner + _PATCH_MM, cut.liner + _PATCH_MM)
        yield from horizontal(centre - half, centre + half, below, dimension(cut.patch, language), start)
    x = -cut.half - _OUT
    thickness = dimension(cut.crown.thickness, language)
    yield from vertical(0.0, cut.liner, x, thickness, (-cut.half, -cut.half))
    yield from vertical(cut.surface, 0.0, x, _tread(cut, workup), (-cut.half, -cut.half))
    if cut.proud is not None and cut.proud.high > 0.0:
        value = dimension(cut.proud, language)
        x = cut.half + _OUT
        yield from vertical(cut.top - cut.proud.high * cut.scale, cut.top, x, value, (at + reach, at + reach))


def _box(left: float, right: float, top: float, bottom: float) -> tuple[Point, ...]:
    return ((left, top), (right, top), (right, bottom), (left, bottom))
