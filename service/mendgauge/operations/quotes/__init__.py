"""What the job costs: a bill by the caller's price book, what could change it, and the repair against a replacement.

A repair is priced only where the tyre may be repaired, or may yet turn out to be; where it may not, the price is that
of a replacement or of the inspection alone. What a repair would save never changes that.
"""

from __future__ import annotations

from datetime import date

from mendgauge.case.case import Case
from mendgauge.operations.quotes.answer import Quote
from mendgauge.operations.quotes.quote import quote_of
from mendgauge.operations.workup import work_up


def quote_repair(case: Case, today: date | None = None) -> Quote:
    """Return what the job costs by the price book of the case.

    `today` stands in for a missing `assessed_on`.

    Raises:
        NotPricedError: Something on the bill has no price.
        CaseError: The case has no price book, contradicts itself, names a rulebook that is not there, or sets a house
            rule looser than it.
    """
    with work_up(case, today) as workup:
        return quote_of(workup)
