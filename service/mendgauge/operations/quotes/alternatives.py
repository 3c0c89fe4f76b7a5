"""What the price could become, and what could be done instead, each with its own bill."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.case.price_book import Job, PriceBook
from mendgauge.core.money import Currency
from mendgauge.operations.quotes.answer import Alternative, NotPriced
from mendgauge.operations.quotes.bill import make_bill
from mendgauge.operations.quotes.pricing import Charges, charges
from mendgauge.operations.quotes.what_could_change import what_could_change
from mendgauge.operations.quotes.work import Work
from mendgauge.wording.quotes import QuoteWords


def alternatives_to(
    job: Job, work: Work, book: PriceBook, currency: Currency, words: QuoteWords
) -> Iterator[Alternative]:
    """Yield what the price could become, then what could be done instead."""

    def priced(code: str, of_job: Job, then: Work, figures: dict[str, str]) -> Alternative:
        says = words.alternatives[code].format(**figures)
        return _alternative(code, says, of_job, charges(of_job, then, book, words), book, currency, work.workup.bound)

    if job == "repair":
        for change in what_could_change(work):
            # What ends the repair after all is charged by the steps that led there, not by those of a tyre refused.
            repairs = change.work.repairs
            yield priced(
                change.code, "repair" if repairs else "inspection", change.work if repairs else work, change.figures
            )
        yield priced("abandoned", "inspection", work, {})
    elif job == "replacement":
        yield priced("inspection", "inspection", work, {})
    if job != "replacement" and work.workup.case.replacement is not None:
        yield priced("replacement", "replacement", work, {})


def _alternative(
    code: str, says: str, job: Job, charged: Charges, book: PriceBook, currency: Currency, bound: BoundEdition
) -> Alternative:
    bill = None if charged.flaws else make_bill(charged.items, book, currency, bound.words.quotes.titles)
    return Alternative(
        code=code,
        says=says,
        job=job,
        lines=bill.lines if bill is not None and bound.full else (),
        taxes=bill.taxes if bill is not None and bound.full else (),
        totals=None if bill is None else bill.totals,
        not_priced=tuple(NotPriced(field=flaw.pointer, says=flaw.detail) for flaw in charged.flaws),
    )
