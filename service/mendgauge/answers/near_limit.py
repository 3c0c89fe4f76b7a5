"""A yes that hangs on a measurement: how little is to headroom, and what to measure again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Any, TypeAlias

import msgspec

from mendgauge.answers.caution import Caution
from mendgauge.answers.finding import quantity
from mendgauge.case.case import Case
from mendgauge.core.interval import NO
from mendgauge.facts.assumed import AssumedDimensions
from mendgauge.facts.tyre import InjuryFacts, TyreFacts
from mendgauge.intake.tolerances import usual
from mendgauge.judging.assessment import Assessment
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema.book import InjurySize, Provision
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.repair.injury_size import DEFINITION as SIZE
from mendgauge.wording import Wording

Subject: TypeAlias = TyreFacts | InjuryFacts


class _Measured(msgspec.Struct, frozen=True, gc=False):
    """A provision on a measurement, with its rule, the instrument, and what to say when too little is left."""

    headroom: Callable[[Any], float]
    tolerance: float
    rule: BoundRule[Any]
    instrument: str
    says: str


def near_limits(case: Case, one: Assessment, edition: Edition, words: Wording) -> list[Caution]:
    """A caution for every rule that is met by less than its instrument reads.

    A tolerance that the case states has been reckoned with already; for the rest the workshop's is taken.
    """
    on_tyre, on_injury, beside_others = _measured_rules(one.rules, edition, words)
    # Loops, as a comprehension is a call and this is asked of every tyre that may be repaired.
    near: list[tuple[_Measured, Subject]] = []
    tyre = one.facts
    for measured in on_tyre:
        headroom = measured.headroom
        if headroom(tyre) < measured.tolerance:
            near.append((measured, tyre))
    if tyre.earlier or len(tyre.injuries) > 1:
        on_injury += beside_others
    for injury in tyre.injuries:
        for measured in on_injury:
            headroom = measured.headroom
            if headroom(injury) < measured.tolerance:
                near.append((measured, injury))
    return _tell(near, case, edition) if near else []


def _tell(near: list[tuple[_Measured, Subject]], case: Case, edition: Edition) -> list[Caution]:
    """Each rule once: it may have several provisions, of which others than the one that applies leave too little."""
    by_rule = {(measured.rule.name, id(subject)): (measured, subject) for measured, subject in near}
    return [caution for measured, subject in by_rule.values() for caution in _told(measured, subject, case, edition)]


def _told(measured: _Measured, subject: Subject, case: Case, edition: Edition) -> Iterator[Caution]:
    rule = measured.rule
    headroom = rule.headroom(subject)
    if 0.0 <= headroom < measured.tolerance and not _stated(case, measured.instrument):
        branch = rule.deciding(subject)
        says = measured.says.format(margin=quantity(headroom, headroom, branch.evidence(subject).unit))
        yield _caution("near_limit", says, branch.provision, edition)


def _stated(case: Case, instrument: str) -> bool:
    return case.measuring is not None and getattr(case.measuring, instrument) is not None


@lru_cache(maxsize=4096)
def _measured_rules(
    rules: BoundRules, edition: Edition, words: Wording
) -> tuple[tuple[_Measured, ...], tuple[_Measured, ...], tuple[_Measured, ...]]:
    """The provisions on a measurement: of the tyre, of an injury by itself, and of one beside another repair."""
    tolerances = usual(edition)

    def measured(some: Iterable[BoundRule[Any]]) -> tuple[_Measured, ...]:
        texts = ((rule, words.findings[rule.name]) for rule in some)
        return tuple(
            _Measured(branch.headroom, getattr(tolerances, text.measured_with), rule, text.measured_with, text.near)
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


def after_preparation(one: Assessment, edition: Edition, words: Wording) -> list[Caution]:
    """A caution for every hole whose cutter is the largest that its limit lets pass."""
    rule = _size_rule(one.rules)
    if rule is None:
        return []
    cautions: list[Caution] = []
    figures = one.facts.assumed
    for injury in one.facts.injuries:
        if injury.through != NO and "found" in injury.stages:
            limit = rule.deciding(injury).provision
            cautions += _last_cutter(injury.cutter.high, figures, limit, edition, words)
    return cautions


@lru_cache(maxsize=1024)
def _last_cutter(
    cutter: float, figures: AssumedDimensions, limit: Provision, edition: Edition, words: Wording
) -> tuple[Caution, ...]:
    """The caution that no larger cutter than this one keeps to the limit, where that is so."""
    larger = figures.next_cutter(cutter)
    if not isinstance(limit, InjurySize) or (larger is not None and larger <= limit.prepared_to_mm):
        return ()
    says = words.cautions["after_preparation"].says.format(cutter=quantity(cutter, cutter, "mm"))
    return (_caution("after_preparation", says, limit, edition),)


@lru_cache(maxsize=4096)
def _size_rule(rules: BoundRules) -> BoundRule[Any] | None:
    return next((rule for rule in rules.injury if rule.name == SIZE.name), None)


def _caution(code: str, says: str, provision: Provision, edition: Edition) -> Caution:
    return Caution(code=code, says=says, basis=provision.basis, source=edition.source(provision))
