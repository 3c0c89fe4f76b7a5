"""Where patches come to lie on the liner, and how far apart: earlier repairs and the other injuries are neighbours."""

from __future__ import annotations

from collections.abc import Callable
from math import pi
from typing import Final

import msgspec

from mendgauge.core import geometry as crown
from mendgauge.core.interval import NO, YES, Interval, Truth
from mendgauge.core.vocabulary import MeasuredFrom
from mendgauge.facts.tyre import EarlierFacts, InjuryFacts, TyreFacts
from mendgauge.rulebooks.schema.book import RepairUnitRule

_INSIDE: Final = ("inside",)


class Neighbour(msgspec.Struct, frozen=True):
    """Another repair on the same liner: how far off its centre is, how large it is, and whether there surely is one.

    `index` is its place among the earlier repairs or, where `earlier` is false, among the injuries of the case.
    """

    earlier: bool
    index: int
    sideways: Interval
    along: Interval
    patch: Interval
    certain: Truth

    @property
    def distance(self) -> Interval:
        """Distance of the two centres at the liner, mm."""
        return crown.distance(self.sideways, self.along)


def needed_patch(injury: InjuryFacts, unit: RepairUnitRule) -> Interval:
    """Return the extent of the smallest patch that covers the mouth with its reach on every side, mm."""
    low = crown.mouth_major(injury.prepared.low, injury.lean.low) + 2.0 * reach(injury.prepared.low, unit)
    high = crown.mouth_major(injury.prepared.high, injury.lean.high) + 2.0 * reach(injury.prepared.high, unit)
    return Interval(low, high)


def reach(channel: float, unit: RepairUnitRule) -> float:
    """Return how far a patch must reach past the mouth of a channel, mm."""
    reinforced = unit.reinforced_over_mm is not None and channel > unit.reinforced_over_mm
    return unit.reach_reinforced_mm if reinforced else unit.reach_mm


def least_spacing(injury: InjuryFacts, neighbour_patch: Interval, unit: RepairUnitRule) -> Interval:
    """Return the least distance of two centres that keeps both patches and their buffed margins apart, mm."""
    own = needed_patch(injury, unit)
    return own.plus(neighbour_patch).times(0.5).plus(Interval(2.0 * unit.buffed_margin_mm, 2.0 * unit.buffed_margin_mm))


def neighbours(injury: InjuryFacts) -> tuple[Neighbour, ...]:
    """Return every other repair the injury's own would lie beside; what is surely in the same hole is not beside it."""
    within = injury.tyre.assumed.same_hole_mm
    return tuple([one for one in _others(injury) if not (one.earlier and one.distance.high <= within)])


def repaired_before(injury: InjuryFacts) -> bool:
    """Return whether an earlier repair is surely in the same hole."""
    within = injury.tyre.assumed.same_hole_mm
    return any(one.earlier and one.distance.high <= within for one in _others(injury))


def _others(injury: InjuryFacts) -> tuple[Neighbour, ...]:
    tyre = injury.tyre
    ratio = arc_ratio(tyre)
    across, around = centre_at_liner(injury, ratio)
    circumference = tyre.circumference
    at_liner = crown.product(circumference, ratio)
    found = []
    for repair in tyre.earlier:
        sideways = Interval(across.low - repair.across.high, across.high - repair.across.low).magnitude()
        if injury.sides == repair.sides == _INSIDE:
            along = crown.arc_distance(injury.around, repair.around, at_liner)
        else:
            arc = crown.arc_distance(around, _earlier_around(repair, ratio), circumference)
            along = crown.product(arc, ratio)
        found.append(Neighbour(True, repair.index, sideways, along, repair.patch, YES))
    for other in tyre.injuries:
        if other is injury or other.through == NO:
            continue
        there, round_there = centre_at_liner(other, ratio)
        sideways = Interval(across.low - there.high, across.high - there.low).magnitude()
        if injury.sides == other.sides == _INSIDE:
            along = crown.arc_distance(injury.around, other.around, at_liner)
        else:
            arc = crown.arc_distance(around, round_there, circumference)
            along = crown.product(arc, ratio)
        patch = needed_patch(other, tyre.assumed.unit)
        found.append(Neighbour(False, other.index, sideways, along, patch, other.through))
    return tuple(found)


def tightest(injury: InjuryFacts, least: Callable[[Interval], Interval]) -> Neighbour | None:
    """Return the neighbour with the least to spare, one that is surely too near first.

    `least` gives the distance to keep from a neighbour's patch.
    """

    def spare(neighbour: Neighbour) -> tuple[bool, float]:
        asked = least(neighbour.patch)
        too_near = neighbour.certain == YES and neighbour.distance.high < asked.low
        return not too_near, neighbour.distance.low - asked.high

    return min(neighbours(injury), key=spare, default=None)


def arc_ratio(tyre: TyreFacts) -> Interval:
    """Return the length of an arc at the liner for one of 1 mm at the tread: r_liner / r_tread."""
    thickness = tyre.crown_thickness.plus(tyre.tread_depth)
    radius = tyre.circumference.times(1.0 / (2.0 * pi))
    return Interval(1.0 - thickness.high / radius.low, 1.0 - thickness.low / radius.high)


def centre_at_liner(injury: InjuryFacts, ratio: Interval) -> tuple[Interval, Interval]:
    """Return where the channel opens at the liner: across, and around as an arc at the tread, mm."""
    spots = [_centre_from(side, injury, ratio) for side in injury.sides]
    across, around = spots[0]
    for other_across, other_around in spots[1:]:
        across, around = across.hull(other_across), around.hull(other_around)
    return across, around


def _centre_from(side: MeasuredFrom, injury: InjuryFacts, ratio: Interval) -> tuple[Interval, Interval]:
    if side == "inside":
        return injury.across, _at_tread(injury.around, ratio)
    across = injury.other_side or injury.across.plus(crown.product(injury.thickness, injury.shift_per_mm))
    # The shift is a length at the liner, where the channel ends; as an arc at the tread it is longer.
    shift = crown.product(injury.thickness, injury.along_per_mm)
    return across, injury.around.plus(crown.product(shift, Interval(1.0 / ratio.high, 1.0 / ratio.low)))


def _earlier_around(repair: EarlierFacts, ratio: Interval) -> Interval:
    if repair.sides == ("outside",):
        return repair.around
    inside = _at_tread(repair.around, ratio)
    return inside if repair.sides == ("inside",) else repair.around.hull(inside)


def _at_tread(arc: Interval, ratio: Interval) -> Interval:
    return Interval(arc.low / ratio.high, arc.high / ratio.low)
