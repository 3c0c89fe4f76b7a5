"""The tyre as the rules see it: every measurement an interval, every yes-or-no a truth, every choice the choices left.

What nobody measured becomes the widest range it can have: by its contract, by the marking, or by the rulebook's
estimates, each of which has its source there.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from itertools import count, repeat
from math import pi
from typing import TYPE_CHECKING, Final

from mendgauge.case.case import Case, History, Position
from mendgauge.case.contract import Pointer
from mendgauge.case.injury import Injury
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, point
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.facts.assumed import assumed_dimensions, usual_tread_width
from mendgauge.facts.given import measured
from mendgauge.facts.injury import EarlierFacts, InjuryFacts
from mendgauge.facts.yes_no import TRUTH, TRUTH_COMPLETE, yes_no_facts
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.tyre.date_code import age_years, read_date_code
from mendgauge.tyre.marking_facts import marking_facts_of
from mendgauge.tyre.tyre_class import TyreClass, Use

if TYPE_CHECKING:
    from mendgauge.facts.neighbours import Liner

NEVER_IN_PAIRS: Final = ("car", "motorcycle")

# The widest values the contract admits, for what no marking or estimate narrows.
MASS: Final = Interval(0.0, 200_000.0)
PRESSURE: Final = Interval(0.0, 200.0)
FLAT_DISTANCE: Final = Interval(0.0, 10_000.0)
AGE: Final = Interval(0.0, 100.0)
ANY_INJURIES: Final = Interval(0.0, 20.0)
ANY_EARLIER: Final = Interval(0.0, 50.0)


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
        self.assumed = figures = assumed_dimensions(edition, use.tyre_class)
        self.yes_no = yes_no_facts(given.traits, policy, case.inspection, given.body_ply, marking_facts.implied)
        depth_left = figures.tread_depth
        if given.tread_depth_mm is None and given.new_tread_depth_mm is not None:
            depth_left = Interval(0.0, measured(given.new_tread_depth_mm, depth_left).high)
        self.tread_depth = measured(given.tread_depth_mm, depth_left)
        self.crown_thickness = measured(given.crown_thickness_mm, figures.crown_thickness)

        # The repairs laid out beside each other: `facts.neighbours` finds them when first asked.
        self.liner: Liner | None = None
        # The fields of the case that leave a fact open, by the fact: `judging.missing` finds them when first asked.
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
    def overall_diameter(self) -> Interval:
        """The overall diameter as it is, mm: as measured, else by the marking."""
        service, unmeasured = self.case.in_service, self.marking_facts.overall_diameter
        return unmeasured if service is None else measured(service.overall_diameter_mm, unmeasured)

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

    def supposing(self, case: Case) -> TyreFacts:
        """Return the same tyre with what a case supposes of its injuries, tread and crown; all else is as here."""
        supposed, given = TyreFacts.__new__(TyreFacts), case.tyre
        # Written out, as `copy` takes several times as long.
        supposed.case, supposed.use = case, self.use
        supposed.position, supposed.history, supposed.sealant = self.position, self.history, self.sealant
        supposed.maker_max_repairs, supposed.age = self.maker_max_repairs, self.age
        supposed.marking_facts, supposed.assumed, supposed.yes_no = self.marking_facts, self.assumed, self.yes_no
        supposed.earlier, supposed.earlier_count = self.earlier, self.earlier_count
        supposed.earlier_known = self.earlier_known
        supposed.liner, supposed.fields_behind = None, {}
        supposed.tread_depth = measured(given.tread_depth_mm, self.tread_depth)
        supposed.crown_thickness = measured(given.crown_thickness_mm, self.crown_thickness)
        supposed.injuries = list(map(InjuryFacts, repeat(supposed), count(), case.injuries or ()))
        supposed.repairs_needed = supposed._repairs_needed()
        return supposed

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


@lru_cache(maxsize=4096)
def age_of(date_code: str, on: date) -> Interval:
    """Return the age in years on a day; all ages where the code carries no date. Raise `DateCodeError`.

    A code names a week, of a tyre from before 2000 one in each decade. The age is counted from the earliest day, which
    is strict: otherwise a birthday that falls within the week would leave a question that no answer can settle.
    """
    age = age_years(read_date_code(date_code, on), on)
    return AGE if age is None else point(age.high)


_NO_POSITION: Final = Position()
_NO_HISTORY: Final = History()
_UNKNOWN: Final = Injury()
_NO_EARLIER: Final = point(0.0)
_NOWHERE: Final = point(0.0)
