"""What each channel asks of a repair unit, as intervals: every value that some completion of the unknowns can give."""

from __future__ import annotations

from collections.abc import Hashable, Mapping
from functools import lru_cache, reduce
from itertools import chain
from operator import attrgetter
from typing import Any, Final, Literal, TypeAlias

import msgspec

from mendgauge.case.house_rules import HouseRules
from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most, both, point
from mendgauge.facts import neighbours as layout
from mendgauge.facts.assumed import AssumedDimensions
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.neighbours import Neighbour
from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.repair_units.patch_room import InTheWay, round_patch
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.resolver import provision_for, provisions_by_topic
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.repair import InjurySize, OnePieceLean
from mendgauge.rulebooks.schema.units import (
    CleanedMargin,
    CutterPasses,
    CutterSizes,
    RepairUnitRule,
    StemLength,
    StemTrimRule,
    ToolLimits,
    UnitMatch,
)
from mendgauge.rules.binding import BoundRules, bind_rules
from mendgauge.rules.repair.injury_size import DEFINITION as SIZE
from mendgauge.rules.repair.lean import ONE_PIECE
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.tyre_class import TyreClass, Use

Carcass: TypeAlias = Literal["radial", "bias"]
Where: TypeAlias = Literal["groove", "lug"]

_NO_HOUSE: Final = HouseRules()


class Figures(msgspec.Struct, frozen=True, eq=False):
    """What the workshop says of preparation, stem and patch for a class of tyre, looked up once."""

    unit: RepairUnitRule
    cutters: CutterSizes
    passes: CutterPasses
    tools: ToolLimits
    cleaned: CleanedMargin
    stem_length: StemLength
    trim: Mapping[str, StemTrimRule]
    match: Mapping[str, UnitMatch]


@lru_cache(maxsize=256)
def figures(edition: Edition, of: TyreClass) -> Figures:
    """Return the workshop's figures for a class of tyre."""
    return Figures(
        unit=provision_for(edition, "repair_unit", of),
        cutters=provision_for(edition, "cutters", of),
        passes=provision_for(edition, "cutter_passes", of),
        tools=provision_for(edition, "tool_limits", of),
        cleaned=provision_for(edition, "cleaned_margin", of),
        stem_length=provision_for(edition, "stem_length", of),
        trim=provisions_by_topic(edition, "stem_trim", of),
        match=provisions_by_topic(edition, "unit_match", of),
    )


class AskedOfUnit(msgspec.Struct, frozen=True):
    """What a channel asks of any one unit, wherever on the liner it opens, lengths in mm: all that its fit hangs on.

    `channel` is its diameter once cut; `mouth_…` are whole extents of its mouth at the liner, an ellipse. `one_piece`
    is whether stem and patch may be one piece, which they are to a lean of `one_piece_to_deg`, by the book and by the
    house, and a crown of `one_piece_crown_to_mm`, where the house looks at it. `earlier_in_the_way` are the earlier
    repairs that may leave a patch the least room, and those that surely do: what clears these clears every one.
    """

    figures: Figures
    assumed: AssumedDimensions
    carcass: Carcass | None
    one_piece: Truth
    one_piece_to_deg: float
    one_piece_crown_to_mm: float | None
    channel: Interval
    lean: Interval
    length: Interval
    emerges: tuple[Where, ...]
    mouth_long: Interval
    mouth_across: Interval
    mouth_along: Interval
    reinforced: Truth
    reach: Interval
    reach_reinforced: Interval
    margin: Interval
    grip: Interval
    earlier_known: bool
    earlier_in_the_way: tuple[InTheWay, ...]

    @property
    def gap(self) -> Interval:
        """Least distance between two patches: a buffed margin each."""
        return self.margin.times(2.0)


class Requirements(AskedOfUnit, frozen=True):
    """What one channel asks of a unit, and where it lies, lengths in mm.

    `across` and `around` are the centre of its mouth. `size` is the limit on the injury's size; none where the book
    does not speak of this class of tyre.
    """

    injury: InjuryFacts
    size: InjurySize | None
    one_piece_rule: OnePieceLean
    house: HouseRules
    filled_by_heat: bool
    across: Interval
    around: Interval
    shoulder: Interval
    neighbours: tuple[Neighbour, ...]

    @property
    def off_centre(self) -> Interval:
        """Distance of the mouth's centre from the centre line."""
        return self.across.magnitude()

    @property
    def of_unit(self) -> AskedOfUnit:
        """Return what the channel asks of a unit, alone."""
        return AskedOfUnit(*_OF_UNIT(self))


_OF_UNIT: Final = attrgetter(*AskedOfUnit.__struct_fields__)


@part
def requirements_of(workup: Workup) -> tuple[Requirements, ...]:
    """Return what each injury of a case asks for, over everything the tyre may be in use as.

    An injury that surely does not go through is there too: its channel is what it would be.
    """
    house = workup.case.house_rules or _NO_HOUSE
    bench = workup.case.bench
    filled_by_heat = bench is not None and bench.heat_cured_fill is not None
    within = workup.opens_within
    by_use = []
    for tyre in _ask_apart(workup):
        rules = bind_rules(workup.edition, tyre.use, tyre.marking_facts.size_and_speed)
        known = figures(workup.edition, tyre.tyre_class)
        by_use.append(
            [
                _need(injury, rules, known, house, within.get(injury.index), filled_by_heat=filled_by_heat)
                for injury in tyre.injuries
            ]
        )
    return tuple([_in_any_use(of_one) for of_one in zip(*by_use, strict=True)])


def uses_apart(workup: Workup) -> tuple[Use, ...]:
    """Return the uses that a tyre may be in, one of those in which its channels ask for the same."""
    return tuple([tyre.use for tyre in _ask_apart(workup)])


@part
def _ask_apart(workup: Workup) -> list[TyreFacts]:
    """Return the facts of each use alone of those in which the channels of a tyre ask for the same."""
    if len(workup.facts) == 1:
        return workup.facts
    alike: dict[Hashable, TyreFacts] = {}
    for tyre in workup.facts:
        rules = bind_rules(workup.edition, tyre.use, tyre.marking_facts.size_and_speed)
        alike.setdefault((tyre.tyre_class, _provisions(rules)), tyre)
    return list(alike.values())


@lru_cache(maxsize=512)
def _provisions(rules: BoundRules) -> Hashable:
    """Return what stands for what rules ask of a unit: the same for uses in which they say the same."""
    of_name = _injury_rules(rules)
    said = [of_name[name].branches for name in (ONE_PIECE.name, SIZE.name) if name in of_name]
    # A condition that each case has to test is a function of its own in each use.
    return tuple([tuple([(id(one.provision), one.applies) for one in branches]) for branches in said])


def _in_any_use(by_use: tuple[Requirements, ...]) -> Requirements:
    # Uses that share a liner have the very same neighbours, which are many.
    distinct = {id(one.neighbours): one.neighbours for one in by_use}
    merged = reduce(_hull, by_use)
    beside = merged.neighbours
    if len(distinct) > 1:
        # An earlier repair may be in the hole in one use and beside it in another: then it is reckoned as beside.
        of_each: dict[tuple[bool, int], Neighbour] = {}
        for one in chain.from_iterable(distinct.values()):
            key = (one.earlier, one.index)
            of_each[key] = _hull_neighbours(of_each[key], one) if key in of_each else one
        beside = tuple(of_each.values())
    if not beside:
        return merged
    return msgspec.structs.replace(merged, neighbours=beside, earlier_in_the_way=_in_the_way(beside))


def _in_the_way(beside: tuple[Neighbour, ...]) -> tuple[InTheWay, ...]:
    """Return the earlier repairs that may leave a patch the least room, and those that surely leave it least.

    Left out is what lies no nearer in either direction than another that is no smaller: a patch with room beside
    that has room beside both.
    """
    earlier = [one for one in beside if one.earlier]
    may = _nearest([(one.sideways.low, one.along.low, -one.patch.high, one.index) for one in earlier])
    surely = _nearest([(one.sideways.high, one.along.high, -one.patch.low, one.index) for one in earlier])
    return tuple(
        [
            InTheWay(one.sideways, one.along, round_patch(one.patch.high), round_patch(one.patch.low))
            for one in earlier
            if one.index in may or one.index in surely
        ]
    )


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


def _need(
    injury: InjuryFacts,
    rules: BoundRules,
    known: Figures,
    house: HouseRules,
    within: Interval | None,
    *,
    filled_by_heat: bool,
) -> Requirements:
    tyre = injury.tyre
    channel, unit = injury.prepared, known.unit
    ratio = layout.arc_ratio(tyre)
    across, around = layout.centre_at_liner(injury, ratio)
    if within is not None and across.low <= within.high and across.high >= within.low:
        across = Interval(max(across.low, within.low), min(across.high, within.high))
    around = injury.around if injury.sides == ("inside",) else crown.product(around, ratio)
    rule = _injury_rules(rules)[ONE_PIECE.name].deciding(injury).provision
    return Requirements(
        injury=injury,
        figures=known,
        carcass=carcass_of(tyre.marking_facts.marking),
        size=_size(injury, rules),
        assumed=tyre.assumed,
        one_piece_rule=rule,
        house=house,
        filled_by_heat=filled_by_heat,
        one_piece=NO if filled_by_heat else _one_piece(injury, rule, house),
        one_piece_to_deg=rule.max_deg
        if house.max_one_piece_lean_deg is None
        else min(house.max_one_piece_lean_deg, rule.max_deg),
        one_piece_crown_to_mm=house.max_one_piece_crown_mm,
        channel=channel,
        lean=injury.lean,
        length=Interval(
            crown.channel_length(injury.thickness.low, injury.lean.low),
            crown.channel_length(injury.thickness.high, injury.lean.high),
        ),
        emerges=injury.emerges,
        mouth_long=Interval(
            crown.mouth_major(channel.low, injury.lean.low), crown.mouth_major(channel.high, injury.lean.high)
        ),
        mouth_across=_extent(channel, injury.shift_per_mm),
        mouth_along=_extent(channel, injury.along_per_mm),
        across=across,
        around=around,
        reinforced=_reinforced(channel, unit),
        reach=point(unit.reach_mm),
        reach_reinforced=point(unit.reach_reinforced_mm),
        margin=point(unit.buffed_margin_mm),
        grip=point(known.stem_length.grip_mm),
        shoulder=tyre.tread_width.times(0.5),
        neighbours=layout.neighbours(injury),
        earlier_known=tyre.earlier_known,
        earlier_in_the_way=(),
    )


@lru_cache(maxsize=512)
def _injury_rules(rules: BoundRules) -> dict[str, Any]:
    """Return the rules on an injury by name, each with provisions of its own kind."""
    return {rule.name: rule for rule in rules.injury}


def _size(injury: InjuryFacts, rules: BoundRules) -> InjurySize | None:
    rule = _injury_rules(rules).get(SIZE.name)
    return None if rule is None else rule.deciding(injury).provision


def carcass_of(marking: Marking) -> Carcass | None:
    """Return what the carcass is by the marking; a bias-belted one is bias."""
    return {"R": "radial", "B": "bias", "D": "bias", None: None}[marking.structure]


def _one_piece(injury: InjuryFacts, rule: OnePieceLean, house: HouseRules) -> Truth:
    if house.two_piece_only:
        return NO
    found = at_most(injury.lean, rule.max_deg)
    if house.max_one_piece_lean_deg is not None:
        found = both(found, at_most(injury.lean, house.max_one_piece_lean_deg))
    if house.max_one_piece_crown_mm is not None:
        found = both(found, at_most(injury.tyre.crown_thickness, house.max_one_piece_crown_mm))
    return found


def _extent(channel: Interval, slope: Interval) -> Interval:
    """Return the extent of the mouth in one direction, of which `slope` is the channel's shift per mm of thickness."""
    steep = slope.magnitude()
    return Interval(
        2.0 * crown.mouth_reach_across(channel.low, steep.low), 2.0 * crown.mouth_reach_across(channel.high, steep.high)
    )


def _reinforced(channel: Interval, unit: RepairUnitRule) -> Truth:
    over = unit.reinforced_over_mm
    if over is None or channel.high <= over:
        return NO
    return YES if channel.low > over else EITHER


def _hull(one: Requirements, other: Requirements) -> Requirements:
    """Return what a channel asks for in either use, neighbours aside; the figures cited are the first one's."""
    return msgspec.structs.replace(
        one,
        one_piece=one.one_piece | other.one_piece,
        channel=one.channel.hull(other.channel),
        lean=one.lean.hull(other.lean),
        length=one.length.hull(other.length),
        mouth_long=one.mouth_long.hull(other.mouth_long),
        mouth_across=one.mouth_across.hull(other.mouth_across),
        mouth_along=one.mouth_along.hull(other.mouth_along),
        reinforced=one.reinforced | other.reinforced,
        reach=one.reach.hull(other.reach),
        reach_reinforced=one.reach_reinforced.hull(other.reach_reinforced),
        margin=one.margin.hull(other.margin),
        grip=one.grip.hull(other.grip),
        across=one.across.hull(other.across),
        around=one.around.hull(other.around),
        shoulder=one.shoulder.hull(other.shoulder),
    )


def _hull_neighbours(one: Neighbour, other: Neighbour) -> Neighbour:
    return Neighbour(
        one.earlier,
        one.index,
        one.sideways.hull(other.sideways),
        one.along.hull(other.along),
        one.distance.hull(other.distance),
        one.patch.hull(other.patch),
        one.certain,
    )
