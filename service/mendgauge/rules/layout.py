"""Where patches come to lie on the liner, and how far apart: earlier repairs and the other injuries are neighbours."""

from __future__ import annotations

from math import pi

import msgspec

from mendgauge import crown
from mendgauge.facts import EarlierFacts, InjuryFacts, TyreFacts
from mendgauge.quantity import NO, YES, Interval, Truth
from mendgauge.rulebooks.schema import RepairUnitRule
from mendgauge.words import MeasuredFrom


class Neighbour(msgspec.Struct, frozen=True):
    """Another repair on the same liner: how far off, how large, and whether there surely is one."""

    distance: Interval
    patch: Interval
    certain: Truth


def needed_patch(injury: InjuryFacts, unit: RepairUnitRule) -> Interval:
    """Extent of the smallest patch that covers the mouth with its reach on every side, mm."""
    low = crown.mouth_major(injury.prepared.low, injury.lean.low) + 2.0 * reach(injury.prepared.low, unit)
    high = crown.mouth_major(injury.prepared.high, injury.lean.high) + 2.0 * reach(injury.prepared.high, unit)
    return Interval(low, high)


def reach(channel: float, unit: RepairUnitRule) -> float:
    """How far a patch must reach past the mouth of a channel, mm."""
    reinforced = unit.reinforced_over_mm is not None and channel > unit.reinforced_over_mm
    return unit.reach_reinforced_mm if reinforced else unit.reach_mm


def least_spacing(injury: InjuryFacts, neighbour_patch: Interval, unit: RepairUnitRule) -> Interval:
    """Least distance of two centres that keeps both patches and their buffed margins apart, mm."""
    own = needed_patch(injury, unit)
    return own.plus(neighbour_patch).times(0.5).plus(Interval(2.0 * unit.buffed_margin_mm, 2.0 * unit.buffed_margin_mm))


def neighbours(injury: InjuryFacts) -> tuple[Neighbour, ...]:
    """Every other repair the injury's own would lie beside."""
    tyre = injury.tyre
    ratio = arc_ratio(tyre)
    across, around = centre_at_liner(injury, ratio)
    found = []
    for repair in tyre.earlier:
        arc = crown.arc_distance(around, _earlier_around(repair, ratio), tyre.circumference.high)
        sideways = Interval(across.low - repair.across.high, across.high - repair.across.low).magnitude()
        found.append(Neighbour(crown.distance(sideways, crown.product(arc, ratio)), repair.patch, YES))
    for other in tyre.injuries:
        if other is injury or other.through == NO:
            continue
        there, along = centre_at_liner(other, ratio)
        arc = crown.arc_distance(around, along, tyre.circumference.high)
        sideways = Interval(across.low - there.high, across.high - there.low).magnitude()
        patch = needed_patch(other, tyre.estimates.unit)
        found.append(Neighbour(crown.distance(sideways, crown.product(arc, ratio)), patch, other.through))
    return tuple(found)


def nearest(injury: InjuryFacts) -> Neighbour | None:
    """The neighbour that may lie nearest."""
    return min(neighbours(injury), key=lambda neighbour: neighbour.distance.low, default=None)


def arc_ratio(tyre: TyreFacts) -> Interval:
    """Length of an arc at the liner for one of 1 mm at the tread: r_liner / r_tread."""
    thickness = tyre.crown_thickness.plus(tyre.tread_depth)
    radius = tyre.circumference.times(1.0 / (2.0 * pi))
    return Interval(1.0 - thickness.high / radius.low, 1.0 - thickness.low / radius.high)


def centre_at_liner(injury: InjuryFacts, ratio: Interval) -> tuple[Interval, Interval]:
    """Where the channel opens at the liner: across, and around as an arc at the tread, mm."""
    spots = [_centre_from(side, injury, ratio) for side in injury.sides]
    across, around = spots[0]
    for other_across, other_around in spots[1:]:
        across, around = across.hull(other_across), around.hull(other_around)
    return across, around


def _centre_from(side: MeasuredFrom, injury: InjuryFacts, ratio: Interval) -> tuple[Interval, Interval]:
    if side == "inside":
        return injury.across, _at_tread(injury.around, ratio)
    across = injury.other_side or injury.across.plus(crown.product(injury.thickness, injury.shift_per_mm))
    return (
        across,
        injury.around.plus(crown.product(injury.thickness, injury.along_per_mm)),
    )


def _earlier_around(repair: EarlierFacts, ratio: Interval) -> Interval:
    if repair.sides == ("outside",):
        return repair.around
    inside = _at_tread(repair.around, ratio)
    return inside if repair.sides == ("inside",) else repair.around.hull(inside)


def _at_tread(arc: Interval, ratio: Interval) -> Interval:
    return Interval(arc.low / ratio.high, arc.high / ratio.low)
