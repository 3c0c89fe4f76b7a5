"""What earlier repairs mean for one more: how many, how near, and whether they were done properly.

Limits: BS AU 159, number of repairs; BS AU 159g:2013, faulty earlier repairs; JATMA safety standard for tyres and
NZS 5423 on number and spacing. That patches may not overlap is common practice of the tyre trade.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from math import inf
from typing import NamedTuple

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_most, point
from mendgauge.facts import neighbours as layout
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.resolver import under
from mendgauge.rulebooks.schema.repair import EarlierRepairRule, RepairCount, SameHole, Spacing
from mendgauge.rulebooks.schema.units import RepairUnitRule
from mendgauge.rules.engine import NOTHING_MEASURED, Evidence, RuleDefinition, Setting
from mendgauge.rules.outcome import EFFECT, ENDS, MET, Outcome, outcome


def repair_count(earlier: Interval, needed: Interval, most: float) -> Truth:
    """Return whether the repairs a tyre carries and those it now needs are no more than the most it may have.

    A tyre with two repairs has another hole, and the book allows two:

    >>> repair_count(point(2.0), needed=point(1.0), most=2.0) == NO
    True
    """
    return at_most(earlier.plus(needed), most)


def proper(repairs: tuple[Truth, ...], *, all_known: bool) -> Truth:
    """Every earlier repair is sound, sealed and in a permitted place."""
    if NO in repairs:
        return NO
    return EITHER if EITHER in repairs or not all_known else YES


def apart(distance: Interval, least: Interval) -> Truth:
    """Two repairs lie far enough apart, centre to centre at the liner."""
    if distance.low >= least.high:
        return YES
    return NO if distance.high < least.low else EITHER


def count_outcome(tyre: TyreFacts, most: float) -> Outcome:
    """Return what a largest number of repairs comes to; a tyre that needs none is not refused for those it has."""
    needed = tyre.repairs_needed
    earlier = tyre.earlier_count
    if needed.high == 0.0 or earlier.high + needed.high <= most:
        return MET
    found = outcome(repair_count(earlier, needed, most), ENDS)
    return found if needed.low > 0.0 else found | MET


class Keep(NamedTuple):
    """The distance to keep from a neighbour by the extent of its patch; `asked` is the same where that is."""

    asked: Hashable
    from_patch: Callable[[Interval], Interval]


def _judge_count(provision: RepairCount, _: Setting) -> Callable[[TyreFacts], Outcome]:
    most = float(provision.max_repairs)
    return lambda tyre: count_outcome(tyre, most)


def _count_evidence(tyre: TyreFacts, provision: RepairCount) -> Evidence:
    total = tyre.earlier_count.plus(tyre.repairs_needed)
    return Evidence(observed=total, limit=float(provision.max_repairs), unit="repairs")


def _judge_proper(provision: EarlierRepairRule, _: Setting) -> Callable[[TyreFacts], Outcome]:
    broken = EFFECT[provision.effect]

    def judge(tyre: TyreFacts) -> Outcome:
        if tyre.earlier_known and not tyre.earlier:
            return MET
        return outcome(proper(tuple(repair.proper for repair in tyre.earlier), all_known=tyre.earlier_known), broken)

    return judge


def spacing_outcome(injury: InjuryFacts, keep: Callable[[InjuryFacts], Keep]) -> Outcome:
    """Return what the distances to an injury's neighbours come to; `keep` is what to keep from each."""
    tyre = injury.tyre
    if tyre.lone_injury:
        return MET if tyre.earlier_known else MET | ENDS
    # A tyre in several uses has one liner, with over a thousand pairs of repairs: what is asked alike is judged once.
    asked, from_patch = keep(injury)
    judged, key = layout.liner_of(tyre).judged, (injury.index, asked)
    found = judged.get(key)
    if found is None:
        found = judged[key] = _spaced(injury, from_patch)
    return found


def _spaced(injury: InjuryFacts, from_patch: Callable[[Interval], Interval]) -> Outcome:
    found = MET if injury.tyre.earlier_known else MET | ENDS
    for neighbour in layout.neighbours(injury):
        reached = outcome(apart(neighbour.distance, from_patch(neighbour.patch)), ENDS)
        found = _and(found, reached if neighbour.certain == YES else reached | MET)
        if found == ENDS:
            break
    return found


def _and(one: Outcome, other: Outcome) -> Outcome:
    """Both spacings: broken when either is."""
    if ENDS in (one, other):
        return ENDS
    return one | other


def _judge_distance(provision: Spacing, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    keep = distance(provision.min_mm)
    return lambda injury: spacing_outcome(injury, lambda _: keep)


def distance(least_mm: float) -> Keep:
    """Return that a distance is kept from every neighbour, whatever its patch."""
    figure = point(least_mm)
    return Keep(figure, lambda _patch: figure)


def _judge_overlap(provision: RepairUnitRule, _: Setting) -> Callable[[InjuryFacts], Outcome]:
    def keep(injury: InjuryFacts) -> Keep:
        own = layout.needed_patch(injury, provision)
        return Keep((own, provision.buffed_margin_mm), lambda patch: layout.least_spacing(own, patch, provision))

    return lambda injury: spacing_outcome(injury, keep)


def _clear_of_patches(injury: InjuryFacts, unit: RepairUnitRule) -> Callable[[Interval], Interval]:
    """Return what distance keeps an injury's own patch clear of another, by the extent of that."""
    own = layout.needed_patch(injury, unit)
    return lambda patch: layout.least_spacing(own, patch, unit)


def _judge_same_hole(_: SameHole, __: Setting) -> Callable[[InjuryFacts], Outcome]:
    """Judge an earlier repair that is surely in the hole; where it may be, its distance is judged."""

    def judge(injury: InjuryFacts) -> Outcome:
        return ENDS if injury.tyre.earlier and layout.repaired_before(injury) else MET

    return judge


def distance_evidence(injury: InjuryFacts, least_mm: float) -> Evidence:
    """Return the distance to the neighbour with the least to spare, against the least allowed."""
    figure = point(least_mm)
    neighbour = layout.tightest(injury, lambda _patch: figure)
    distance = None if neighbour is None else neighbour.distance
    return Evidence(observed=distance, limit=least_mm, unit="mm", at_least=True)


def _distance_spare(provision: Spacing, _: Setting) -> Callable[[InjuryFacts], float]:
    figure = point(provision.min_mm)
    return lambda injury: _least_spare(injury, lambda _patch: figure)


def _overlap_spare(provision: RepairUnitRule, _: Setting) -> Callable[[InjuryFacts], float]:
    return lambda injury: _least_spare(injury, _clear_of_patches(injury, provision))


def _least_spare(injury: InjuryFacts, least: Callable[[Interval], Interval]) -> float:
    if injury.tyre.lone_injury:
        return inf
    spares = (neighbour.distance.low - least(neighbour.patch).high for neighbour in layout.neighbours(injury))
    return min(spares, default=inf)


def _overlap_evidence(injury: InjuryFacts, provision: RepairUnitRule) -> Evidence:
    if injury.tyre.lone_injury:
        return NOTHING_MEASURED
    least = _clear_of_patches(injury, provision)
    neighbour = layout.tightest(injury, least)
    if neighbour is None:
        return NOTHING_MEASURED
    return Evidence(observed=neighbour.distance, limit=least(neighbour.patch), unit="mm", at_least=True)


PLACE = (
    "earlier_known",
    "across",
    "around",
    "lean",
    "toward",
    "sides",
    "emerges",
    "crown_thickness",
    "tread_depth",
    "through",
    "circumference",
    "neighbours",
)

COUNT = RuleDefinition[TyreFacts, RepairCount](
    name="repair_count",
    depends_on=("earlier_known", "injuries.through"),
    provisions=under("repair_count"),
    judge=_judge_count,
    evidence=_count_evidence,
)

PROPER = RuleDefinition[TyreFacts, EarlierRepairRule](
    name="earlier_repair",
    depends_on=("earlier_known", "earlier.proper"),
    provisions=under("earlier_repair"),
    judge=_judge_proper,
)

SAME_HOLE = RuleDefinition[InjuryFacts, SameHole](
    name="same_hole",
    depends_on=PLACE,
    provisions=under("same_hole"),
    judge=_judge_same_hole,
    channel=True,
    exact=False,
)

SPACING = RuleDefinition[InjuryFacts, Spacing](
    name="spacing",
    depends_on=PLACE,
    provisions=under("spacing"),
    judge=_judge_distance,
    evidence=lambda injury, provision: distance_evidence(injury, provision.min_mm),
    headroom=_distance_spare,
    channel=True,
    exact=False,
)

OVERLAP = RuleDefinition[InjuryFacts, RepairUnitRule](
    name="overlap",
    depends_on=(*PLACE, "diameter", "stages"),
    provisions=under("repair_unit"),
    judge=_judge_overlap,
    evidence=_overlap_evidence,
    headroom=_overlap_spare,
    channel=True,
    exact=False,
)
