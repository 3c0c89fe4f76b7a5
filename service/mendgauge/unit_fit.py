"""Whether a unit fits a channel: one question of the trade after another, each answered yes, no, or not settled.

A unit surely fits when every answer is yes, whatever the unknown facts turn out to be; it may fit while none is no.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from math import inf
from typing import Literal, TypeAlias

import msgspec

from mendgauge.patch_room import Patch, between, clear, inside, round_patch
from mendgauge.quantity import EITHER, NO, YES, Interval, Truth, at_most, point
from mendgauge.stock import StockUnit
from mendgauge.unit_need import Need

Where: TypeAlias = Literal["groove", "lug"]


class Miss(msgspec.Struct, frozen=True):
    """A question that a unit fails, or that is not settled.

    `has` and `needs` are what the unit has and what is asked for, `by` is how far it is off in the worst case, all in
    `unit`; where they are words, `unit` is empty.
    """

    code: str
    answer: Truth
    has: Interval | str = ""
    needs: Interval | str = ""
    by: float | None = None
    unit: str = ""


class Item(msgspec.Struct, frozen=True, eq=False):
    """A unit on the shelf as the search sees it, read once."""

    unit: StockUnit
    index: int
    generic: bool
    patch: Patch | None
    price: Decimal | None
    on_hand: float

    @property
    def is_patch(self) -> bool:
        """Whether it is a patch without a stem."""
        return self.unit.kind == "patch"


def item(unit: StockUnit, index: int, *, generic: bool) -> Item:
    """A unit as it was sent, or a generic size, with the place it has in its list."""
    patch = None
    if unit.kind != "stem":
        if unit.patch_shape == "rectangular":
            patch = Patch(False, (unit.patch_width_mm or 0.0) / 2.0, (unit.patch_length_mm or 0.0) / 2.0)
        else:
            patch = round_patch(unit.patch_mm or 0.0)
    price = None if unit.price is None else Decimal(unit.price)
    return Item(unit, index, generic, patch, price, inf if unit.on_hand is None else unit.on_hand)


def misses(one: Item, need: Need, on: date) -> tuple[Miss, ...]:
    """Every question that a unit fails for a channel, or that is not settled; what surely fails comes first."""
    found = [miss for miss in _all(one, need, on) if miss.answer != YES]
    found.sort(key=lambda miss: miss.answer)
    return tuple(found)


def _all(one: Item, need: Need, on: date) -> Iterator[Miss]:
    unit = one.unit
    if unit.kind == "one_piece" and need.one_piece != YES:
        yield Miss("two_piece_needed", need.one_piece, needs=_one_piece_if(need))
    if unit.stem_mm is not None:
        yield _stem_diameter(unit.stem_mm, need)
        yield _stem_length(unit, need)
    if one.patch is not None:
        yield _construction(unit, need)
        yield _reinforced(unit, need)
        yield _covers(one.patch, unit, need)
        yield _in_width("leaves_band", one.patch, need, need.band)
        yield _in_width("on_shoulder", one.patch, need, need.shoulder)
        yield from _clear_of_earlier(one.patch, need)
    if unit.largest_injury_mm is not None:
        most = unit.largest_injury_mm
        answer, over = at_most(need.channel, most), need.channel.high - most
        yield Miss("largest_injury", answer, point(most), need.channel, over, "mm")
    if unit.largest_lean_deg is not None:
        steepest = unit.largest_lean_deg
        answer, over = at_most(need.lean, steepest), need.lean.high - steepest
        yield Miss("largest_lean", answer, point(steepest), need.lean, over, "deg")
    if unit.expires_on is not None and unit.expires_on < on:
        yield Miss("expired", NO, unit.expires_on.isoformat(), by=float((on - unit.expires_on).days), unit="days")
    if one.on_hand < 1.0:
        yield Miss("none_on_hand", NO)


def _one_piece_if(need: Need) -> str:
    crown = need.house.max_one_piece_crown_mm
    return f"it leans no more than {need.one_piece_to_deg:g} degrees" + (
        "" if crown is None else f" and the crown is no thicker than {crown:g} mm"
    )


def _stem_diameter(stem: float, need: Need) -> Miss:
    cut = need.channel
    if not cut.low <= stem <= cut.high:
        off = max(cut.low - stem, stem - cut.high)
        return Miss("stem_diameter", NO, point(stem), cut, off, "mm")
    return Miss("stem_diameter", YES if cut.known else EITHER, point(stem), cut, unit="mm")


def stem_length(need: Need, unit: StockUnit | None = None) -> tuple[Interval, Interval]:
    """Length that a stem needs, and what of it is reckoned for standing proud; a unit's own instruction is heeded."""
    heights = [proud_height(need, where, unit) for where in need.injury.emerges]
    proud = Interval(min(heights), max(heights))
    return need.length.plus(proud).plus(need.grip), proud


def proud_height(need: Need, where: Where, unit: StockUnit | None = None) -> float:
    """How far proud a stem is left where the channel comes out, before the tread left is looked at, mm."""
    own = own_height(where, unit)
    return need.figures.trim[where].proud_mm if own is None else own


def own_height(where: Where | Literal["inside"], unit: StockUnit | None) -> float | None:
    """How far proud a unit's own maker has its stem left, mm; none where he does not say."""
    if unit is None or unit.trim is None:
        return None
    trim = unit.trim
    return {"groove": trim.in_groove_mm, "lug": trim.on_lug_mm, "inside": trim.inside_mm}[where]


def _stem_length(unit: StockUnit, need: Need) -> Miss:
    needed, _ = stem_length(need, unit)
    if unit.stem_length_mm is None:
        return Miss("stem_length", EITHER, "of unknown length", needed, unit="mm")
    return _extent("stem_length", unit.stem_length_mm, needed)


def _construction(unit: StockUnit, need: Need) -> Miss:
    has = unit.construction
    return Miss("construction", _suits(has, need), has or "of unknown make", need.carcass or "not known")


def _suits(has: str | None, need: Need) -> Truth:
    match = need.figures.match
    carcasses = match.values() if need.carcass is None else (match[need.carcass],)
    fits = [has in entry.patches for entry in carcasses]
    if has is None:
        return EITHER
    return YES if all(fits) else EITHER if any(fits) else NO


def _reinforced(unit: StockUnit, need: Need) -> Miss:
    if need.reinforced == NO or unit.reinforced:
        return Miss("not_reinforced", YES)
    answer = NO if need.reinforced == YES and unit.reinforced is False else EITHER
    has = "not reinforced" if unit.reinforced is False else "not known to be reinforced"
    return Miss("not_reinforced", answer, has, need.channel, unit="mm")


def reach_of(unit: StockUnit, need: Need) -> Interval:
    """How far past the mouth the patch of a unit must reach."""
    if unit.reinforced is None:
        return need.reach.hull(need.reach_reinforced)
    return need.reach_reinforced if unit.reinforced else need.reach


def _covers(patch: Patch, unit: StockUnit, need: Need) -> Miss:
    past = reach_of(unit, need).times(2.0)
    if patch.is_round:
        return _extent("patch_too_small", 2.0 * patch.half_across, need.mouth_long.plus(past))
    across = _extent("patch_too_small", 2.0 * patch.half_across, need.mouth_across.plus(past))
    along = _extent("patch_too_small", 2.0 * patch.half_along, need.mouth_along.plus(past))
    return max(across, along, key=lambda miss: (miss.answer != YES, miss.answer == NO, miss.by or 0.0))


def _extent(code: str, has: float, needed: Interval) -> Miss:
    """Whether an extent is as large as is needed, whatever that turns out to be."""
    answer = YES if has >= needed.high else NO if has < needed.low else EITHER
    return Miss(code, answer, point(has), needed, needed.high - has, "mm")


def _in_width(code: str, patch: Patch, need: Need, half: Interval) -> Miss:
    off = need.off_centre
    reached = Interval(off.low + patch.half_across, off.high + patch.half_across)
    return Miss(code, inside(patch, off, half), reached, half, reached.high - half.low, "mm")


def _clear_of_earlier(patch: Patch, need: Need) -> Iterator[Miss]:
    if not need.injury.tyre.earlier_known:
        yield Miss("meets_earlier_repair", EITHER)
    for neighbour in need.neighbours:
        if not neighbour.earlier:
            continue
        small, large = round_patch(neighbour.patch.low), round_patch(neighbour.patch.high)
        if clear(patch, large, neighbour.sideways, neighbour.along, need.gap) == YES:
            continue
        answer = NO if clear(patch, small, neighbour.sideways, neighbour.along, need.gap) == NO else EITHER
        too_near = need.gap.high - between(patch, large, neighbour.sideways.low, neighbour.along.low)
        yield Miss("meets_earlier_repair", answer, by=too_near, unit="mm")
