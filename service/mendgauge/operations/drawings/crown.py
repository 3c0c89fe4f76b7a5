"""What is drawn of a case: the crown and its channels as intervals, lengths in mm, over every use of the tyre."""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce
from typing import Final

import msgspec

from mendgauge.core import geometry
from mendgauge.core.interval import NO, Interval, Truth
from mendgauge.core.vocabulary import EmergesIn, Region
from mendgauge.facts.injury import DIAMETER, LEAN, InjuryFacts
from mendgauge.facts.neighbours import arc_ratio
from mendgauge.judging.trial_answers import put
from mendgauge.operations.if_it_passes import if_it_passes
from mendgauge.operations.repair_units.requirements import Requirements, centres_around_of, requirements_of
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.resolver import applicable
from mendgauge.rules.repair.band import half_width

_SUPPOSED: Final = ("region", "stage", "diameter_mm", "lean_deg", "across_mm")
"""Fields of an injury that are drawn as they are if the tyre turns out repairable, where nobody gave them."""


class Crown(msgspec.Struct, frozen=True):
    """The crown: its widths, `thickness` from the liner to the groove base, the tread on it, half its band if any."""

    section_width: Interval
    tread_width: Interval
    thickness: Interval
    tread: Interval
    half_band: Interval | None
    circumference: Interval
    ratio: Interval


class Channel(msgspec.Struct, frozen=True):
    """One injury as it is drawn.

    `outer` is where it lies across the tread outside, `inner` at the liner, `shift` from the one to the other;
    `slope` its shift across per mm of thickness; `around` its place along the liner. `diameter` is that of the channel
    once cut, or of the hole where it is not repaired.
    """

    index: int
    through: Truth
    regions: tuple[Region, ...]
    emerges: tuple[EmergesIn, ...]
    outer: Interval
    inner: Interval
    shift: Interval
    slope: Interval
    along: Interval
    around: Interval
    diameter: Interval
    lean: Interval
    placed: bool
    placed_around: bool
    needs: Requirements

    @property
    def sized(self) -> bool:
        """Whether anything is known of its size."""
        return self.diameter.high < DIAMETER.high

    @property
    def aimed(self) -> bool:
        """Whether anything is known of its lean."""
        return self.lean.high < LEAN.high

    @property
    def on_tread(self) -> bool:
        """Whether it may lie in the tread."""
        return "tread" in self.regions

    @property
    def may_go_through(self) -> bool:
        """Whether there may be a channel through the crown."""
        return self.through != NO and self.on_tread


@part
def as_drawn(workup: Workup) -> Workup:
    """Return the case as it is drawn: what nobody measured of an injury lies within what the rules allow."""
    passing = if_it_passes(workup)
    if passing is workup:
        return workup
    case = workup.case
    for index, supposed in enumerate(passing.case.injuries or ()):
        for name in _SUPPOSED:
            found, given = getattr(supposed, name), _given(workup, index, name)
            if given is None and found is not None:
                case = put(case, f"/injuries/{index}/{name}", found)
    return workup.supposing(case, passing.opens_within)


def _given(workup: Workup, index: int, name: str) -> object:
    injuries = workup.case.injuries
    return None if injuries is None else getattr(injuries[index], name)


def crown_of(workup: Workup) -> Crown:
    """Return the crown of a tyre."""
    tyres = workup.facts
    bands = [half_width(provision, tyre) for tyre in tyres for provision, _ in applicable(workup.edition, "band", tyre)]
    ratio = _hull(arc_ratio(tyre) for tyre in tyres)
    return Crown(
        section_width=_hull(tyre.section_width for tyre in tyres),
        tread_width=_hull(tyre.tread_width for tyre in tyres),
        thickness=_hull(tyre.crown_thickness for tyre in tyres),
        tread=_hull(tyre.tread_depth for tyre in tyres),
        half_band=_hull(bands) if bands else None,
        circumference=geometry.product(_hull(tyre.circumference for tyre in tyres), ratio),
        ratio=ratio,
    )


def channels_of(workup: Workup) -> tuple[Channel, ...]:
    """Return every injury as it is drawn."""
    cut = offer_for(verdict_of(workup)) != "withheld"
    drawn = as_drawn(workup)
    placed = zip(requirements_of(drawn), centres_around_of(drawn), strict=True)
    return tuple(_channel(needs, around, workup, cut=cut) for needs, around in placed)


def _channel(needs: Requirements, around: Interval, workup: Workup, *, cut: bool) -> Channel:
    injury = needs.injury
    given = (workup.case.injuries or (None,))[injury.index]
    shift = geometry.product(injury.thickness, injury.shift_per_mm)
    if injury.other_side is not None and injury.sides == ("outside",):
        shift = Interval(injury.other_side.low - injury.across.high, injury.other_side.high - injury.across.low)
    return Channel(
        index=injury.index,
        through=injury.through,
        regions=injury.regions,
        emerges=injury.emerges,
        outer=_outer(injury),
        inner=needs.across,
        shift=shift,
        slope=injury.shift_per_mm,
        along=geometry.product(injury.thickness, injury.along_per_mm),
        around=around,
        diameter=needs.channel if cut else injury.diameter,
        lean=injury.lean,
        placed=given is not None and given.across_mm is not None,
        placed_around=given is not None and given.around_mm is not None,
        needs=needs,
    )


def _outer(injury: InjuryFacts) -> Interval:
    """Return where a channel comes out across the tread."""
    back = Interval(-injury.shift_per_mm.high, -injury.shift_per_mm.low)
    inside = injury.other_side or injury.across.plus(geometry.product(injury.thickness, back))
    return _hull(injury.across if side == "outside" else inside for side in injury.sides)


def middle(of: Interval) -> float:
    """Return the middle of an interval."""
    return (of.low + of.high) / 2.0


def _hull(found: Iterable[Interval]) -> Interval:
    return reduce(Interval.hull, found)
