"""How far the work on a tyre goes, by what was decided of it."""

from __future__ import annotations

from typing import Literal, TypeAlias

from mendgauge.core.interval import NO
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup, part

Scope: TypeAlias = Literal["repair", "inspection", "leak_search", "none"]


@part
def scope_of(workup: Workup) -> Scope:
    """Return how far the work goes; a repair only where one is on offer and some injury may go through."""
    verdict, injuries = verdict_of(workup), workup.facts[0].injuries
    if verdict.next_step == "find_the_leak" or (verdict.next_step == "no_repair_needed" and injuries):
        return "none" if workup.edition.procedure.says.leak_search is None else "leak_search"
    if all(injury.through == NO for injury in injuries):
        return "none"
    if offer_for(verdict) != "withheld":
        return "repair"
    return "inspection" if verdict.verdict == "inspect" else "none"
