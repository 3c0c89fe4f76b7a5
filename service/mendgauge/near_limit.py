"""A yes that hangs on a measurement: how little is to spare, and what to measure again."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import Any

import msgspec

from mendgauge.assessment import Assessment
from mendgauge.case import Case
from mendgauge.caution import Caution
from mendgauge.facts import Estimates
from mendgauge.finding import quantity
from mendgauge.quantity import NO
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema import InjurySize, Provision
from mendgauge.rules import Rules
from mendgauge.rules.injury_size import QUESTION as SIZE
from mendgauge.rules.rule import Rule
from mendgauge.tolerance import usual
from mendgauge.wording import Wording


class _Measured(msgspec.Struct, frozen=True):
    """A rule on a measurement, with the instrument and what to say when too little is left."""

    rule: Rule[Any]
    instrument: str
    tolerance: float
    says: str


def near_limits(case: Case, one: Assessment, edition: Edition, words: Wording) -> Iterator[Caution]:
    """A caution for every rule that is met by less than its instrument reads.

    A tolerance that the case states has been reckoned with already; for the rest the workshop's is taken.
    """
    on_tyre, on_injury = _measured_rules(one.rules, edition, words)
    for subject, rules in ((one.facts, on_tyre), *((injury, on_injury) for injury in one.facts.injuries)):
        for measured in rules:
            spare = measured.rule.spare(subject)
            if 0.0 <= spare < measured.tolerance and not _stated(case, measured.instrument):
                branch = measured.rule.deciding(subject)
                unit = branch.evidence(subject).unit
                says = measured.says.format(margin=quantity(spare, spare, unit))
                yield _caution("near_limit", says, branch.provision, edition)


def _stated(case: Case, instrument: str) -> bool:
    return case.measuring is not None and getattr(case.measuring, instrument) is not None


@lru_cache(maxsize=4096)
def _measured_rules(
    rules: Rules, edition: Edition, words: Wording
) -> tuple[tuple[_Measured, ...], tuple[_Measured, ...]]:
    """The rules on a measurement, of the tyre and of an injury."""
    tolerances = usual(edition)

    def measured(some: Iterable[Rule[Any]]) -> tuple[_Measured, ...]:
        texts = ((rule, words.findings[rule.name]) for rule in some)
        return tuple(
            _Measured(rule, text.measured_with, getattr(tolerances, text.measured_with), text.near)
            for rule, text in texts
            if text.near
        )

    return measured(rules.tyre), measured(rules.injury)


def after_preparation(one: Assessment, edition: Edition, words: Wording) -> Iterator[Caution]:
    """A caution for every hole whose cutter is the largest that its limit lets pass."""
    rule = _size_rule(one.rules)
    if rule is None:
        return
    for injury in one.facts.injuries:
        if injury.through == NO or "found" not in injury.stages:
            continue
        provision = rule.deciding(injury).provision
        if isinstance(provision, InjurySize):
            yield from _last_cutter(injury.cutter.high, one.facts.estimates, provision, edition, words)


@lru_cache(maxsize=1024)
def _last_cutter(
    cutter: float, figures: Estimates, limit: InjurySize, edition: Edition, words: Wording
) -> tuple[Caution, ...]:
    """The caution that no larger cutter than this one keeps to the limit, where that is so."""
    larger = figures.next_cutter(cutter)
    if larger is not None and larger <= limit.prepared_to_mm:
        return ()
    says = words.cautions["after_preparation"].says.format(cutter=quantity(cutter, cutter, "mm"))
    return (_caution("after_preparation", says, limit, edition),)


@lru_cache(maxsize=4096)
def _size_rule(rules: Rules) -> Rule[Any] | None:
    return next((rule for rule in rules.injury if rule.name == SIZE.name), None)


def _caution(code: str, says: str, provision: Provision, edition: Edition) -> Caution:
    return Caution(code=code, says=says, basis=provision.basis, source=edition.source(provision))
