"""A yes that hangs on a measurement: how little is to spare, and what to measure again."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.assessment import Assessment
from mendgauge.case import Case
from mendgauge.caution import Caution
from mendgauge.facts import InjuryFacts, TyreFacts
from mendgauge.finding import margin, quantity
from mendgauge.quantity import NO
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema import InjurySize, Provision
from mendgauge.rules.injury_size import QUESTION as SIZE
from mendgauge.tolerance import usual
from mendgauge.wording import Wording


def near_limits(case: Case, one: Assessment, edition: Edition, words: Wording) -> Iterator[Caution]:
    """A caution for every rule that is met by less than its instrument reads.

    A tolerance that the case states has been reckoned with already; for the rest the workshop's is taken.
    """
    tolerances = usual(edition)
    stated = case.measuring
    for rule, subject in one.each_rule():
        texts = words.findings[rule.name]
        if not texts.near or (stated is not None and getattr(stated, texts.measured_with) is not None):
            continue
        branch = rule.deciding(subject)
        evidence = branch.evidence(subject)
        spare = None if _cut_to_size(rule.name, subject) else margin(evidence)
        if spare is not None and 0.0 <= spare < getattr(tolerances, texts.measured_with):
            says = texts.near.format(margin=quantity(spare, spare, evidence.unit))
            yield _caution("near_limit", says, branch.provision, edition)


def _cut_to_size(rule: str, subject: TyreFacts | InjuryFacts) -> bool:
    """A channel cut clean has its cutter's nominal size, which nobody measured."""
    return rule == SIZE.name and isinstance(subject, InjuryFacts) and subject.stages == ("prepared",)


def after_preparation(one: Assessment, edition: Edition, words: Wording) -> Iterator[Caution]:
    """A caution for every hole whose cutter is the largest that its limit lets pass."""
    rule = next((rule for rule in one.rules.injury if rule.name == SIZE.name), None)
    if rule is None:
        return
    for injury in one.facts.injuries:
        provision = rule.deciding(injury).provision
        if not isinstance(provision, InjurySize) or injury.through == NO or "found" not in injury.stages:
            continue
        larger = one.facts.estimates.next_cutter(injury.cutter.high)
        if larger is None or larger > provision.prepared_to_mm:
            cutter = quantity(injury.cutter.high, injury.cutter.high, "mm")
            says = words.cautions["after_preparation"].says.format(cutter=cutter)
            yield _caution("after_preparation", says, provision, edition)


def _caution(code: str, says: str, provision: Provision, edition: Edition) -> Caution:
    return Caution(code=code, says=says, basis=provision.basis, source=edition.source(provision))
