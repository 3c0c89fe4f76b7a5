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
from mendgauge.tyre.tyre_class import TyreClass

Carcass: TypeAlias = Literal["radial", "bias"]
Where: TypeAlias = Literal["groove", "lug"]

_NO_HOUSE: Final = HouseRules()


class Figures(msgspec.Struct, frozen=True, eq=False):
    """What the workshop says of preparation, stem and patch for a class of tyre, looked up once.

    `reach`, `reach_reinforced`, `gap` and `grip` are lengths of these, mm; the gap of two patches is a margin each.
    """

    unit: RepairUnitRule
    cutters: CutterSizes
    passes: CutterPasses
    tools: ToolLimits
    cleaned: CleanedMargin
    stem_length: StemLength
    trim: Mapping[str, StemTrimRule]
    match: Mapping[str, UnitMatch]
    reach: Interval
    reach_reinforced: Interval
    gap: Interval
    grip: Interval


@lru_cache(maxsize=256)
def figures(edition: Edition, of: TyreClass) -> Figures:
    """Return the workshop's figures for a class of tyre."""
    unit: RepairUnitRule = provision_for(edition, "repair_unit", of)
    stem_length: StemLength = provision_for(edition, "stem_length", of)
    return Figures(
        unit=unit,
        cutters=provision_for(edition, "cutters", of),
        passes=provision_for(edition, "cutter_passes", of),
        tools=provision_for(edition, "tool_limits", of),
        cleaned=provision_for(edition, "cleaned_margin", of),
        stem_length=stem_length,
        trim=provisions_by_topic(edition, "stem_trim", of),
        match=provisions_by_topic(edition, "unit_match", of),
        reach=point(unit.reach_mm),
        reach_reinforced=point(unit.reach_reinforced_mm),
        gap=point(2.0 * unit.buffed_margin_mm),
        grip=point(stem_length.grip_mm),
    )


class AskedOfUnit(msgspec.Struct, frozen=True):
    """What a channel asks of any one unit, wherever on the liner it opens, lengths in mm: all that its fit hangs on.

    `channel` is its diameter once cut; `mouth_…` are whole extents of its mouth at the liner, an ellipse. `one_piece`
    is whether stem and patch may be one piece, which they are to a lean of `one_piece_to_deg`, by the book and by the
    house, and a crown of `one_piece_crown_to_mm`, where the house looks at it. `gap` is the least distance between two
    patches, a buffed margin each. `earlier_in_the_way` are the earlier repairs that may leave a patch the least room,
    and those that surely do: what clears these clears every one.
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
    gap: Interval
    grip: Interval
    earlier_known: bool
    earlier_in_the_way: tuple[Neighbour, ...]


class Requirements(AskedOfUnit, frozen=True):
    """What one channel asks of a unit, and where it lies, lengths in mm.

    `thickness` is that of the crown where it comes out, `across` the centre of its mouth. `size` is the limit on the
    injury's size; none where the book does not speak of this class of tyre.
    """

    injury: InjuryFacts
    size: InjurySize | None
    one_piece_rule: OnePieceLean
    house: HouseRules
    filled_by_heat: bool
    thickness: Interval
    across: Interval
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


class Hole(msgspec.Struct, frozen=True, eq=False):
    """An injury and the limit on its size, with its channel once cut and the mouth of that, mm."""

    injury: InjuryFacts
    size: InjurySize | None
    house: HouseRules
    channel: Interval
    mouth_long: Interval


@part
def requirements_of(workup: Workup) -> tuple[Requirements, ...]:
    """Return what each injury of a case asks for, over everything the tyre may be in use as.

    An injury that surely does not go through is there too: its channel is what it would be.
    """
    return asked_of(workup, tyres_apart_of(workup))


def asked_of(workup: Workup, tyres: list[TyreFacts]) -> tuple[Requirements, ...]:
    """Return what each injury of a tyre asks for, over the uses that it may be in."""
    asking = _Asking(workup, tyres)
    return tuple([asking.of(injury) for injury in tyres[0].injuries])


@part
def holes_of(workup: Workup) -> tuple[Hole, ...]:
    """Return each injury of a case and the limit on its size, over everything the tyre may be in use as."""
    tyres, house = tyres_apart_of(workup), workup.case.house_rules or _NO_HOUSE
    rules, holes = _rules_of(workup, tyres[0]), []
    for injury in tyres[0].injuries:
        channel = injury.prepared
        for tyre in tyres[1:]:
            channel = channel.hull(tyre.injuries[injury.index].prepared)
        holes.append(Hole(injury, _size(injury, rules), house, channel, crown.stretched(channel, injury.lean)))
    return tuple(holes)


@part
def centres_around_of(workup: Workup) -> tuple[Interval, ...]:
    """Return where along the tread each channel opens at the liner, in mm there, over everything the tyre may be."""
    tyres = tyres_apart_of(workup)
    return tuple(
        [
            reduce(Interval.hull, map(layout.around_at_liner, in_each))
            for in_each in zip(*[tyre.injuries for tyre in tyres], strict=True)
        ]
    )


class _Asking:
    """What the channels of a tyre ask for in any of its uses; the figures cited are those of the first.

    What all of its channels ask alike is found once.
    """

    def __init__(self, workup: Workup, tyres: list[TyreFacts]) -> None:
        bench = workup.case.bench
        self._house = house = workup.case.house_rules or _NO_HOUSE
        self._filled_by_heat = bench is not None and bench.heat_cured_fill is not None
        self._two_piece = self._filled_by_heat or house.two_piece_only
        self._within = workup.opens_within
        self._tyre = tyre = tyres[0]
        self._rules = _rules_of(workup, tyre)
        self._others = [(other, _rules_of(workup, other)) for other in tyres[1:]]
        self._figures = known = figures(workup.edition, tyre.tyre_class)
        self._carcass = carcass_of(tyre.marking_facts.marking)
        self._reach, self._reach_reinforced, self._gap, self._grip = (
            known.reach,
            known.reach_reinforced,
            known.gap,
            known.grip,
        )
        width = tyre.tread_width
        for other, _ in self._others:
            known = figures(workup.edition, other.tyre_class)
            self._reach = self._reach.hull(known.reach)
            self._reach_reinforced = self._reach_reinforced.hull(known.reach_reinforced)
            self._gap = self._gap.hull(known.gap)
            self._grip = self._grip.hull(known.grip)
            width = width.hull(other.tread_width)
        self._shoulder = width.times(0.5)

    def of(self, injury: InjuryFacts) -> Requirements:
        """Return what an injury of the tyre asks for."""
        # The same injury leans the same in every use: what its lean makes of it hangs on the use by its measures alone.
        lean, channel, thickness, across = injury.lean, injury.prepared, injury.thickness, self._across(injury)
        rule: OnePieceLean = self._rules[ONE_PIECE.name].deciding(injury).provision
        one_piece, reinforced = self._one_piece(injury, rule), _reinforced(injury)
        for other, rules in self._others:
            same = other.injuries[injury.index]
            channel = channel.hull(same.prepared)
            thickness = thickness.hull(same.thickness)
            across = across.hull(self._across(same))
            one_piece = _in_either(one_piece, self._one_piece(same, rules[ONE_PIECE.name].deciding(same).provision))
            reinforced = _in_either(reinforced, _reinforced(same))
        beside, in_the_way = self._beside(injury)
        house_to = self._house.max_one_piece_lean_deg
        return Requirements(
            figures=self._figures,
            assumed=self._tyre.assumed,
            carcass=self._carcass,
            one_piece=one_piece,
            one_piece_to_deg=rule.max_deg if house_to is None else min(house_to, rule.max_deg),
            one_piece_crown_to_mm=self._house.max_one_piece_crown_mm,
            channel=channel,
            lean=lean,
            length=crown.stretched(thickness, lean),
            emerges=injury.emerges,
            mouth_long=crown.stretched(channel, lean),
            mouth_across=crown.mouth_extent(channel, injury.shift_per_mm),
            mouth_along=crown.mouth_extent(channel, injury.along_per_mm),
            reinforced=reinforced,
            reach=self._reach,
            reach_reinforced=self._reach_reinforced,
            gap=self._gap,
            grip=self._grip,
            earlier_known=self._tyre.earlier_known,
            earlier_in_the_way=in_the_way,
            injury=injury,
            size=_size(injury, self._rules),
            one_piece_rule=rule,
            house=self._house,
            filled_by_heat=self._filled_by_heat,
            thickness=thickness,
            across=across,
            shoulder=self._shoulder,
            neighbours=beside,
        )

    def _one_piece(self, injury: InjuryFacts, rule: OnePieceLean) -> Truth:
        if self._two_piece:
            return NO
        house, found = self._house, at_most(injury.lean, rule.max_deg)
        if house.max_one_piece_lean_deg is not None:
            found = both(found, at_most(injury.lean, house.max_one_piece_lean_deg))
        if house.max_one_piece_crown_mm is not None:
            found = both(found, at_most(injury.tyre.crown_thickness, house.max_one_piece_crown_mm))
        return found

    def _across(self, injury: InjuryFacts) -> Interval:
        return as_supposed(layout.across_at_liner(injury), self._within.get(injury.index))

    def _beside(self, injury: InjuryFacts) -> tuple[tuple[Neighbour, ...], tuple[Neighbour, ...]]:
        """Return the neighbours of an injury, and those of the earlier repairs among them that leave the least room."""
        if self._tyre.lone_injury:
            return (), ()
        found = layout.neighbours(injury)
        # Uses that share a liner have the very same neighbours, which are many.
        apart = {id(found): found} | {
            id(of_use): of_use
            for other, _ in self._others
            if (of_use := layout.neighbours(other.injuries[injury.index]))
        }
        if len(apart) == 1:
            return found, layout.in_the_way(injury)
        # An earlier repair may be in the hole in one use and beside it in another: then it is reckoned as beside.
        of_each: dict[tuple[bool, int], Neighbour] = {}
        for one in chain.from_iterable(apart.values()):
            key = (one.earlier, one.index)
            of_each[key] = _hull_neighbours(of_each[key], one) if key in of_each else one
        beside = tuple(of_each.values())
        return beside, layout.least_room_beside(beside)


@part
def tyres_apart_of(workup: Workup) -> list[TyreFacts]:
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


def _rules_of(workup: Workup, tyre: TyreFacts) -> dict[str, Any]:
    return _injury_rules(bind_rules(workup.edition, tyre.use, tyre.marking_facts.size_and_speed))


@lru_cache(maxsize=512)
def _injury_rules(rules: BoundRules) -> dict[str, Any]:
    """Return the rules on an injury by name, each with provisions of its own kind."""
    return {rule.name: rule for rule in rules.injury}


def _size(injury: InjuryFacts, rules: dict[str, Any]) -> InjurySize | None:
    rule = rules.get(SIZE.name)
    return None if rule is None else rule.deciding(injury).provision


def carcass_of(marking: Marking) -> Carcass | None:
    """Return what the carcass is by the marking; a bias-belted one is bias."""
    return {"R": "radial", "B": "bias", "D": "bias", None: None}[marking.structure]


def as_supposed(across: Interval, within: Interval | None) -> Interval:
    """Return where a mouth lies across the liner: within what is supposed of it, where it can lie there."""
    if within is None or across.low > within.high or across.high < within.low:
        return across
    return Interval(max(across.low, within.low), min(across.high, within.high))


def _in_either(one: Truth, other: Truth) -> Truth:
    """Return every answer that a question may have in one of two uses."""
    return one if one == other else EITHER


def _reinforced(injury: InjuryFacts) -> Truth:
    over, channel = injury.tyre.assumed.unit.reinforced_over_mm, injury.prepared
    if over is None or channel.high <= over:
        return NO
    return YES if channel.low > over else EITHER


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
