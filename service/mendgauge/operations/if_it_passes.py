"""The case as it is if the tyre turns out repairable: what is planned, chosen or priced while facts are missing.

The one place where unknown ranges are cut down to what the rules allow: a hole up to the limit, a place inside the
band, a lean up to the limit, the least tread. The verdict never sees any of it.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any, Final, NamedTuple

import msgspec
from msgspec.structs import replace

from mendgauge.case.house_rules import HouseRules
from mendgauge.case.injury import Injury
from mendgauge.core.interval import NO, YES, Interval
from mendgauge.core.vocabulary import Range
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.neighbours import lie_about_as
from mendgauge.facts.tyre import TyreFacts
from mendgauge.operations.repairability.assessed import assessed_of
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.schema.repair import Band, InjurySize, Lean
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule, Branch, may_apply
from mendgauge.rules.outcome import CAUTION, EFFECT
from mendgauge.rules.repair.band import half_width

_NO_HOUSE: Final = HouseRules()


class Allowed(msgspec.Struct, frozen=True):
    """The most that the rules allow for one injury, over every use the tyre may be in; none where nothing limits it.

    `hole_mm` is the size as found, or as cut where it may be cut already; `off_centre_mm` how far from the centre line
    the channel may reach.
    """

    hole_mm: float | None
    off_centre_mm: float | None
    lean_deg: float | None


@part
def if_it_passes(workup: Workup) -> Workup:
    """Return the workup of the case as it is if the tyre turns out repairable; the same where that is settled."""
    if offer_for(verdict_of(workup)) == "offered":
        return workup
    case, facts, allowed = workup.case, workup.facts[0], allowed_of(workup)
    narrowed: dict[str, Any] = {
        "injuries": tuple(
            [one.given if one.through == NO else _narrowed(one, allowed[one.index]) for one in facts.injuries]
        )
    }
    least, tread = least_tread_mm(workup), facts.tread_depth
    if least is not None and tread.low < least <= tread.high:
        narrowed["tyre"] = replace(case.tyre, tread_depth_mm=Range(low=least, high=tread.high))
    opens_within = {
        one.index: Interval(-most, most)
        for one in facts.injuries
        if one.through != NO and (most := allowed[one.index].off_centre_mm) is not None
    }
    passing = workup.supposing(replace(case, **narrowed), opens_within)
    lie_about_as(passing.facts, workup.facts[0])
    return passing


def _narrowed(injury: InjuryFacts, allowed: Allowed) -> Injury:
    """Return an injury as it is if it keeps to what is allowed."""
    given = injury.given
    changes: dict[str, Any] = {}
    if given.region is None:
        changes["region"] = "tread"
    if given.stage is None and given.diameter_mm is None:
        # Nobody measured a channel, so nobody cut one.
        changes["stage"] = "found"
    spans = {
        "diameter_mm": (injury.diameter, _up_to(allowed.hole_mm)),
        "lean_deg": (injury.lean, _up_to(allowed.lean_deg)),
        "across_mm": (injury.across, _about(allowed.off_centre_mm)),
    }
    for name, (span, within) in spans.items():
        if within is not None and (cut := _cut_down(span, within)) is not None:
            changes[name] = cut
    return replace(given, **changes)


def _up_to(most: float | None) -> Interval | None:
    return None if most is None else Interval(0.0, most)


def _about(most: float | None) -> Interval | None:
    return None if most is None else Interval(-most, most)


def _cut_down(span: Interval, within: Interval) -> Range | None:
    """Return what of a span lies within another; none where all of it does, or nothing."""
    low, high = max(span.low, within.low), min(span.high, within.high)
    return None if low > high or Interval(low, high) == span else Range(low=low, high=high)


@part
def least_tread_mm(workup: Workup) -> float | None:
    """Return the least tread with which the tyre may be repaired, by the book and by the house; none where all may."""
    found = [
        min((one.min_mm for one in _said("tread_depth", of_use.rules, of_use.facts)), default=None)
        for of_use in assessed_of(workup)
    ]
    house = workup.case.house_rules or _NO_HOUSE
    least = None if None in found else min(one for one in found if one is not None)
    return house.min_tread_mm if least is None else max(least, house.min_tread_mm or 0.0)


@part
def allowed_of(workup: Workup) -> tuple[Allowed, ...]:
    """Return the most that the rules allow for each injury."""
    house = workup.case.house_rules or _NO_HOUSE
    uses = [(one.facts, _most_of(one.rules, one.facts)) for one in assessed_of(workup)]
    every = [most for _, most in uses]
    half_bands = [(tyre, _half_band(most, tyre)) for tyre, most in uses]
    as_found = _stricter(_widest([most.found_to_mm for most in every]), house.max_injury_mm)
    as_cut = _stricter(_widest([most.cut_to_mm for most in every]), house.max_injury_mm)
    lean = _stricter(_widest([most.lean_deg for most in every]), house.max_lean_deg)
    return tuple(
        [
            Allowed(
                hole_mm=as_found if "prepared" not in one.stages or one.given.diameter_mm is None else as_cut,
                off_centre_mm=_widest([_reach(half, tyre.injuries[one.index]) for tyre, half in half_bands]),
                lean_deg=lean,
            )
            for one in workup.facts[0].injuries
        ]
    )


class _Most(NamedTuple):
    """The most that some rules allow for any injury of a tyre; none where nothing limits it."""

    found_to_mm: float | None
    cut_to_mm: float | None
    lean_deg: float | None
    bands: tuple[Band, ...]


def _most_of(rules: BoundRules, tyre: TyreFacts) -> _Most:
    return _most_for_all(rules) or _most(*[_said(name, rules, tyre) for name in _LIMIT_A_HOLE])


_LIMIT_A_HOLE: Final = ("injury_size", "lean", "band")


@lru_cache(maxsize=512)
def _most_for_all(rules: BoundRules) -> _Most | None:
    """Return what some rules allow for every tyre; none where that hangs on more of a tyre."""
    branches = [_branches(rules).get(name, ()) for name in _LIMIT_A_HOLE]
    if any(some and some[0].applies != YES for some in branches):
        return None
    said: list[list[Any]] = [[some[0].provision] if some else [] for some in branches]
    return _most(*said)


def _most(sizes: list[InjurySize], leans: list[Lean], bands: list[Band]) -> _Most:
    return _Most(
        found_to_mm=_largest([one.found_to_mm for one in sizes]),
        cut_to_mm=_largest([max(one.found_to_mm, one.prepared_to_mm) for one in sizes]),
        lean_deg=_largest([one.max_deg for one in leans if EFFECT[one.effect] != CAUTION]),
        bands=tuple(bands),
    )


def _half_band(most: _Most, tyre: TyreFacts) -> float | None:
    return _largest([half_width(one, tyre).high for one in most.bands])


def _reach(half_band: float | None, injury: InjuryFacts) -> float | None:
    """Return how far from the centre line a channel may be, its mouth lying in the band too."""
    return None if half_band is None else max(0.0, half_band - injury.prepared.low / 2.0)


def _said(name: str, rules: BoundRules, tyre: TyreFacts) -> list[Any]:
    """Return the provisions of the rule of some name that may apply to a tyre."""
    return [branch.provision for branch in may_apply(_branches(rules).get(name, ()), tyre)]


@lru_cache(maxsize=512)
def _branches(rules: BoundRules) -> dict[str, tuple[Branch[Any], ...]]:
    """Return the provisions of each rule, by its name."""
    every: tuple[BoundRule[Any], ...] = (*rules.tyre, *rules.injury)
    return {rule.name: rule.branches for rule in every}


def _largest(limits: list[float]) -> float | None:
    return max(limits) if limits else None


def _widest(limits: list[float | None]) -> float | None:
    """Return the widest of the limits of several uses; none where one of them has none."""
    return None if None in limits else _largest([limit for limit in limits if limit is not None])


def _stricter(book: float | None, house: float | None) -> float | None:
    given = [limit for limit in (book, house) if limit is not None]
    return min(given, default=None)
