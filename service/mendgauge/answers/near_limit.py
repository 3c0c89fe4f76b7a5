"""Cautions about a limit that is kept by less than the instrument reads: what to measure again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Any, Final, TypeAlias

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.caution import Caution, caution
from mendgauge.case.case import Case
from mendgauge.core.interval import NO
from mendgauge.facts.assumed import AssumedDimensions
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.assessment import Assessment
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.schema.repair import InjurySize
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.repair.injury_size import DEFINITION as SIZE
from mendgauge.wording.quantities import quantity

_NOTHING: Final = 0.0005
"""A margin that an answer rounds to nothing, in the unit of its limit."""

Subject: TypeAlias = TyreFacts | InjuryFacts


class _Measured(msgspec.Struct, frozen=True, gc=False):
    """A provision on a measurement, with its rule, the instrument, and what to say when too little is left."""

    headroom: Callable[[Any], float]
    tolerance: float
    rule: BoundRule[Any]
    instrument: str
    says: str
    tread: bool


def near_limits(case: Case, one: Assessment, bound: BoundEdition) -> list[Caution]:
    """Return a caution for every rule that is met by less than its instrument reads.

    A tolerance that the case states is in its measurements already; for the rest the workshop's is taken.
    """
    on_tyre, on_injury, beside_others = _measured_rules(one.rules, bound)
    # Loops, as a comprehension is a call and every tyre that may be repaired passes here.
    near: list[tuple[_Measured, Subject]] = []
    tyre = one.facts
    for measured in on_tyre:
        headroom = measured.headroom
        if headroom(tyre) < measured.tolerance:
            near.append((measured, tyre))
    if not tyre.lone_injury:
        on_injury += beside_others
    for injury in tyre.injuries:
        for measured in on_injury:
            headroom = measured.headroom
            if headroom(injury) < measured.tolerance:
                near.append((measured, injury))
    return _near_cautions(near, case, bound) if near else []


def _near_cautions(near: list[tuple[_Measured, Subject]], case: Case, bound: BoundEdition) -> list[Caution]:
    """Return one caution per rule, even when several of its provisions are nearly reached."""
    by_rule = {(measured.rule.name, id(subject)): (measured, subject) for measured, subject in near}
    return [one for measured, subject in by_rule.values() for one in _near(measured, subject, case, bound)]


def _near(measured: _Measured, subject: Subject, case: Case, bound: BoundEdition) -> Iterator[Caution]:
    rule = measured.rule
    headroom = rule.headroom(subject)
    if 0.0 <= headroom < measured.tolerance and not _stated(case, measured.instrument):
        branch = rule.deciding(subject)
        unit = branch.seen(subject).unit
        left = quantity(headroom, headroom, unit, bound.words.language, tread=measured.tread)
        says = measured.says.format(margin="Nothing" if headroom < _NOTHING else f"Only {left}")
        yield _caution("near_limit", says, branch.provision, bound)


def _stated(case: Case, instrument: str) -> bool:
    return case.measuring is not None and getattr(case.measuring, instrument) is not None


@lru_cache(maxsize=512)
def _measured_rules(
    rules: BoundRules, bound: BoundEdition
) -> tuple[tuple[_Measured, ...], tuple[_Measured, ...], tuple[_Measured, ...]]:
    """Return the provisions on a measurement: of the tyre, of an injury by itself, and of one beside another repair.

    Kept, as it is the same for every tyre under these rules and takes longer than judging one.
    """

    def measured(some: Iterable[BoundRule[Any]]) -> tuple[_Measured, ...]:
        texts = ((rule, bound.words.findings[rule.name]) for rule in some)
        return tuple(
            _Measured(
                branch.headroom,
                getattr(bound.tolerances, text.measured_with),
                rule,
                text.measured_with,
                text.near,
                text.tread,
            )
            for rule, text in texts
            if text.near
            for branch in rule.branches
            if branch.headroom is not None
        )

    beside = {rule.name for rule in rules.injury if "neighbours" in rule.depends_on}
    return (
        measured(rules.tyre),
        measured(rule for rule in rules.injury if rule.name not in beside),
        measured(rule for rule in rules.injury if rule.name in beside),
    )


def after_preparation(one: Assessment, bound: BoundEdition) -> list[Caution]:
    """Return a caution for every hole whose cutter is the largest that its limit lets pass."""
    rule = next((rule for rule in one.rules.injury if rule.name == SIZE.name), None)
    if rule is None:
        return []
    cautions: list[Caution] = []
    for injury in one.facts.injuries:
        if injury.through != NO and "found" in injury.stages:
            limit = rule.deciding(injury).provision
            cautions += _last_cutter(injury.cutter.high, one.facts.assumed, limit, bound)
    return cautions


@lru_cache(maxsize=1024)
def _last_cutter(
    cutter: float, assumed: AssumedDimensions, limit: Provision, bound: BoundEdition
) -> tuple[Caution, ...]:
    """Return the caution that no larger cutter than this one keeps to the limit, where that is so.

    Kept: there are few cutters, and wording it anew takes 2 of a decision's 25 µs.
    """
    larger = assumed.next_cutter(cutter)
    if not isinstance(limit, InjurySize) or (larger is not None and larger <= limit.prepared_to_mm):
        return ()
    says = bound.words.cautions["after_preparation"].says.format(
        cutter=quantity(cutter, cutter, "mm", bound.words.language)
    )
    return (_caution("after_preparation", says, limit, bound),)


def _caution(code: str, says: str, provision: Provision, bound: BoundEdition) -> Caution:
    return caution(code, says, bound.provenance_of(provision))
