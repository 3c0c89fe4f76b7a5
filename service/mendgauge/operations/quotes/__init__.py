"""What the job costs: a bill by the caller's price book, what could change it, and the repair against a replacement.

A repair is priced only where the tyre may be repaired, or may yet turn out to be; where it may not, the price is that
of a replacement or of the inspection alone. What a repair would save never changes that.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Final

from mendgauge.answers.base import rulebook_used
from mendgauge.answers.caution import Caution
from mendgauge.case.case import Case
from mendgauge.case.price_book import Job, PriceBook, currency_of, price_book_flaws
from mendgauge.core.errors import CaseError, Flaw, NotPricedError
from mendgauge.core.money import Currency
from mendgauge.intake.intake import Intake, take_in
from mendgauge.operations.quotes.answer import Alternative, NotIncluded, NotPriced, Quote, RepairOrReplace
from mendgauge.operations.quotes.bill import Bill, BillWords, make_bill
from mendgauge.operations.quotes.pricing import Charges, Work, charges, not_included
from mendgauge.operations.quotes.repair_or_replace import Allowed, compare, replacement_flaws
from mendgauge.operations.quotes.what_could_change import what_could_change
from mendgauge.operations.repair_units import units_for
from mendgauge.operations.repair_units.answer import RepairUnits
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.stem_trim import trims_for
from mendgauge.operations.work_plans import plan_for
from mendgauge.operations.work_plans.answer import WorkPlan
from mendgauge.wording import wording
from mendgauge.wording.quotes import QuoteWords

_NOT_FOR_PRINT: Final = ("not_covered",)
"""Cautions of the verdict that say something of the rulebook, and nothing to a customer."""


def quote_repair(case: Case, today: date | None = None) -> Quote:
    """What the job costs by the price book of the case.

    `today` stands in for a missing `assessed_on`. Raises `NotPricedError` where something on the bill has no price, and
    `CaseError` for a case without a price book, that contradicts itself, or names a rulebook that is not there.
    """
    work = _work_out(case, today)
    return quote_for(work.intake, work.verdict, work.units, work.plan)


def quote_for(intake: Intake, verdict: Repairability, units: RepairUnits, plan: WorkPlan) -> Quote:
    """The same, of a case that was taken in, judged, and worked out."""
    words = wording(intake.edition.book.language).quotes
    book, currency = _book_of(intake, words)
    work = Work(intake, verdict, units, plan)
    job = _job(work)
    charged = charges(job, work, book, words)
    if charged.flaws:
        raise NotPricedError(charged.flaws)
    bill = make_bill(charged.items, book, currency, _bill_words(words))
    left_out = tuple(not_included(work, charged)) if job == "repair" else ()
    until = None if book.valid_days is None else verdict.assessed_on + timedelta(days=book.valid_days)
    alternatives = tuple(_alternatives(job, work, book, currency, words))
    worth, not_reckoned = _worth(work, bill if job == "repair" else None, currency, words)
    return Quote(
        reference=verdict.reference,
        rulebook=rulebook_used(intake.edition),
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
        covered=charged.covered,
        not_included=left_out,
        valid_until=until,
        alternatives=alternatives,
        repair_or_replace=worth,
        not_reckoned=not_reckoned,
        caveats=(
            *_caveats(job, work, alternatives, left_out, until, currency, words),
            *(caution for caution in verdict.cautions if caution.code not in _NOT_FOR_PRINT),
        ),
        to_establish=plan.to_establish,
    )


def _work_out(case: Case, today: date | None) -> Work:
    intake, verdict = take_in(case, today), check_repairability(case, today)
    units = units_for(intake, verdict)
    return Work(intake, verdict, units, plan_for(intake, verdict, units, trims_for(intake, verdict, units)))


def _book_of(intake: Intake, words: QuoteWords) -> tuple[PriceBook, Currency]:
    """The price book and its currency, free of flaws."""
    book = intake.case.price_book
    if book is None:
        raise CaseError([Flaw("/price_book", words.unpriced["price_book"])])
    currency = currency_of(book)
    flaws = list(price_book_flaws(book))
    if currency is not None:
        flaws += replacement_flaws(intake, currency)
    if flaws or currency is None:
        raise CaseError(flaws)
    return book, currency


def _job(work: Work) -> Job:
    """What is priced: a repair only where there is one to make."""
    if work.repairs:
        return "repair"
    nothing_through = work.units.offer != "withheld" and not work.without_unit
    return "inspection" if work.intake.case.replacement is None or nothing_through else "replacement"


def _says(job: Job, work: Work) -> str:
    if job == "repair":
        return "repair" if work.units.offer == "offered" else "repair_if_it_passes"
    if work.units.offer == "withheld":
        return job
    return f"{job}_no_unit" if work.without_unit else "nothing_through"


def _bill_words(words: QuoteWords) -> BillWords:
    return BillWords(words.titles["minimum_charge"], words.titles["cash_rounding"])


def _alternatives(
    job: Job, work: Work, book: PriceBook, currency: Currency, words: QuoteWords
) -> Iterator[Alternative]:
    """What the price could become, then what could be done instead."""
    on = work.intake.on

    def priced(code: str, of_job: Job, then: Work, figures: dict[str, str]) -> Alternative:
        says = words.alternatives[code].format(**figures)
        return _alternative(code, says, of_job, charges(of_job, then, book, words), book, currency, words)

    if job == "repair":
        for change in what_could_change(work, lambda case: _work_out(case, on)):
            # What ends the repair after all is charged by the steps that led there, not by those of a tyre refused.
            repairs = change.work.repairs
            yield priced(
                change.code, "repair" if repairs else "inspection", change.work if repairs else work, change.figures
            )
        yield priced("abandoned", "inspection", work, {})
    elif job == "replacement":
        yield priced("inspection", "inspection", work, {})
    if job != "replacement" and work.intake.case.replacement is not None:
        yield priced("replacement", "replacement", work, {})


def _alternative(
    code: str, says: str, job: Job, charged: Charges, book: PriceBook, currency: Currency, words: QuoteWords
) -> Alternative:
    bill = None if charged.flaws else make_bill(charged.items, book, currency, _bill_words(words))
    return Alternative(
        code=code,
        says=says,
        job=job,
        lines=() if bill is None else bill.lines,
        taxes=() if bill is None else bill.taxes,
        totals=None if bill is None else bill.totals,
        not_priced=tuple(NotPriced(field=flaw.pointer, says=flaw.detail) for flaw in charged.flaws),
    )


def _worth(
    work: Work, bill: Bill | None, currency: Currency, words: QuoteWords
) -> tuple[RepairOrReplace | None, str | None]:
    """The repair against a replacement, or why it is not reckoned."""
    case = work.intake.case
    if case.replacement is None:
        return None, words.not_reckoned["replacement"]
    if case.tyre.new_tread_depth_mm is None:
        return None, words.not_reckoned["new_tread_depth"]
    if bill is None and work.units.offer != "withheld" and not work.without_unit:
        return None, words.not_reckoned["nothing_through"]
    repair = None
    if bill is not None:
        # The call-out is paid whichever of the two is done.
        repair = bill.amount - bill.call_out
    return compare(work.intake, case.replacement, repair, _allowed(work), work.plan, currency, words), None


def _allowed(work: Work) -> Allowed:
    if work.units.offer == "withheld":
        return "specialist" if "specialist" in work.verdict.possible_verdicts else "withheld"
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
    words: QuoteWords,
) -> Iterator[Caution]:
    def caveat(code: str, **figures: str) -> Caution:
        text = words.caveats[code]
        return Caution(code=code, says=text.says.format(**figures), basis=text.basis, source=text.source)

    if job == "repair":
        if any(one.code != "replacement" for one in alternatives):
            yield caveat("as_told")
        abandoned = next(one for one in alternatives if one.code == "abandoned")
        if abandoned.totals is not None:
            yield caveat("inspection_decides_price", price=f"{abandoned.totals.gross} {currency.code}")
        if not all(chosen.certain for chosen in work.chosen):
            yield caveat("unit_not_certain")
        for only_if in dict.fromkeys(one.only_if for one in left_out):
            yield caveat("not_included", only_if=only_if)
    elif work.units.offer == "withheld":
        yield caveat("never_a_repair")
    if until is not None:
        yield caveat("valid_until", day=f"{until.day} {until:%B %Y}")
