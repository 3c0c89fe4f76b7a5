"""A till at a tyre counter: it says which unit to take from the shop's own shelf, and prints the quote.

Run it with `python -m examples.till`; it starts a service of its own and stops it again. The shop, its shelf, its
prices and the morning's customers are in `till.json`.
"""

from __future__ import annotations

import signal
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from textwrap import wrap

import msgspec

from examples.own_service import own_service
from mendgauge_client import (
    Alternative,
    InvalidRequestError,
    Line,
    Mendgauge,
    PriceBook,
    Quote,
    RepairPlan,
    Replacement,
    StockUnit,
    TyreCase,
)

SHOP = Path(__file__).with_suffix(".json")
WIDTH = 64


class Customer(msgspec.Struct, forbid_unknown_fields=True):
    """Somebody at the counter: who, what is known of the tyre, and what a new one would cost."""

    name: str
    case: TyreCase
    replacement: Replacement | None = None


class Shop(msgspec.Struct, forbid_unknown_fields=True):
    """A shop with its shelf and its prices, and a morning's customers."""

    name: str
    town: str
    day: date
    stock: list[StockUnit]
    price_book: PriceBook
    customers: list[Customer]


def read_shop(path: Path = SHOP) -> Shop:
    """Return the shop of a file."""
    return msgspec.json.decode(path.read_bytes(), type=Shop)


def cases(shop: Shop) -> list[TyreCase]:
    """Return the customers' cases, each with the shop's shelf and prices."""
    for customer in shop.customers:
        customer.case.assessed_on = shop.day
        customer.case.stock = shop.stock
        customer.case.price_book = shop.price_book
        customer.case.replacement = customer.replacement
    return [customer.case for customer in shop.customers]


def receipt(plan: RepairPlan) -> Iterator[str]:
    """Yield what the till prints of one tyre: what to fetch, what it costs, what could change, what to know."""
    quote = plan.quote
    if quote is None:
        yield from _wrapped("", next(part.says for part in plan.absent if part.part == "quote"))
        return
    yield from _wrapped("", quote.says)
    for code in picked(plan):
        yield f"From the shelf: {code}"
    yield ""
    yield from map(_priced, quote.lines)
    yield "-" * WIDTH
    for tax in quote.taxes:
        yield _sum(f"of which {tax.name} {tax.percent} % on {tax.net}", tax.tax)
    yield _sum(f"To pay, {quote.currency}", quote.totals.gross)
    yield ""
    yield from _changes(quote)
    if quote.repair_or_replace:
        yield from _wrapped("Worth it? ", quote.repair_or_replace.says)
        for hang in quote.repair_or_replace.hangs_on[:1]:
            yield from _wrapped("  ", hang.says)
    for caveat in quote.caveats:
        yield from _wrapped("* ", caveat.says)


def picked(plan: RepairPlan) -> list[str]:
    """Return the codes of what to take from the shelf; nothing where no repair is made."""
    if plan.repair_units is None or plan.quote is None or plan.quote.job != "repair":
        return []
    choices = [unit.choices[0] for unit in plan.repair_units.injuries if unit.choices]
    return [piece.code for choice in choices if choice.chosen for piece in choice.chosen.pieces]


def _changes(quote: Quote) -> Iterator[str]:
    for change in quote.alternatives:
        yield from _wrapped("Or: ", change.says)
        yield _sum("", _total(change, quote.currency))


def _total(change: Alternative, currency: str) -> str:
    return f"{change.totals.gross} {currency}" if change.totals else "no price"


def _priced(line: Line) -> str:
    counted = line.quantity != 1 or line.price_per != 1
    quantity = f" ({line.quantity:g} {line.unit} at {line.unit_price}" if counted else ""
    per = f" for {line.price_per}" if line.price_per != 1 else ""
    return _sum(f"{line.title}{quantity}{per}{')' if counted else ''}", line.gross)


def _sum(title: str, amount: str) -> str:
    return f"{title[: WIDTH - len(amount) - 2]:<{WIDTH - len(amount)}}{amount}"


def _wrapped(head: str, says: str) -> list[str]:
    return wrap(says, WIDTH, initial_indent=head, subsequent_indent=" " * len(head))


def quotes(shop: Shop, service: Mendgauge) -> Iterator[str]:
    """Yield what the till prints of every customer's tyre."""
    for customer, case in zip(shop.customers, cases(shop), strict=True):
        yield f"{shop.name}, {shop.town}".center(WIDTH).rstrip()
        yield f"{customer.name}: {case.tyre.marking}".center(WIDTH).rstrip()
        yield "=" * WIDTH
        try:
            yield from receipt(service.plan_repair(case))
        except InvalidRequestError as refusal:  # a price that the book lacks, a slip of the keyboard: each is named
            yield from (line for fault in refusal.faults for line in _wrapped("! ", fault.detail))
        yield ""


def main() -> int:
    """Print the morning's quotes, and return the exit status."""
    with own_service() as service:  # where one runs already: `with Mendgauge("http://…") as service:`
        sys.stdout.writelines(f"{line}\n" for line in quotes(read_shop(), service))
    return 0


if __name__ == "__main__":
    # Whoever ends the till ends its service too: a SIGTERM unwinds the `with` as Ctrl-C does.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
