"""The case as the rules see it: every measurement an interval, every yes-or-no a truth, every choice the choices left.

What nobody measured becomes the widest range it can have: by its contract, by the marking, or by the rulebook's
estimates, each of which has its source there.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from math import pi
from typing import Final, TypeVar, get_args

from mendgauge import crown
from mendgauge.case import Case, History, Position, Vehicle
from mendgauge.injury import EarlierRepair, Injury
from mendgauge.quantity import EITHER, NO, YES, Interval, Truth, point
from mendgauge.rulebooks.schema import Edition, Estimate, RepairUnitRule
from mendgauge.told import TRUTH, TRUTH_COMPLETE, told
from mendgauge.tyre.date_code import age_years, read_date_code
from mendgauge.tyre.dimensions import overall_diameter_mm, section_height_mm
from mendgauge.tyre.marking import Marking, read_marking
from mendgauge.tyre.speed import at_least_symbol, rated_speed
from mendgauge.vehicle_class import TyreClass, Use, possible_uses
from mendgauge.words import LEAN_DEG_MAX, Depth, EmergesIn, Measured, MeasuredFrom, Range, Region, Stage

T = TypeVar("T")

METHODS_BY_HALVES: Final = ("plug_only", "patch_only")

# The widest values the contract admits, for what no marking or estimate narrows.
MASS: Final = Interval(0.0, 200_000.0)
PRESSURE: Final = Interval(0.0, 200.0)
AGE: Final = Interval(0.0, 100.0)
ANY_INJURIES: Final = Interval(0.0, 20.0)
ANY_EARLIER: Final = Interval(0.0, 50.0)
LEAN: Final = Interval(0.0, LEAN_DEG_MAX)
TOWARD: Final = Interval(0.0, 360.0)
DIAMETER: Final = Interval(0.0, 500.0)
SECTION_WIDTH: Final = Interval(40.0, 800.0)
OVERALL_DIAMETER: Final = Interval(250.0, 2500.0)


def measured(value: Measured | None, unknown: Interval) -> Interval:
    """A measurement as an interval: the number, the range, or all that an unknown can be."""
    if value is None:
        return unknown
    # By its type: `isinstance` asks the metaclass of a struct, which takes several times as long.
    return Interval(value.low, value.high) if type(value) is Range else Interval(value, value)


def _choices(every: tuple[T, ...]) -> dict[T | None, tuple[T, ...]]:
    """For a choice as given, the choices left: one, or every one where none was given."""
    return {None: every, **{value: (value,) for value in every}}


class Estimates:
    """A rulebook's figures for one class of tyre, looked up once: what to reckon with when nobody measured."""

    __slots__ = ("crown_thickness", "cutters", "patch", "tread_depth", "tread_width_share", "unit")

    def __init__(self, edition: Edition, of: TyreClass) -> None:
        workshop = edition.workshop
        found = {estimate.dimension: estimate for estimate in workshop.estimates if of in estimate.classes}
        self.crown_thickness = _span(found["crown_thickness"])
        self.tread_depth = _span(found["tread_depth"])
        self.patch = _span(found["patch"])
        share = found["tread_width"]
        self.tread_width_share = Interval(
            share.low_share_of_section_width or 0.0, share.high_share_of_section_width or 0.0
        )
        cutters = (*edition.book.cutters, *workshop.cutters)
        self.cutters = next(entry.sizes_mm for entry in cutters if of in entry.classes)
        self.unit: RepairUnitRule = next(entry for entry in workshop.repair_unit if of in entry.classes)

    def cut(self, hole: Interval) -> Interval:
        """What a hole becomes: the smallest nominal cutter at or above it, mm; itself where no cutter is as large."""
        low = self._cutter(hole.low)
        return Interval(low, low if hole.high <= low else self._cutter(hole.high))

    def next_cutter(self, size: float) -> float | None:
        """The nominal cutter after a size, mm; none after the largest."""
        return next((cutter for cutter in self.cutters if cutter > size), None)

    def _cutter(self, hole: float) -> float:
        for size in self.cutters:
            if size >= hole:
                return size
        return hole


def _span(estimate: Estimate) -> Interval:
    return Interval(estimate.low_mm or 0.0, estimate.high_mm or 0.0)


@lru_cache(maxsize=256)
def estimates(edition_reference: Edition, of: TyreClass) -> Estimates:
    """The figures an edition reckons with for a class of tyre."""
    return Estimates(edition_reference, of)


class TyreFacts:
    """All that is known of the tyre, its vehicle and its history."""

    __slots__ = (
        "age",
        "axle_known",
        "circumference",
        "conditions",
        "crown_thickness",
        "driven_flat",
        "earlier",
        "earlier_count",
        "earlier_known",
        "estimates",
        "frame",
        "injuries",
        "kind",
        "maker_max_repairs",
        "maker_permits",
        "mass",
        "pressure",
        "rated_kmh",
        "repairs_needed",
        "sealant",
        "section_width",
        "single",
        "steered",
        "told",
        "traits",
        "tread_depth",
        "tread_width",
        "tyre_class",
        "use",
    )

    def __init__(self, case: Case, use: Use, edition: Edition, on: date) -> None:
        self.use = use
        self.kind = use.kind
        given = case.tyre
        frame = frame_of(given.marking)
        self.frame = frame
        self.section_width = frame.section_width
        self.circumference = frame.circumference
        self.rated_kmh = frame.rated_kmh
        self.tyre_class = use.tyre_class
        figures = estimates(edition, self.tyre_class)
        self.estimates = figures

        vehicle = case.vehicle or _NO_VEHICLE
        position = case.position or _NO_POSITION
        self.mass = measured(vehicle.gross_mass_kg, MASS)
        self.steered = _steered(position)
        self.axle_known = position.axle is not None
        self.single = EITHER if position.fitment is None else (YES if position.fitment == "single" else NO)

        self.tread_width = measured(given.tread_width_mm, usual_tread_width(frame, figures))
        depth_left = figures.tread_depth
        if given.tread_depth_mm is None and given.new_tread_depth_mm is not None:
            depth_left = Interval(0.0, measured(given.new_tread_depth_mm, depth_left).high)
        self.tread_depth = measured(given.tread_depth_mm, depth_left)
        self.crown_thickness = measured(given.crown_thickness_mm, figures.crown_thickness)
        self.age = AGE if given.date_code is None else age_of(given.date_code, on)

        policy = given.maker_policy
        self.told = known = told(given.traits, policy, case.inspection, frame.told_by_marking)
        self.traits = known.traits
        self.conditions = known.conditions
        self.maker_permits = known.maker_permits
        self.maker_max_repairs = None if policy is None else policy.max_repairs
        history = case.history or _NO_HISTORY
        table = TRUTH_COMPLETE if history.complete else TRUTH
        self.driven_flat = table[history.driven_flat]
        self.sealant = table[history.sealant_used]
        self.pressure = measured(history.pressure_found_percent, PRESSURE)

        injuries, earlier = case.injuries, case.earlier_repairs
        told_of = _ONE_UNKNOWN if injuries is None else injuries
        self.injuries = [InjuryFacts(self, i, injury) for i, injury in enumerate(told_of)]
        if injuries is None:
            self.repairs_needed = ANY_INJURIES
        else:
            through = [injury.through for injury in self.injuries]
            self.repairs_needed = Interval(float(through.count(YES)), float(len(through) - through.count(NO)))
        self.earlier_known = earlier is not None
        self.earlier = [EarlierFacts(self, i, repair) for i, repair in enumerate(earlier)] if earlier else []
        self.earlier_count = ANY_EARLIER if earlier is None else point(float(len(earlier)))

    @property
    def tyre(self) -> TyreFacts:
        """Itself: what a rule asks of an injury's tyre it may ask of a tyre."""
        return self

    def let_go(self) -> None:
        """Breaks the ring of tyre and injuries, so that they are freed at once and not when the collector comes by."""
        self.injuries = []


class InjuryFacts:
    """All that is known of one injury."""

    __slots__ = (
        "across",
        "around",
        "cutter",
        "depths",
        "diameter",
        "emerges",
        "index",
        "largest_reach",
        "lean",
        "other_side",
        "prepared",
        "regions",
        "shift_per_mm",
        "sides",
        "stages",
        "thickness",
        "through",
        "toward",
        "tyre",
    )

    def __init__(self, tyre: TyreFacts, index: int, injury: Injury) -> None:
        self.tyre = tyre
        self.index = index
        self.regions = _REGIONS[injury.region]
        self.depths = _depths(injury)
        self.stages = _STAGES[injury.stage]
        self.sides = _SIDES[injury.measured_from]
        self.emerges = _MOUTHS[injury.emerges_in]
        self.through = _THROUGH[injury.depth]
        frame = tyre.frame
        self.across = measured(injury.across_mm, frame.tread if injury.region == "tread" else frame.tyre)
        self.around = measured(injury.around_mm, frame.around)
        self.diameter = measured(injury.diameter_mm, DIAMETER)
        self.cutter = tyre.estimates.cut(self.diameter)
        self.prepared = self._prepared()
        self.lean = measured(injury.lean_deg, LEAN)
        self.toward = measured(injury.lean_toward_deg, TOWARD)
        self.shift_per_mm = crown.shift_across(self.lean, self.toward)
        self.thickness = self._thickness()
        self.other_side = None if injury.other_side_across_mm is None else self._other_side(injury.other_side_across_mm)
        self.largest_reach: float | None = None

    def _other_side(self, told: Measured) -> Interval:
        """Where the channel lies on the other side: as told, as far as its lean and the crown let it."""
        there = measured(told, SECTION_WIDTH)
        spans = [self.across.plus(crown.product(self.thickness, shift)) for shift in self.shifts]
        low, high = min(span.low for span in spans), max(span.high for span in spans)
        apart = there.low > high or there.high < low
        return there if apart else Interval(max(there.low, low), min(there.high, high))

    @property
    def shifts(self) -> list[Interval]:
        """How the channel shifts across from the side it was measured on to the other, per mm of thickness."""
        inward = self.shift_per_mm
        return [inward if side == "outside" else Interval(-inward.high, -inward.low) for side in self.sides]

    @property
    def along_per_mm(self) -> Interval:
        """Shift along the tread per mm of thickness, tan theta sin phi."""
        return crown.shift_along(self.lean, self.toward)

    def _prepared(self) -> Interval:
        """Diameter of the channel once it is cut clean."""
        if self.stages == ("prepared",):
            return self.diameter
        return self.cutter if self.stages == ("found",) else Interval(self.diameter.low, self.cutter.high)

    def _thickness(self) -> Interval:
        """Thickness of the crown along the perpendicular, where the channel comes out."""
        crown_thickness = self.tyre.crown_thickness
        if self.emerges == ("groove",):
            return crown_thickness
        on_lug = crown_thickness.plus(self.tyre.tread_depth)
        return on_lug if self.emerges == ("lug",) else crown_thickness.hull(on_lug)


class EarlierFacts:
    """All that is known of one earlier repair."""

    __slots__ = ("across", "around", "index", "method", "patch", "proper", "sides")

    def __init__(self, tyre: TyreFacts, index: int, repair: EarlierRepair) -> None:
        self.index = index
        self.method = repair.method
        self.proper = NO if repair.method in METHODS_BY_HALVES else TRUTH[repair.proper]
        self.sides = _SIDES[repair.measured_from]
        self.across = measured(repair.across_mm, tyre.frame.tyre)
        self.around = measured(repair.around_mm, tyre.frame.around)
        self.patch = measured(repair.patch_mm, tyre.estimates.patch)


class Frame:
    """What a marking alone says of a tyre: its size, its speed, and the vehicles it runs on."""

    __slots__ = (
        "around",
        "circumference",
        "half_profile",
        "kinds",
        "marking",
        "rated_kmh",
        "section_width",
        "told_by_marking",
        "tread",
        "tyre",
        "uses",
        "uses_on",
        "v_or_above",
    )

    def __init__(self, marking: Marking) -> None:
        self.marking = marking
        width = marking.section_width_mm
        self.section_width = SECTION_WIDTH if width is None else point(width)
        diameter = overall_diameter_mm(marking)
        self.circumference = (OVERALL_DIAMETER if diameter is None else point(diameter)).times(pi)
        height = section_height_mm(marking)
        self.half_profile = self.section_width.high / 2.0 + (self.section_width.high if height is None else height)
        # Where on the tyre, in its tread, and round it an injury can be.
        self.tyre = Interval(-self.half_profile, self.half_profile)
        self.tread = Interval(-self.section_width.high / 2.0, self.section_width.high / 2.0)
        self.around = Interval(0.0, self.circumference.high)
        self.rated_kmh = rated_speed(marking)
        self.v_or_above = at_least_symbol(marking, "V")
        self.uses = possible_uses(marking)
        self.kinds = tuple(dict.fromkeys(use.kind for use in self.uses))
        self.uses_on = {kind: tuple(use for use in self.uses if use.kind == kind) for kind in self.kinds}
        self.told_by_marking = tuple(
            name
            for name, told in (("run_flat", marking.run_flat), ("temporary_spare", marking.temporary_spare))
            if told
        )


@lru_cache(maxsize=4096)
def frame_of(marking: str) -> Frame:
    """The frame of a marking as it was typed. Raises `MarkingError`."""
    return Frame(read_marking(marking))


@lru_cache(maxsize=4096)
def usual_tread_width(frame: Frame, figures: Estimates) -> Interval:
    """The width of a tread when nobody measured it."""
    share, width = figures.tread_width_share, frame.section_width
    return Interval(share.low * width.low, share.high * width.high)


@lru_cache(maxsize=4096)
def age_of(date_code: str, on: date) -> Interval:
    """Age in years on a day, from the date code; all ages where the code carries no date. Raises `DateCodeError`."""
    return age_years(read_date_code(date_code, on), on) or AGE


def _depths(injury: Injury) -> tuple[Depth, ...]:
    """How deep the injury may go: one seen from the inside, or with a channel cut, is not in the rubber alone."""
    if injury.depth is None and (injury.stage == "prepared" or injury.measured_from == "inside"):
        return tuple(depth for depth in _DEPTHS[None] if depth != "rubber_only")
    return _DEPTHS[injury.depth]


def _steered(position: Position) -> Truth:
    if position.axle == "steer" or position.steered:
        return YES
    if position.axle in ("rear", "drive", "trailer", "spare") or position.steered is False:
        return NO
    return EITHER


_REGIONS: Final = _choices(get_args(Region))
_DEPTHS: Final = _choices(get_args(Depth))
_STAGES: Final = _choices(get_args(Stage))
_SIDES: Final = _choices(get_args(MeasuredFrom))
_MOUTHS: Final = _choices(get_args(EmergesIn))
_THROUGH: Final[dict[Depth | None, Truth]] = {None: EITHER, "through": YES, "to_cord": NO, "rubber_only": NO}

_NO_VEHICLE: Final = Vehicle()
_NO_POSITION: Final = Position()
_NO_HISTORY: Final = History()
_ONE_UNKNOWN: Final = (Injury(),)
