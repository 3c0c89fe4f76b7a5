"""The repairable band: both ends of the channel, mouth included, must lie in it."""

from __future__ import annotations

from collections.abc import Callable

from mendgauge import crown
from mendgauge.facts import InjuryFacts
from mendgauge.quantity import EITHER, NO, YES, Interval, Truth
from mendgauge.rulebooks.schema import Band
from mendgauge.rules.outcome import MET, Outcome, outcome
from mendgauge.rules.rule import Evidence, Question, Setting, through_only


def band(reach: Interval, half_width: Interval) -> Truth:
    """The channel stays in the band when its farthest edge is no farther from the centre line than the band's."""
    if reach.high <= half_width.low:
        return YES
    return NO if reach.low > half_width.high else EITHER


def half_width(provision: Band, section_width: Interval, tread_width: Interval) -> Interval:
    """Half the width of the repairable band, mm."""
    if provision.share_of_section_width is not None:
        return section_width.times(provision.share_of_section_width / 2.0)
    if provision.share_of_tread_width is not None:
        return tread_width.times(provision.share_of_tread_width / 2.0)
    inset = provision.inset_from_tread_edge_mm or 0.0
    return Interval(max(tread_width.low / 2.0 - inset, 0.0), max(tread_width.high / 2.0 - inset, 0.0))


def channel_reach(injury: InjuryFacts) -> Interval:
    """Distance from the centre line to the farthest edge of the channel's mouths, either side of the crown, mm."""
    shift, mouth = injury.shift_per_mm, injury.prepared
    near = crown.reach_at_near_end(injury.across, shift, mouth)
    found: Interval | None = None
    for side in injury.sides:
        inward = shift if side == "outside" else Interval(-shift.high, -shift.low)
        far = crown.reach_at_far_end(injury.across, inward, injury.thickness, mouth)
        worst = Interval(max(near.low, far.low), max(near.high, far.high))
        found = worst if found is None else found.hull(worst)
    return near if found is None else found


def _judge(provision: Band, setting: Setting) -> Callable[[InjuryFacts], Outcome]:
    def judge(injury: InjuryFacts) -> Outcome:
        if "tread" not in injury.regions:
            return MET
        tyre = injury.tyre
        width = half_width(provision, tyre.section_width, tyre.tread_width)
        kept = band(channel_reach(injury), width)
        if kept == YES:
            return MET
        found = outcome(kept, setting.beyond_minor(tyre))
        return found if injury.regions == ("tread",) else found | MET

    return through_only(judge)


def _evidence(injury: InjuryFacts, provision: Band) -> Evidence:
    width = half_width(provision, injury.tyre.section_width, injury.tyre.tread_width)
    return Evidence(observed=channel_reach(injury), limit=width, unit="mm")


def _measures(provision: Band) -> tuple[str, ...]:
    return () if provision.share_of_section_width is not None else ("tread_width",)


QUESTION = Question[InjuryFacts, Band](
    name="band",
    looks_at=(
        "across",
        "lean",
        "lean_toward",
        "measured_from",
        "emerges_in",
        "crown_thickness",
        "tread_depth",
        "diameter",
        "stage",
        "region",
        "depth",
    ),
    provisions=lambda edition: edition.book.band,
    judge=_judge,
    evidence=_evidence,
    also_looks_at=_measures,
)
