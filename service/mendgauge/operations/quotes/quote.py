"""The quote: what is priced, the bill, and what must be said beside the price."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from mendgauge.answers.caution import Caution, worded
from mendgauge.answers.citation import sources_of
from mendgauge.case.price_book import Job, PriceBook, currency_of, price_book_flaws
from mendgauge.core.errors import CaseError, Flaw, NotPricedError
from mendgauge.core.money import Currency
from mendgauge.operations.quotes.alternatives import alternatives_to
from mendgauge.operations.quotes.answer import Alternative, NotIncluded, Quote, RepairOrReplace
from mendgauge.operations.quotes.bill import Bill, make_bill
from mendgauge.operations.quotes.pricing import charges, not_included
from mendgauge.operations.quotes.repair_or_replace import Allowed, compare, replacement_flaws
from mendgauge.operations.quotes.what_could_change import too_much_to_change
from mendgauge.operations.quotes.work import Work, work_of
from mendgauge.operations.work_plans.answer import PlanQuestion
from mendgauge.operations.work_plans.plan import asked_of, asked_short_of_repair
from mendgauge.operations.workup import Workup, part
from mendgauge.wording import day_in_words
from mendgauge.wording.quotes import QuoteWords

_NOT_FOR_PRINT: Final = ("not_covered", "word_not_read")
"""Cautions of the verdict that say something of the rulebook or to whoever decides, and nothing to a customer."""

_SUPPOSED: Final = ("if_it_passes", "supposes")
"""Cautions of the units that say what a price holds for while the verdict is open."""


@part
def quote_of(workup: Workup) -> Quote:
    """Return the quote for a case.

    Raises:
        NotPricedError: Something on the bill has no price.
        CaseError: The case has no price book, or one that contradicts itself.
    """
    work, words = work_of(workup), workup.bound.words.quotes
    verdict, units = work.verdict, work.units
    book, currency = _book_of(workup, words)
    job = _job(work)
    charged = charges(job, work, book, words)
    if charged.flaws:
        raise NotPricedError(charged.flaws)
    bill = make_bill(charged.items, book, currency, words.titles)
    left_out = tuple(not_included(work, charged)) if job == "repair" else ()
    until = None if book.valid_days is None else verdict.assessed_on + timedelta(days=book.valid_days)
    alternatives = tuple(alternatives_to(job, work, book, currency, words))
    worth, not_reckoned = _worth(work, bill if job == "repair" else None, currency, words)
    caveats = (
        *_caveats(job, work, alternatives, left_out, until, currency),
        *(caution for caution in verdict.cautions if caution.code not in _NOT_FOR_PRINT),
    )
    return Quote(
        reference=verdict.reference,
        codes=verdict.codes,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=units.offer,
        decided_by=units.decided_by,
        job=job,
        says=words.job[_says(job, work)],
        currency=currency.code,
        prices_include_tax=book.prices_include_tax,
        lines=bill.lines,
        taxes=bill.taxes,
        totals=bill.totals,
        covered=charged.covered if workup.bound.full else (),
        not_included=left_out,
        valid_until=until,
        alternatives=alternatives,
        repair_or_replace=worth,
        not_reckoned=not_reckoned,
        caveats=caveats,
        to_establish=_asked(job, work, book),
        sources=sources_of(units.decided_by),
    )


def _book_of(workup: Workup, words: QuoteWords) -> tuple[PriceBook, Currency]:
    """Return the price book and its currency, free of flaws."""
    book = workup.case.price_book
    if book is None:
        raise CaseError([Flaw("/price_book", words.unpriced["price_book"])])
    currency = currency_of(book)
    flaws = list(price_book_flaws(book))
    if currency is not None:
        flaws += replacement_flaws(workup, currency)
    if flaws or currency is None:
        raise CaseError(flaws)
    return book, currency


def _job(work: Work) -> Job:
    """Return what is priced: a repair only where there is one to make."""
    if work.repairs:
        return "repair"
    if work.nothing_through:
        return "leak_search"
    return "inspection" if work.workup.case.replacement is None else "replacement"


def _asked(job: Job, work: Work, book: PriceBook) -> tuple[PlanQuestion, ...]:
    """Return what verdict, unit and price hang on: at a fixed price, an inspection hangs on none of its steps."""
    if job == "repair":
        return asked_of(work.workup)
    steps = "inspection" if work.scope == "repair" else work.scope
    return asked_short_of_repair(work.workup, "none" if book.inspection is not None else steps)


def _says(job: Job, work: Work) -> str:
    if job == "repair":
        return "repair" if work.units.offer == "offered" else "repair_if_it_passes"
    if job == "leak_search":
        return job if work.scope == "leak_search" else "nothing_to_do"
    return job if work.units.offer == "withheld" else f"{job}_no_unit"


def _worth(
    work: Work, bill: Bill | None, currency: Currency, words: QuoteWords
) -> tuple[RepairOrReplace | None, str | None]:
    """Return the repair against a replacement, or why it is not reckoned."""
    case = work.workup.case
    if case.replacement is None:
        return None, words.not_reckoned["replacement"]
    if case.tyre.new_tread_depth_mm is None:
        return None, words.not_reckoned["new_tread_depth"]
    if work.nothing_through:
        return None, words.not_reckoned["nothing_through"]
    repair = None
    if bill is not None:
        # The call-out is paid whichever of the two is done.
        repair = bill.amount - bill.call_out
    return compare(work.workup, case.replacement, repair, _allowed(work), work.steps.minutes, currency, words), None


def _allowed(work: Work) -> Allowed:
    if work.units.offer == "withheld":
        verdicts = work.verdict.possible_verdicts
        return "specialist" if "specialist" in verdicts else "not_covered" if "not_covered" in verdicts else "withheld"
    if work.without_unit:
        return "no_unit"
    return "offered" if work.units.offer == "offered" else "conditional"


def _caveats(
    job: Job,
    work: Work,
    alternatives: tuple[Alternative, ...],
    left_out: tuple[NotIncluded, ...],
    until: date | None,
    currency: Currency,
) -> Iterator[Caution]:
    bound = work.workup.bound

    def caveat(code: str, **figures: str) -> Caution:
        return worded(code, bound.words.quotes.caveats[code], bound, **figures)

    if job == "repair":
        if any(one.code != "replacement" for one in alternatives):
            yield caveat("as_described")
        if too_much_to_change(work.workup):
            yield caveat("changes_not_priced")
        abandoned = next(one for one in alternatives if one.code == "abandoned")
        if abandoned.totals is not None:
            yield caveat("inspection_decides_price", price=f"{abandoned.totals.gross} {currency.code}")
        yield from (caution for caution in work.units.cautions if caution.code in _SUPPOSED)
        if not all(chosen.certain for chosen in work.chosen):
            yield caveat("unit_not_certain")
        for only_if in dict.fromkeys(one.only_if for one in left_out):
            yield caveat("not_included", only_if=only_if)
    elif job == "leak_search":
        if work.scope == "leak_search":
            yield caveat("fixing_costs_extra")
    elif work.units.offer == "withheld":
        yield caveat("never_a_repair")
    if until is not None:
        yield caveat("valid_until", day=day_in_words(until, bound.words.language))
