"""What to do where no injury goes through: there is no channel to repair, but the tyre may lose air all the same.

Rules that speak of the repair alone, such as a maker who forbids one, say nothing of such a tyre; those on its
condition do, and their advice stands.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

from mendgauge.core.interval import NO, YES
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.assessment import Assessment
from mendgauge.operations.repairability.assessed import assessed_of
from mendgauge.operations.workup import Workup
from mendgauge.rulebooks import Edition
from mendgauge.rules.outcome import MET, NOT_HERE, REPAIRABLE, Outcome, lowest
from mendgauge.rules.repair import coverage, earlier_repairs, maker_policy, special_tyre
from mendgauge.rules.repair.history import run_low, run_low_share

WithoutRepair: TypeAlias = Literal["find_the_leak", "no_repair_needed"]

_OF_A_REPAIR_ALONE: Final = frozenset(
    {
        coverage.DEFINITION.name,
        earlier_repairs.COUNT.name,
        maker_policy.DEFINITION.name,
        maker_policy.COUNT.name,
        *(definition.name for definition in special_tyre.DEFINITIONS),
    }
)
"""Rules on whether a tyre may be repaired that say nothing against running it unrepaired."""


def without_repair(workup: Workup) -> WithoutRepair | None:
    """Return what to do where no injury goes through; none where one may, or where tyre or position are at fault."""
    if workup.facts[0].repairs_needed.high > 0.0:
        return None
    best = min(_best(one) for one in assessed_of(workup))
    if not best & REPAIRABLE:
        return None
    if not all(_holds(tyre, workup.edition) for tyre in workup.facts):
        return "find_the_leak"
    return None if best == NOT_HERE else "no_repair_needed"


def _best(one: Assessment) -> Outcome:
    """Return the best that the rules on the tyre itself can come to."""
    on_the_tyre = (judged.found for judged in one.notable if judged.rule.name not in _OF_A_REPAIR_ALONE)
    return max(map(lowest, on_the_tyre), default=MET)


def _holds(tyre: TyreFacts, edition: Edition) -> bool:
    """Return whether it loses no air, as far as is known, and was not found low."""
    if tyre.losing_air != NO:
        return False
    share = run_low_share(edition, tyre.tyre_class)
    return share is None or run_low(tyre.pressure, tyre.driven_flat, share) != YES
