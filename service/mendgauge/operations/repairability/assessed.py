"""The case judged by every rule on a repair, for each use the tyre may be in."""

from __future__ import annotations

from mendgauge.case.house_rules import HouseRules
from mendgauge.core.errors import CaseError
from mendgauge.judging.assessment import Assessment, Notable, assess_tyre, merge
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks import Edition
from mendgauge.rules.house import loosening


@part
def assessed_of(workup: Workup) -> list[Assessment]:
    """Return an assessment for each use.

    Raises:
        CaseError: A house rule is looser than the book.
    """
    assessed = [assess_tyre(tyre, workup.edition) for tyre in workup.facts]
    if workup.case.house_rules is not None:
        _check_house_rules(workup.case.house_rules, workup.edition, assessed)
    return assessed


@part
def notable_of(workup: Workup) -> Notable:
    """Return the rules that are not simply met, over all uses."""
    return merge(assessed_of(workup))


def _check_house_rules(house: HouseRules, edition: Edition, assessed: list[Assessment]) -> None:
    """Refuse a house rule that is looser than the book, whatever the vehicle turns out to be."""
    looser = [
        list(loosening(house, one.facts, one.rules.tyre + one.rules.injury, edition.reference)) for one in assessed
    ]
    always = tuple(flaw for flaw in looser[0] if all(flaw in others for others in looser[1:]))
    if always:
        raise CaseError(always)
