"""An injury as the rules see it, with the channel through the crown that follows from it; and an earlier repair."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Final, get_args

from mendgauge.case.contract import Pointer
from mendgauge.case.injury import EarlierRepair, Injury
from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.core.vocabulary import LEAN_DEG_MAX, Depth, EmergesIn, MeasuredFrom, Region, Stage
from mendgauge.facts.given import choices_left, measured
from mendgauge.facts.yes_no import TRUTH, TRUTH_COMPLETE
from mendgauge.tyre.marking_facts import SECTION_WIDTH

if TYPE_CHECKING:
    from mendgauge.facts.tyre import TyreFacts

METHODS_BY_HALVES: Final = ("plug_only", "patch_only")

# The widest values the contract admits, for what nothing narrows.
LEAN: Final = Interval(0.0, LEAN_DEG_MAX)
TOWARD: Final = Interval(0.0, 360.0)
DIAMETER: Final = Interval(0.0, 500.0)


class InjuryFacts:
    """All that is known of one injury. What nearly every rulebook asks for is found at once."""

    __slots__ = (
        "_reach",
        "across",
        "cutter",
        "depths",
        "diameter",
        "fields_behind",
        "given",
        "index",
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
        self._reach: float | None = None

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
    def largest_reach(self) -> float:
        """The largest distance from the centre line to an edge of the channel, either side of the crown, mm."""
        if self._reach is None:
            self._reach = self._largest_reach()
        return self._reach

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
        in_groove, tread, emerges = self.tyre.crown_thickness, self.tyre.tread_depth, self.emerges
        if emerges == _IN_GROOVE:
            return in_groove
        # A lug is as thick as the tread is deep on top.
        return Interval(
            in_groove.low + tread.low if emerges == _ON_LUG else in_groove.low,
            in_groove.high + tread.high,
        )

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
        """Find how far the channel reaches: when first asked, as only the band does."""
        diameter, shifts = self.prepared.high, self.shifts
        if self.other_side is not None:
            both_ends = self.across.hull(self.other_side)
            return crown.largest_reach(both_ends, self.shift_per_mm, 0.0, diameter)
        # Measured on either side, it may shift as far either way; the farthest is then at one of the steepest slopes.
        shift = shifts[0] if len(shifts) == 1 else shifts[0].hull(shifts[1])
        return crown.largest_reach(self.across, shift, self.thickness.high, diameter)


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


def _either_way(inward: Interval, sides: tuple[MeasuredFrom, ...]) -> tuple[Interval, ...]:
    outward = Interval(-inward.high, -inward.low)
    return (outward,) if sides == _FROM_INSIDE else (inward, outward)


def depth_of(injury: Injury) -> Depth | None:
    """Return how deep an injury goes: through, where it was measured on the liner or its channel was cut clean."""
    if injury.depth is not None:
        return injury.depth
    for shows in GOES_THROUGH.values():
        if shows(injury):
            return "through"
    return None


GOES_THROUGH: Final[dict[str, Callable[[Injury], bool]]] = {
    "measured_from": lambda injury: injury.measured_from == "inside",
    "other_side_across_mm": lambda injury: injury.other_side_across_mm is not None,
    "stage": lambda injury: injury.stage == "prepared",
}
"""The fields of an injury that can show it to go through, each with whether it does."""


_REGIONS: Final = choices_left(get_args(Region))
_DEPTHS: Final = choices_left(get_args(Depth))
_STAGES: Final = choices_left(get_args(Stage))
_SIDES: Final = choices_left(get_args(MeasuredFrom))
_FROM_OUTSIDE: Final = _SIDES["outside"]
_FROM_INSIDE: Final = _SIDES["inside"]
_MOUTHS: Final = choices_left(get_args(EmergesIn))
_FOUND: Final = _STAGES["found"]
_PREPARED: Final = _STAGES["prepared"]
_IN_GROOVE: Final = _MOUTHS["groove"]
_ON_LUG: Final = _MOUTHS["lug"]
_THROUGH: Final[dict[Depth | None, Truth]] = {None: EITHER, "through": YES, "to_cord": NO, "rubber_only": NO}
