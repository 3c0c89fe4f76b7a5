"""The whole plan for one tyre in one answer: verdict, units, trim, limits, work and price.

Each part is what its own capability answers, to the byte. A part that does not apply is absent, and the plan says why.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TypeVar

from mendgauge.case.case import Case
from mendgauge.core.errors import NotPricedError
from mendgauge.intake.intake import Intake, take_in
from mendgauge.operations.quotes import quote_for
from mendgauge.operations.quotes.answer import Quote
from mendgauge.operations.repair_plans.answer import Absent, RepairPlan
from mendgauge.operations.repair_units import units_for
from mendgauge.operations.repair_units.answer import RepairUnits
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.service_limits import service_limits_of
from mendgauge.operations.stem_trim import trims_for
from mendgauge.operations.work_plans import plan_for
from mendgauge.operations.work_plans.answer import WorkPlan
from mendgauge.wording import wording


def plan_repair(case: Case, today: date | None = None) -> RepairPlan:
    """The whole plan for one tyre.

    `today` stands in for a missing `assessed_on`. Raises `NotPricedError` where something on the bill of a repair has
    no price, and `CaseError` for a case that contradicts itself or names a rulebook that is not there.
    """
    intake, verdict = take_in(case, today), check_repairability(case, today)
    units = units_for(intake, verdict)
    trims = trims_for(intake, verdict, units)
    work = plan_for(intake, verdict, units, trims)
    withheld = units.offer == "withheld"
    to_repair = work.scope == "repair"
    quote, no_quote = _quote(intake, verdict, units, work)
    return RepairPlan(
        reference=verdict.reference,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        repairability=verdict,
        repair_units=_kept(units, to_repair),
        stem_trims=_kept(trims, to_repair),
        service_limits=None if withheld else service_limits_of(intake, verdict),
        work_plan=_kept(work, work.scope != "none"),
        quote=quote,
        absent=tuple(_absent(intake, work, withheld, no_quote)),
    )


Part = TypeVar("Part")


def _kept(part: Part, applies: bool) -> Part | None:
    return part if applies else None


def _quote(
    intake: Intake, verdict: Repairability, units: RepairUnits, work: WorkPlan
) -> tuple[Quote | None, str | None]:
    """The quote, or why there is none; a repair that cannot be priced is an error here as it is alone."""
    if intake.case.price_book is None:
        return None, "quote_no_price_book"
    try:
        return quote_for(intake, verdict, units, work), None
    except NotPricedError:
        if units.offer == "withheld":
            return None, "quote_not_priced"
        raise


def _absent(intake: Intake, work: WorkPlan, withheld: bool, no_quote: str | None) -> Iterator[Absent]:
    says = wording(intake.edition.book.language).quotes.absent
    why = "withheld" if withheld else "nothing_through"
    if work.scope != "repair":
        yield Absent(part="repair_units", says=says[f"unit_{why}"])
        yield Absent(part="stem_trims", says=says[f"trim_{why}"])
    if withheld:
        yield Absent(part="service_limits", says=says["limits_withheld"])
    if work.scope == "none":
        yield Absent(part="work_plan", says=says[f"work_{why}"])
    if no_quote is not None:
        yield Absent(part="quote", says=says[no_quote])
