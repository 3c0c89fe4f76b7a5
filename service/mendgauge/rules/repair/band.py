"""The repairable band: both ends of the channel, mouth included, must lie in it.

Limits: BS AU 159g:2013, minor repair area; BS AU 159f:1997, motorcycle tyres; JATMA, NZS 5423 and SANS 10408 by their
summaries. Insets from the edge of the tread are common practice of the American trade.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Protocol

from mendgauge.core import geometry as crown
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.facts.injury import InjuryFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import Band
from mendgauge.rules.engine import Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import MET, Outcome, outcome


def band(reach: Interval, half_width: Interval) -> Truth:
    """Return whether the channel's farthest edge is no farther from the centre line than the band's.

    The channel's edge lies 60 to 66 mm from the centre line, the band ends at 64 mm:

    >>> from mendgauge.core.interval import point
    >>> band(Interval(60.0, 66.0), half_width=point(64.0)) == EITHER
    True
    """
    if reach.high <= half_width.low:
        return YES
    return NO if reach.low > half_width.high else EITHER


class Widths(Protocol):
    """What of a tyre a band is measured by, mm."""

    @property
    def section_width(self) -> Interval: ...

    @property
    def tread_width(self) -> Interval: ...


def half_width(provision: Band, tyre: Widths) -> Interval:
    """Half the width of the repairable band, mm."""
    if provision.share_of_section_width is not None:
        return tyre.section_width.times(provision.share_of_section_width / 2.0)
    tread_width = tyre.tread_width
    if provision.share_of_tread_width is not None:
        return tread_width.times(provision.share_of_tread_width / 2.0)
    inset = provision.inset_from_tread_edge_mm or 0.0
    return Interval(max(tread_width.low / 2.0 - inset, 0.0), max(tread_width.high / 2.0 - inset, 0.0))


def least_channel_reach(injury: InjuryFacts) -> float:
    """Least distance from the centre line to the farther edge of the channel, either side of the crown, mm."""
    diameter = injury.prepared.low
    mouth = crown.mouth_reach_across(diameter, injury.shift_per_mm.magnitude().low)
    near = injury.across.magnitude().low + mouth
    if injury.other_side is not None:
        return max(near, injury.other_side.magnitude().low + mouth)
    if injury.shift_per_mm.low <= 0.0 <= injury.shift_per_mm.high:
        # Where it may be straight, the other side is no nearer than this one.
        return near
    far = min(crown.least_reach(injury.across, shift, injury.thickness, diameter) for shift in injury.shifts)
    return max(near, far)


def _judge(provision: Band, setting: Setting) -> Callable[[InjuryFacts], Outcome]:
    def judge(injury: InjuryFacts) -> Outcome:
        if "tread" not in injury.regions:
            return MET
        width = half_width(provision, injury.tyre)
        largest = injury.largest_reach
        if largest <= width.low:
            return MET
        kept = band(Interval(min(least_channel_reach(injury), largest), largest), width)
        found = outcome(kept, setting.beyond_minor(injury.tyre))
        return found if injury.regions == ("tread",) else found | MET

    return judge


def _evidence(injury: InjuryFacts, provision: Band) -> Evidence:
    width = half_width(provision, injury.tyre)
    # No channel ends beyond the tyre, whatever an unmeasured lean would have it do.
    largest = max(min(injury.largest_reach, injury.tyre.marking_facts.half_profile), injury.across.high)
    return Evidence(observed=Interval(min(least_channel_reach(injury), largest), largest), limit=width, unit="mm")


def _headroom(provision: Band, _: Setting) -> Callable[[InjuryFacts], float]:
    return lambda injury: half_width(provision, injury.tyre).low - injury.largest_reach


def _measures(provision: Band) -> tuple[str, ...]:
    return ("section_width",) if provision.share_of_section_width is not None else ("tread_width",)


DEFINITION = RuleDefinition[InjuryFacts, Band](
    name="band",
    depends_on=(
        "across",
        "lean",
        "toward",
        "sides",
        "emerges",
        "crown_thickness",
        "tread_depth",
        "diameter",
        "stages",
        "regions",
        "through",
    ),
    provisions=under("band"),
    judge=_judge,
    evidence=_evidence,
    headroom=_headroom,
    also_depends_on=_measures,
    channel=True,
    beyond=True,
)
