"""Patches on the liner: their shape, the mouths they cover, and the room that tread and neighbours leave them.

The liner is unrolled flat. A patch is centred on the mouth of its channel and turned so that its arrows point to the
beads, so a rectangular one lies square to the tread. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import hypot, pi
from typing import Final

import msgspec

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.facts.neighbours import Neighbour

ROUNDING: Final = 1e-9
"""What sums of the same lengths may differ by, mm."""


class Patch(msgspec.Struct, frozen=True, gc=False):
    """A patch by half its extent from bead to bead and along the tread; of a round one both are its radius."""

    is_round: bool
    half_across: float
    half_along: float

    @property
    def area(self) -> float:
        """Area, mm²."""
        return pi * self.half_across**2 if self.is_round else 4.0 * self.half_across * self.half_along

    def grown(self, margin: float) -> Patch:
        """Return the patch with a margin all round; a rectangular one keeps its corners."""
        return Patch(self.is_round, self.half_across + margin, self.half_along + margin)

    @property
    def farthest(self) -> float:
        """Half its longest extent in any direction: it lies inside every round patch of that radius."""
        return self.half_across if self.is_round else hypot(self.half_across, self.half_along)


def round_patch(diameter: float) -> Patch:
    """Return a round patch of a diameter."""
    return Patch(True, diameter / 2.0, diameter / 2.0)


def between(one: Patch, other: Patch, sideways: float, along: float) -> float:
    """Return how far the outlines of two patches lie apart, their centres so far apart in each direction.

    Zero or less where they meet. Moving the centres apart, in either direction, never brings the outlines nearer.
    """
    # A round patch is a point with a margin; two rectangles are as far apart as a point and one as large as both.
    if one.is_round:
        if other.is_round:
            return hypot(sideways, along) - (one.half_across + other.half_across)
        one, other = other, one
    if other.is_round:
        free_across, free_along, margin = sideways - one.half_across, along - one.half_along, other.half_across
    else:
        free_across, margin = sideways - (one.half_across + other.half_across), 0.0
        free_along = along - (one.half_along + other.half_along)
    return hypot(free_across if free_across > 0.0 else 0.0, free_along if free_along > 0.0 else 0.0) - margin


class RoundPatches:
    """Round patches beside a channel, in their order along the tread.

    A hundred patches of a stock are held against fifty of them for each of twenty channels: each only against those it
    reaches along the tread.
    """

    __slots__ = ("_nearest", "_surest")

    def __init__(self, beside: Iterable[Neighbour]) -> None:
        # Each with where it begins along the tread, at the nearest it may be and at the farthest, and by its place.
        sizes = [(one, at, round_patch(one.patch.high), round_patch(one.patch.low)) for at, one in enumerate(beside)]
        self._nearest = sorted(
            [(one.along.low - largest.half_along, at, one, largest) for one, at, largest, _ in sizes]
        )
        self._surest = sorted(
            [(one.along.high - smallest.half_along, at, one, largest, smallest) for one, at, largest, smallest in sizes]
        )

    def met_by(self, patch: Patch, gap: Interval) -> tuple[Truth, float]:
        """Return whether a patch comes nearer than a gap to one of them, and by how far to one that it surely does."""
        too_near, across, along = 0.0, patch.half_across, patch.half_along
        within = along + gap.low + ROUNDING
        for starts_at, _, one, largest, smallest in self._surest:
            if starts_at > within:
                # It lies too far along the tread, and so do all that follow.
                break
            if (
                one.sideways.high - smallest.half_across <= across + gap.low + ROUNDING
                and between(patch, smallest, one.sideways.high, one.along.high) < gap.low
            ):
                too_near = max(too_near, gap.high - between(patch, largest, one.sideways.low, one.along.low))
        if too_near > 0.0:
            return YES, too_near
        within = along + gap.high + ROUNDING
        for starts_at, _, one, largest in self._nearest:
            if starts_at > within:
                break
            if gap.high - between(patch, largest, one.sideways.low, one.along.low) > 0.0:
                return EITHER, 0.0
        return NO, 0.0


def clear(one: Patch, other: Patch, sideways: Interval, along: Interval, gap: Interval) -> Truth:
    """Return whether the outlines of two patches stay a gap apart, their centres anywhere within the distances."""
    # Most lie apart in one direction alone, which is soon seen.
    least = gap.high + ROUNDING
    if (
        along.low - one.half_along - other.half_along > least
        or sideways.low - one.half_across - other.half_across > least
    ):
        return YES
    # Patches that just keep the gap do so by whatever sum it was reckoned.
    if between(one, other, sideways.low, along.low) >= gap.high - ROUNDING:
        return YES
    return EITHER if between(one, other, sideways.high, along.high) >= gap.low - ROUNDING else NO


def reach_past(patch: Patch, mouth_long: float, mouth_across: float, mouth_along: float) -> float:
    """Return how far a patch reaches past a mouth on its nearest side; negative where it does not cover it.

    A disc reaches as far as its radius exceeds the mouth's longest half, a rectangle as far as its halves exceed the
    mouth's half extents in the same directions.
    """
    if patch.is_round:
        return patch.half_across - mouth_long / 2.0
    return min(patch.half_across - mouth_across / 2.0, patch.half_along - mouth_along / 2.0)


def inside(patch: Patch, off_centre: Interval, half_width: Interval) -> Truth:
    """Return whether a patch centred so far from the centre line stays within half a width of it."""
    if off_centre.high + patch.half_across <= half_width.low:
        return YES
    return NO if off_centre.low + patch.half_across > half_width.high else EITHER


def largest_round(to_edge: float, gap: float) -> float:
    """Return the largest diameter of a round patch that stays a gap clear of an edge so far from its centre."""
    return max(0.0, 2.0 * (to_edge - gap))


def largest_across(off_centre: Interval, half_width: Interval) -> float:
    """Return the largest extent across of a patch that surely stays within half a width of the centre line."""
    return max(0.0, 2.0 * (half_width.low - off_centre.high))
