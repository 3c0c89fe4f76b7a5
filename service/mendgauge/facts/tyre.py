"""The case as the rules see it: every measurement an interval, every yes-or-no a truth, every choice the choices left.

What nobody measured becomes the widest range it can have: by its contract, by the marking, or by the rulebook's
estimates, each of which has its source there.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import lru_cache
from itertools import count, repeat
from math import pi
from typing import TYPE_CHECKING, Final, TypeVar, get_args

from mendgauge.case.case import Case, History, Position
from mendgauge.case.contract import Pointer
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, point
from mendgauge.core.vocabulary import (
    LEAN_DEG_MAX,
    Depth,
    EmergesIn,
    Measured,
    MeasuredFrom,
    Range,
    Region,
    Stage,
    VehicleKind,
)
from mendgauge.facts.assumed import assumed_dimensions, usual_tread_width
from mendgauge.facts.yes_no import TRUTH, TRUTH_COMPLETE, yes_no_facts
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.tyre.date_code import age_years, read_date_code
from mendgauge.tyre.marking_facts import SECTION_WIDTH, marking_facts_of
from mendgauge.tyre.tyre_class import TyreClass, Use

if TYPE_CHECKING:
    from mendgauge.facts.neighbours import Liner

T = TypeVar("T")

METHODS_BY_HALVES: Final = ("plug_only", "patch_only")
NEVER_IN_PAIRS: Final = ("car", "motorcycle")

# The widest values the contract admits, for what no marking or estimate narrows.
MASS: Final = Interval(0.0, 200_000.0)
PRESSURE: Final = Interval(0.0, 200.0)
FLAT_DISTANCE: Final = Interval(0.0, 10_000.0)
AGE: Final = Interval(0.0, 100.0)
ANY_INJURIES: Final = Interval(0.0, 20.0)
ANY_EARLIER: Final = Interval(0.0, 50.0)
LEAN: Final = Interval(0.0, LEAN_DEG_MAX)
TOWARD: Final = Interval(0.0, 360.0)
DIAMETER: Final = Interval(0.0, 500.0)


def measured(value: Measured | None, unknown: Interval) -> Interval:
    """Return a measurement as an interval: the number, the range, or all that an unknown can be."""
    # By its type, a plain number first: `isinstance` asks the metaclass of a struct and takes several times as long.
    if type(value) is float:
        return Interval(value, value)
    if value is None:
        return unknown
    return Interval(value.low, value.high) if type(value) is Range else Interval(value, value)


def _choices(every: tuple[T, ...]) -> dict[T | None, tuple[T, ...]]:
    """Return the choices left for each choice as given: one, or every one where none was given."""
    return {None: every, **{value: (value,) for value in every}}


class TyreFacts:
    """All that is known of the tyre, its vehicle and its history.

    What nearly every rulebook asks for is found at once, the rest when it is asked for.
    """

    __slots__ = (
        "age",
        "assumed",
        "case",
        "crown_thickness",
        "earlier",
        "earlier_count",
        "earlier_known",
        "fields_behind",
        "history",
        "injuries",
        "liner",
        "maker_max_repairs",
        "marking_facts",
        "overall_diameter",
        "position",
        "repairs_needed",
        "sealant",
        "tread_depth",
        "use",
        "yes_no",
    )

    index: Final = None
    """An injury has its place in the list here."""

    def __init__(self, case: Case, use: Use, edition: Edition, on: date) -> None:
        self.case = case
        self.use = use
        self.position = case.position or _NO_POSITION
        self.history = history = case.history or _NO_HISTORY
        self.sealant = (TRUTH_COMPLETE if history.complete else TRUTH)[history.sealant_used]
        given = case.tyre
        policy = given.maker_policy
        self.maker_max_repairs = None if policy is None else policy.max_repairs
        self.age = AGE if given.date_code is None else age_of(given.date_code, on)
        self.marking_facts = marking_facts = marking_facts_of(given.marking)
        service, unmeasured = case.in_service, marking_facts.overall_diameter
        self.overall_diameter = unmeasured if service is None else measured(service.overall_diameter_mm, unmeasured)
        self.assumed = figures = assumed_dimensions(edition, use.tyre_class)
        self.yes_no = yes_no_facts(given.traits, policy, case.inspection, given.body_ply, marking_facts.implied)
        depth_left = figures.tread_depth
        if given.tread_depth_mm is None and given.new_tread_depth_mm is not None:
            depth_left = Interval(0.0, measured(given.new_tread_depth_mm, depth_left).high)
        self.tread_depth = measured(given.tread_depth_mm, depth_left)
        self.crown_thickness = measured(given.crown_thickness_mm, figures.crown_thickness)

        # The repairs laid out beside each other: `facts.neighbours` finds them when first asked.
        self.liner: Liner | None = None
        # The fields of the case that leave a fact open, by the fact: `judging.questions` finds them when first asked.
        self.fields_behind: dict[str, tuple[Pointer, ...]] = {}
        injuries, earlier = case.injuries, case.earlier_repairs
        if injuries is None:
            self.injuries = [InjuryFacts(self, 0, _UNKNOWN)]
            self.repairs_needed = ANY_INJURIES
        else:
            self.injuries = list(map(InjuryFacts, repeat(self), count(), injuries))
            self.repairs_needed = self._repairs_needed()
        self.earlier_known = earlier is not None
        if earlier:
            self.earlier = list(map(EarlierFacts, repeat(self), count(), earlier))
            self.earlier_count = point(float(len(earlier)))
        else:
            self.earlier = []
            self.earlier_count = ANY_EARLIER if earlier is None else _NO_EARLIER

    @property
    def kind(self) -> VehicleKind:
        """The kind of vehicle it runs on."""
        return self.use.kind

    @property
    def tyre_class(self) -> TyreClass:
        """The class of limits it falls under."""
        return self.use.tyre_class

    @property
    def lone_injury(self) -> bool:
        """Whether it has one injury and nothing else to lie beside it, as far as anybody said."""
        return not self.earlier and len(self.injuries) == 1

    @property
    def section_width(self) -> Interval:
        """Nominal section width, mm."""
        return self.marking_facts.section_width

    @property
    def circumference(self) -> Interval:
        """Once round the tread as it is now, mm: as measured, else by the marking less what has worn off."""
        service = self.case.in_service
        if service is not None and service.overall_diameter_mm is not None:
            return self.overall_diameter.times(pi)
        nominal, worn = self.marking_facts.circumference, self.worn
        return Interval(nominal.low - 2.0 * pi * worn.high, nominal.high - 2.0 * pi * worn.low)

    @property
    def worn(self) -> Interval:
        """Tread worn off since it was new, mm; no tread is new with more than the rulebook's estimates reckon with."""
        new = measured(self.case.tyre.new_tread_depth_mm, Interval(0.0, self.assumed.tread_depth.high))
        return Interval(max(0.0, new.low - self.tread_depth.high), max(0.0, new.high - self.tread_depth.low))

    @property
    def rated_kmh(self) -> Interval:
        """The speed its marking rates it for, km/h."""
        return self.marking_facts.rated_kmh

    @property
    def v_or_above(self) -> Truth:
        """Whether its speed symbol is V or above."""
        return self.marking_facts.v_or_above

    @property
    def traits(self) -> dict[str, Truth]:
        """What kind of tyre it is beyond its marking, by name."""
        return self.yes_no.traits

    @property
    def conditions(self) -> dict[str, Truth]:
        """The signs of its condition, by name."""
        return self.yes_no.conditions

    @property
    def steel_plies(self) -> Truth:
        """Whether its body plies are steel."""
        return self.yes_no.steel_plies

    @property
    def maker_permits(self) -> Truth:
        """Whether its maker lets it be repaired."""
        return self.yes_no.maker_permits

    @property
    def mass(self) -> Interval:
        """Gross mass of the vehicle, kg."""
        vehicle = self.case.vehicle
        return MASS if vehicle is None else measured(vehicle.gross_mass_kg, MASS)

    @property
    def steered(self) -> Truth:
        """Whether its axle steers; the front axle of all but a trailer does."""
        axle, steered = self.position.axle, self.position.steered
        if axle == "steer" or steered:
            return YES
        if axle in ("rear", "drive", "trailer", "spare") or steered is False:
            return NO
        return YES if axle == "front" and self.use.kind != "trailer" else EITHER

    @property
    def axle_known(self) -> bool:
        """Whether its axle is given."""
        return self.position.axle is not None

    @property
    def single(self) -> Truth:
        """Whether it is fitted singly, and not in a dual pair; a car or a motorcycle has no pairs."""
        fitment = self.position.fitment
        if fitment is None:
            return YES if self.use.kind in NEVER_IN_PAIRS else EITHER
        return YES if fitment == "single" else NO

    @property
    def tread_width(self) -> Interval:
        """Width of the tread, mm."""
        return measured(self.case.tyre.tread_width_mm, usual_tread_width(self.marking_facts, self.assumed))

    @property
    def driven_flat(self) -> Truth:
        """Whether it was driven flat; a distance says so too."""
        history = self.history
        if history.driven_flat is None and history.flat_distance_km is not None:
            distance = measured(history.flat_distance_km, FLAT_DISTANCE)
            return YES if distance.low > 0.0 else NO if distance.high == 0.0 else EITHER
        return (TRUTH_COMPLETE if history.complete else TRUTH)[history.driven_flat]

    @property
    def flat_distance(self) -> Interval:
        """How far it was driven flat, km."""
        return _NOWHERE if self.driven_flat == NO else measured(self.history.flat_distance_km, FLAT_DISTANCE)

    @property
    def losing_air(self) -> Truth:
        """Whether it loses air now; that the driver was asked for everything else does not answer it."""
        return TRUTH[self.history.losing_air]

    @property
    def pressure(self) -> Interval:
        """The pressure it was found at, % of what it should be."""
        return measured(self.history.pressure_found_percent, PRESSURE)

    def _repairs_needed(self) -> Interval:
        """Return how many injuries go through, and so need a repair."""
        through = [injury.through for injury in self.injuries]
        return Interval(float(through.count(YES)), float(len(through) - through.count(NO)))

    @property
    def tyre(self) -> TyreFacts:
        """Return self, so that rules can use `subject.tyre` for any subject."""
        return self

    def release(self) -> None:
        """Break the tyre/injury reference cycle so both are freed without the garbage collector."""
        self.injuries = []
        self.liner = None


class InjuryFacts:
    """All that is known of one injury. What nearly every rulebook asks for is found at once."""

    __slots__ = (
        "across",
        "cutter",
        "depths",
        "diameter",
        "fields_behind",
        "given",
        "index",
        "largest_reach",
        "lean",
        "nominal",
        "other_side",
        "prepared",
        "regions",
        "shift_per_mm",
        "shifts",
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
        self.given = injury
        self.fields_behind: dict[str, tuple[Pointer, ...]] = {}
        self.regions = _REGIONS[injury.region]
        depth = depth_of(injury)
        self.depths = _DEPTHS[depth]
        self.stages = _STAGES[injury.stage]
        self.sides = _SIDES[injury.measured_from]
        self.through = _THROUGH[depth]
        marking_facts = tyre.marking_facts
        self.across = measured(
            injury.across_mm, marking_facts.across_tread if injury.region == "tread" else marking_facts.across
        )
        self.diameter = measured(injury.diameter_mm, DIAMETER)
        self.lean = measured(injury.lean_deg, LEAN)
        self.toward = measured(injury.lean_toward_deg, TOWARD)
        # What follows from the facts above is found once; that each follows from what its method reads is tested.
        self.cutter = self._cutter()
        self.nominal = self._nominal()
        self.prepared = self._prepared()
        self.shift_per_mm = self._shift_per_mm()
        self.shifts = self._shifts()
        self.thickness = self._thickness()
        self.other_side = self._other_side()
        self.largest_reach = self._largest_reach()

    @property
    def around(self) -> Interval:
        """Where along the tread it is, from the valve, mm."""
        return measured(self.given.around_mm, self.tyre.marking_facts.around)

    @property
    def plugged(self) -> Truth:
        """Whether a string or plug was put into it from outside; whoever looked or asked for everything says so."""
        case = self.tyre.case
        looked = case.inspection is not None and case.inspection.complete
        asked = case.history is not None and case.history.complete
        return (TRUTH_COMPLETE if looked or asked else TRUTH)[self.given.plugged_from_outside]

    @property
    def object_in(self) -> Truth:
        """Whether the object is still in it; a channel that was cut or plugged has none."""
        given = self.given
        if given.object_in_place is None and (given.plugged_from_outside or given.stage == "prepared"):
            return NO
        return TRUTH[given.object_in_place]

    @property
    def emerges(self) -> tuple[EmergesIn, ...]:
        """Where its channel may come out on the tread."""
        return _MOUTHS[self.given.emerges_in]

    @property
    def along_per_mm(self) -> Interval:
        """Shift along the tread per mm of thickness, tan theta sin phi."""
        return crown.shift_along(self.lean, self.toward)

    def _cutter(self) -> Interval:
        """Return the nominal size of the cutter that cleans the hole, mm."""
        return self.tyre.assumed.cut(self.diameter)

    def _nominal(self) -> Interval:
        """Return the nominal size of a channel that was cut already, mm."""
        return self.tyre.assumed.nominal_sizes(self.diameter)

    def _prepared(self) -> Interval:
        """Return the diameter of the channel once it is cut clean, mm."""
        stages = self.stages
        if stages == _PREPARED:
            return self.nominal
        return self.cutter if stages == _FOUND else self.nominal.hull(self.cutter)

    def _shift_per_mm(self) -> Interval:
        """Return the shift across the tread on the way in per mm of thickness, tan theta cos phi."""
        return crown.shift_across(self.lean, self.toward)

    def _shifts(self) -> tuple[Interval, ...]:
        """Return how the channel shifts from the side it was measured on, whichever that may be, to the other."""
        inward = self.shift_per_mm
        return (inward,) if self.sides == _FROM_OUTSIDE else _either_way(inward, self.sides)

    def _thickness(self) -> Interval:
        """Return the thickness of the crown along the perpendicular, where the channel comes out, mm."""
        crown_thickness, emerges = self.tyre.crown_thickness, self.emerges
        if emerges == _IN_GROOVE:
            return crown_thickness
        on_lug = crown_thickness.plus(self.tyre.tread_depth)
        return on_lug if emerges == _ON_LUG else crown_thickness.hull(on_lug)

    def _other_side(self) -> Interval | None:
        """Return where the channel lies on the other side, mm: as measured, as far as lean and crown allow it."""
        given = self.given.other_side_across_mm
        if given is None:
            return None
        there = measured(given, SECTION_WIDTH)
        spans = [self.across.plus(crown.product(self.thickness, shift)) for shift in self.shifts]
        low, high = min(span.low for span in spans), max(span.high for span in spans)
        apart = there.low > high or there.high < low
        return there if apart else Interval(max(there.low, low), min(there.high, high))

    def _largest_reach(self) -> float:
        """Return the largest distance from the centre line to an edge of the channel, either side of the crown, mm."""
        diameter, thickness, shifts = self.prepared.high, self.thickness.high, self.shifts
        if self.other_side is not None:
            both_ends = self.across.hull(self.other_side)
            return crown.largest_reach(both_ends, self.shift_per_mm, 0.0, diameter)
        if len(shifts) == 1:
            return crown.largest_reach(self.across, shifts[0], thickness, diameter)
        return max([crown.largest_reach(self.across, shift, thickness, diameter) for shift in shifts])


class EarlierFacts:
    """All that is known of one earlier repair."""

    __slots__ = ("across", "around", "index", "method", "patch", "proper", "sides")

    def __init__(self, tyre: TyreFacts, index: int, repair: EarlierRepair) -> None:
        self.index = index
        self.method = repair.method
        self.proper = NO if repair.method in METHODS_BY_HALVES else TRUTH[repair.proper]
        self.sides = _SIDES[repair.measured_from]
        self.across = measured(repair.across_mm, tyre.marking_facts.across)
        self.around = measured(repair.around_mm, tyre.marking_facts.around)
        self.patch = measured(repair.patch_mm, tyre.assumed.patch)


@lru_cache(maxsize=4096)
def age_of(date_code: str, on: date) -> Interval:
    """Return the age in years on a day; all ages where the code carries no date. Raise `DateCodeError`.

    A code names a week, of a tyre from before 2000 one in each decade. The age is counted from the earliest day, which
    is strict: otherwise a birthday that falls within the week would leave a question that no answer can settle.
    """
    age = age_years(read_date_code(date_code, on), on)
    return AGE if age is None else point(age.high)


def _either_way(inward: Interval, sides: tuple[MeasuredFrom, ...]) -> tuple[Interval, ...]:
    outward = Interval(-inward.high, -inward.low)
    return (outward,) if sides == _FROM_INSIDE else (inward, outward)


def depth_of(injury: Injury) -> Depth | None:
    """Return how deep an injury goes: through, where it was measured on the liner or its channel was cut clean."""
    if injury.depth is None and any(shows(injury) for shows in GOES_THROUGH.values()):
        return "through"
    return injury.depth


GOES_THROUGH: Final[dict[str, Callable[[Injury], bool]]] = {
    "measured_from": lambda injury: injury.measured_from == "inside",
    "other_side_across_mm": lambda injury: injury.other_side_across_mm is not None,
    "stage": lambda injury: injury.stage == "prepared",
}
"""The fields of an injury that can show it to go through, each with whether it does."""


_REGIONS: Final = _choices(get_args(Region))
_DEPTHS: Final = _choices(get_args(Depth))
_STAGES: Final = _choices(get_args(Stage))
_SIDES: Final = _choices(get_args(MeasuredFrom))
_FROM_OUTSIDE: Final = _SIDES["outside"]
_FROM_INSIDE: Final = _SIDES["inside"]
_MOUTHS: Final = _choices(get_args(EmergesIn))
_FOUND: Final = _STAGES["found"]
_PREPARED: Final = _STAGES["prepared"]
_IN_GROOVE: Final = _MOUTHS["groove"]
_ON_LUG: Final = _MOUTHS["lug"]
_THROUGH: Final[dict[Depth | None, Truth]] = {None: EITHER, "through": YES, "to_cord": NO, "rubber_only": NO}

_NO_POSITION: Final = Position()
_NO_HISTORY: Final = History()
_UNKNOWN: Final = Injury()
_NO_EARLIER: Final = point(0.0)
_NOWHERE: Final = point(0.0)
