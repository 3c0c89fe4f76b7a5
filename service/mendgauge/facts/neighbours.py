"""Where patches come to lie on the liner, and how far apart: earlier repairs and the other injuries are neighbours."""

from __future__ import annotations

from collections.abc import Callable, Collection, Hashable, Iterator, Sequence
from functools import reduce
from math import inf, pi
from typing import Final, Protocol, Self, TypeVar

import msgspec
from msgspec.structs import replace

from mendgauge.core import geometry as crown
from mendgauge.core.interval import NO, YES, Interval, Truth
from mendgauge.core.vocabulary import MeasuredFrom
from mendgauge.facts.injury import EarlierFacts, InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.schema.units import RepairUnitRule

_INSIDE: Final = ("inside",)


class _Hulled(Protocol):
    def hull(self, other: Self) -> Self: ...


H = TypeVar("H", bound=_Hulled)


class Neighbour(msgspec.Struct, frozen=True, gc=False):
    """Another repair on the same liner: how far off its centre is, how large it is, and whether there surely is one.

    `distance` is that of the two centres, mm; `sideways` and `along` are its parts in each direction.

    `index` is its place among the earlier repairs or, where `earlier` is false, among the injuries of the case.
    """

    earlier: bool
    index: int
    sideways: Interval
    along: Interval
    distance: Interval
    patch: Interval
    certain: Truth


def needed_patch(injury: InjuryFacts, unit: RepairUnitRule) -> Interval:
    """Return the extent of the smallest patch that covers the mouth with its reach on every side, mm."""
    low = crown.mouth_major(injury.prepared.low, injury.lean.low) + 2.0 * reach(injury.prepared.low, unit)
    high = crown.mouth_major(injury.prepared.high, injury.lean.high) + 2.0 * reach(injury.prepared.high, unit)
    return Interval(low, high)


def reach(channel: float, unit: RepairUnitRule) -> float:
    """Return how far a patch must reach past the mouth of a channel, mm."""
    reinforced = unit.reinforced_over_mm is not None and channel > unit.reinforced_over_mm
    return unit.reach_reinforced_mm if reinforced else unit.reach_mm


def least_spacing(own: Interval, neighbour_patch: Interval, unit: RepairUnitRule) -> Interval:
    """Return the least distance of two centres that keeps both patches and their buffed margins apart, mm."""
    margins = 2.0 * unit.buffed_margin_mm
    return Interval((own.low + neighbour_patch.low) / 2.0 + margins, (own.high + neighbour_patch.high) / 2.0 + margins)


class Spot(msgspec.Struct, frozen=True, gc=False):
    """Where a repair lies: across at the liner, and around both as an arc at the tread and as it was measured."""

    across: Interval
    around: Interval
    as_measured: Interval
    from_inside: bool

    def hull(self, other: Spot) -> Spot:
        """Return the same repair placed by the dimensions of either."""
        return Spot(self.across.hull(other.across), self.around.hull(other.around), self.as_measured, self.from_inside)


class Layout(msgspec.Struct, frozen=True, gc=False):
    """Every repair on a liner in its place, with the sizes of earlier patches and the dimensions of the tyre."""

    ratio: Interval
    circumference: Interval
    injuries: tuple[Spot, ...]
    earlier: tuple[Spot, ...]
    earlier_patches: tuple[Interval, ...]

    def hull(self, other: Layout) -> Layout:
        """Return what holds by the dimensions of either."""
        return Layout(
            self.ratio.hull(other.ratio),
            self.circumference.hull(other.circumference),
            _hulls(self.injuries, other.injuries),
            _hulls(self.earlier, other.earlier),
            _hulls(self.earlier_patches, other.earlier_patches),
        )


def _hulls(some: Sequence[H], others: Sequence[H]) -> tuple[H, ...]:
    return tuple([one.hull(other) for one, other in zip(some, others, strict=True)])


class Liner:
    """The liner of a tyre with every repair on it, each placed once, and the neighbours of each found once.

    `tyres` are one tyre in the uses that it may be in: what is assumed of its dimensions in any of them counts. Where
    little is supposed beyond what another liner was laid out by, repairs lie as they are `placed` there.
    """

    __slots__ = (
        "_layout",
        "_patches",
        "beside",
        "in_hole_from",
        "in_the_way",
        "judged",
        "others",
        "placed",
        "tyres",
        "unplaced",
    )

    def __init__(self, tyres: list[TyreFacts], placed: Liner | None = None) -> None:
        self.tyres = tyres
        self.placed = placed
        self._layout: Layout | None = None
        self._patches: dict[int, Interval] = {}
        self.others: dict[int, tuple[Neighbour, ...]] = {}
        self.beside: dict[int, tuple[Neighbour, ...]] = {}
        self.in_the_way: dict[int, tuple[Neighbour, ...]] = {}
        # From which distance on an earlier repair is surely in the same hole, mm, by the injury.
        self.in_hole_from: dict[int, float] = {}
        # What rules on distances come to, by the injury and what they ask.
        self.judged: dict[tuple[int, Hashable], int] = {}
        # The fields of the case that leave a place open: `judging.missing` finds them when first asked.
        self.unplaced: tuple[str, ...] | None = None

    @property
    def layout(self) -> Layout:
        """Every repair in its place, found when first asked for."""
        if self._layout is None:
            self._layout = reduce(Layout.hull, map(_layout, self.tyres))
        return self._layout

    def patch(self, index: int) -> Interval:
        """Return the extent of the smallest patch for an injury, mm."""
        found = self._patches.get(index)
        if found is None:
            found = reduce(Interval.hull, [needed_patch(one.injuries[index], one.assumed.unit) for one in self.tyres])
            self._patches[index] = found
        return found


def _layout(tyre: TyreFacts) -> Layout:
    ratio = arc_ratio(tyre)
    return Layout(
        ratio,
        tyre.circumference,
        tuple([_injury_spot(one, ratio) for one in tyre.injuries]),
        tuple(
            [Spot(one.across, _earlier_around(one, ratio), one.around, one.sides == _INSIDE) for one in tyre.earlier]
        ),
        tuple([one.patch for one in tyre.earlier]),
    )


def liner_of(tyre: TyreFacts) -> Liner:
    """Return the liner of a tyre with the repairs on it."""
    if tyre.liner is None:
        tyre.liner = Liner([tyre])
    return tyre.liner


# Pairs of repairs on one liner, for all dimensions assumed: about 1 ms.
_MOST_PAIRS: Final = 400


def share_liners(tyres: Collection[TyreFacts]) -> None:
    """Let one tyre in several uses have one liner, as far as the dimensions assumed for these are the same.

    With very many repairs it has one for all uses, on which distances are as uncertain as the use.
    """
    liners: dict[int, Liner] = {}
    for tyre in tyres:
        tyre.liner = liners.setdefault(id(tyre.assumed), Liner([tyre]))
    if len(liners) > 1 and len(liners) * _pairs(tyre) > _MOST_PAIRS:
        of_all = Liner([one for liner in liners.values() for one in liner.tyres])
        for tyre in tyres:
            tyre.liner = of_all


def lie_about_as(tyres: list[TyreFacts], before: TyreFacts) -> None:
    """Let a tyre with very many repairs have them where it had them, each as large as is supposed of it now."""
    if _pairs(before) > _MOST_PAIRS:
        liner = Liner(tyres, liner_of(before))
        for tyre in tyres:
            tyre.liner = liner


def lie_as(tyres: Collection[TyreFacts], before: TyreFacts) -> None:
    """Let a tyre with very many repairs have them where it had them before something was supposed of it."""
    # With so many, it has one liner for all its uses: see `share_liners`.
    if _pairs(before) > _MOST_PAIRS:
        for tyre in tyres:
            tyre.liner = liner_of(before)


def _pairs(tyre: TyreFacts) -> int:
    return len(tyre.injuries) * (len(tyre.injuries) + len(tyre.earlier))


def neighbours(injury: InjuryFacts) -> tuple[Neighbour, ...]:
    """Return every other repair the injury's own would lie beside; what is surely in the same hole is not beside it."""
    liner = liner_of(injury.tyre)
    found = liner.beside.get(injury.index)
    if found is None:
        within = injury.tyre.assumed.same_hole_mm
        found = tuple([one for one in _others(injury, liner) if not _in_hole(one, within)])
        liner.beside[injury.index] = found
    return found


def in_the_way(injury: InjuryFacts) -> tuple[Neighbour, ...]:
    """Return the earlier repairs that may leave the injury's own the least room, and those that surely do."""
    liner = liner_of(injury.tyre)
    found = liner.in_the_way.get(injury.index)
    if found is None:
        found = liner.in_the_way[injury.index] = least_room_beside(neighbours(injury))
    return found


def least_room_beside(beside: tuple[Neighbour, ...]) -> tuple[Neighbour, ...]:
    """Return the earlier ones of some neighbours that may leave a patch the least room, and those that surely do.

    Left out is what lies no nearer in either direction than another that is no smaller: a patch with room beside
    that has room beside both.
    """
    earlier = [one for one in beside if one.earlier]
    if len(earlier) < 2:
        return tuple(earlier)
    may = _nearest([(one.sideways.low, one.along.low, -one.patch.high, one.index) for one in earlier])
    surely = _nearest([(one.sideways.high, one.along.high, -one.patch.low, one.index) for one in earlier])
    return tuple([one for one in earlier if one.index in may or one.index in surely])


def _nearest(placed: list[tuple[float, float, float, int]]) -> set[int]:
    """Return the indices of those of which no other is as near or nearer in both directions and as large or larger.

    Each has its distances sideways and along, its size as a negative number, and its index.
    """
    nearest: list[tuple[float, float, float, int]] = []
    for one in sorted(placed):
        _, along, size, _ = one
        for _, other_along, other_size, _ in nearest:
            if other_along <= along and other_size <= size:
                break
        else:
            nearest.append(one)
    return {index for _, _, _, index in nearest}


def repaired_before(injury: InjuryFacts) -> bool:
    """Return whether an earlier repair is surely in the same hole."""
    liner = liner_of(injury.tyre)
    nearest = liner.in_hole_from.get(injury.index)
    if nearest is None:
        nearest = min([one.distance.high for one in _others(injury, liner) if one.earlier], default=inf)
        liner.in_hole_from[injury.index] = nearest
    return nearest <= injury.tyre.assumed.same_hole_mm


def _in_hole(one: Neighbour, within: float) -> bool:
    return one.earlier and one.distance.high <= within


def _others(injury: InjuryFacts, liner: Liner) -> tuple[Neighbour, ...]:
    found = liner.others.get(injury.index)
    if found is None:
        if injury.tyre.lone_injury:
            found = ()
        elif liner.placed is None:
            found = tuple(_neighbours(injury, liner))
        else:
            found = tuple(
                [
                    one if one.earlier else replace(one, patch=liner.patch(one.index))
                    for one in _others(injury, liner.placed)
                ]
            )
        liner.others[injury.index] = found
    return found


def _neighbours(injury: InjuryFacts, liner: Liner) -> Iterator[Neighbour]:
    layout = liner.layout
    own, at_liner = layout.injuries[injury.index], crown.product(layout.circumference, layout.ratio)
    for index, (spot, patch) in enumerate(zip(layout.earlier, layout.earlier_patches, strict=True)):
        sideways, along = _apart(own, spot, layout, at_liner)
        yield Neighbour(True, index, sideways, along, crown.distance(sideways, along), patch, YES)
    for index, spot in enumerate(layout.injuries):
        through = injury.tyre.injuries[index].through
        if index != injury.index and through != NO:
            sideways, along = _apart(own, spot, layout, at_liner)
            distance = crown.distance(sideways, along)
            yield Neighbour(False, index, sideways, along, distance, liner.patch(index), through)


def _apart(one: Spot, other: Spot, layout: Layout, at_liner: Interval) -> tuple[Interval, Interval]:
    """Return how far two repairs lie apart at the liner, sideways and along, mm."""
    # Twenty injuries have over a thousand pairs: plain numbers here, not intervals of intervals.
    low, high = one.across.low - other.across.high, one.across.high - other.across.low
    sideways = (
        Interval(low, high) if low >= 0.0 else Interval(0.0 if high > 0.0 else -high, high if high > -low else -low)
    )
    if one.from_inside and other.from_inside:
        return sideways, crown.arc_distance(one.as_measured, other.as_measured, at_liner)
    arc, ratio = crown.arc_distance(one.around, other.around, layout.circumference), layout.ratio
    # Both distances are zero or more.
    return sideways, Interval(arc.low * ratio.low if ratio.low > 0.0 else 0.0, arc.high * ratio.high)


def _injury_spot(injury: InjuryFacts, ratio: Interval) -> Spot:
    return Spot(across_at_liner(injury), around_at_tread(injury, ratio), injury.around, injury.sides == _INSIDE)


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


def across_at_liner(injury: InjuryFacts) -> Interval:
    """Return how far from the centre line the channel opens at the liner, mm."""
    return across_if_shifted(injury, injury.shift_per_mm)


def across_if_shifted(injury: InjuryFacts, shift_per_mm: Interval) -> Interval:
    """Return the same of a channel that shifts so much across the tread per mm of thickness, as its lean has it."""
    sides = injury.sides
    if sides == _INSIDE:
        return injury.across
    from_outside = injury.other_side or injury.across.plus(crown.product(injury.thickness, shift_per_mm))
    return from_outside if len(sides) == 1 else from_outside.hull(injury.across)


def around_at_tread(injury: InjuryFacts, ratio: Interval) -> Interval:
    """Return where along the tread the channel opens at the liner, as an arc at the tread, mm."""
    return reduce(Interval.hull, [_around_from(side, injury, ratio) for side in injury.sides])


def around_at_liner(injury: InjuryFacts) -> Interval:
    """Return where along the tread the channel opens at the liner, as an arc there, mm."""
    if injury.sides == _INSIDE:
        return injury.around
    ratio = arc_ratio(injury.tyre)
    return crown.product(around_at_tread(injury, ratio), ratio)


def _around_from(side: MeasuredFrom, injury: InjuryFacts, ratio: Interval) -> Interval:
    if side == "inside":
        return _at_tread(injury.around, ratio)
    # The shift is a length at the liner, where the channel ends; as an arc at the tread it is longer.
    shift = crown.product(injury.thickness, injury.along_per_mm)
    return injury.around.plus(crown.product(shift, Interval(1.0 / ratio.high, 1.0 / ratio.low)))


def _earlier_around(repair: EarlierFacts, ratio: Interval) -> Interval:
    if repair.sides == ("outside",):
        return repair.around
    inside = _at_tread(repair.around, ratio)
    return inside if repair.sides == ("inside",) else repair.around.hull(inside)


def _at_tread(arc: Interval, ratio: Interval) -> Interval:
    return Interval(arc.low / ratio.high, arc.high / ratio.low)
