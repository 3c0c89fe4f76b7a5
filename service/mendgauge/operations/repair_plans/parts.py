"""The parts of a plan, and why a part is absent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from mendgauge.answers.citation import Source
from mendgauge.core.errors import NotPricedError
from mendgauge.operations.quotes.answer import Quote
from mendgauge.operations.quotes.quote import quote_of
from mendgauge.operations.repair_plans.answer import Absent, RepairPlan
from mendgauge.operations.repair_plans.said_once import SaidOnce
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.repairability.offer import offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.repairability.without_repair import without_repair
from mendgauge.operations.service_limits.limits import limits_of
from mendgauge.operations.stem_trim.trims import trims_of
from mendgauge.operations.work_plans.plan import check_house_times, plan_of
from mendgauge.operations.work_plans.scope import Scope, scope_of
from mendgauge.operations.workup import Workup


def repair_plan_of(workup: Workup) -> RepairPlan:
    """Return every part of a case that applies.

    Raises:
        NotPricedError: Something on the bill of a repair has no price.
        CaseError: The price book or the house times contradict something.
    """
    verdict, scope = verdict_of(workup), scope_of(workup)
    check_house_times(workup)
    withheld = offer_for(verdict) == "withheld"
    quote, no_quote = _quote(workup, withheld)
    full, once = workup.bound.full, SaidOnce(verdict)
    units, trims = (units_of(workup), trims_of(workup)) if scope == "repair" else (None, None)
    limits = None if withheld else limits_of(workup)
    work = None if scope == "none" else plan_of(workup)
    return RepairPlan(
        reference=verdict.reference,
        codes=verdict.codes,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        repairability=verdict if full else once.verdict(verdict),
        repair_units=units if full else once.units(units),
        stem_trims=trims if full else once.trims(trims),
        service_limits=limits if full else once.limits(limits),
        work_plan=work if full else once.work(work),
        quote=quote if full else once.quote(quote),
        absent=tuple(
            _absent(workup.bound.words.quotes.absent, scope, withheld, without_repair(workup) is not None, no_quote)
        ),
        sources=_all_sources((verdict, limits, units, trims, work, quote)),
    )


def _all_sources(parts: Iterable[Any]) -> dict[str, Source]:
    """Return one table of what all parts cite."""
    return {key: source for part in parts if part is not None for key, source in part.sources.items()}


def _quote(workup: Workup, withheld: bool) -> tuple[Quote | None, str | None]:
    """Return the quote, or why there is none; a repair that cannot be priced is an error here as it is alone."""
    if workup.case.price_book is None:
        return None, "quote_no_price_book"
    try:
        return quote_of(workup), None
    except NotPricedError:
        if withheld:
            return None, "quote_not_priced"
        raise


def _absent(
    says: dict[str, str], scope: Scope, withheld: bool, nothing_through: bool, no_quote: str | None
) -> Iterator[Absent]:
    why = "withheld" if withheld and not nothing_through else "nothing_through"
    if scope != "repair":
        yield Absent(part="repair_units", says=says[f"unit_{why}"])
        yield Absent(part="stem_trims", says=says[f"trim_{why}"])
    if withheld:
        yield Absent(part="service_limits", says=says["limits_withheld"])
    if scope == "none":
        yield Absent(part="work_plan", says=says[f"work_{why}"])
    if no_quote is not None:
        yield Absent(part="quote", says=says[no_quote])
