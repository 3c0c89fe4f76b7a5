"""A bill: what is charged for, less discount, up to the minimum, with taxes, and lines that sum to the total.

Every line is net plus tax is gross, to the minor unit, whether the prices came with their taxes in them or without.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from decimal import Decimal
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.answers.base import open_words
from mendgauge.case.price_book import Discount, LineKind, PriceBook, Rounding, Tax
from mendgauge.core.money import Currency, to_nearest

_HUNDRED: Final = Decimal(100)
_NOTHING: Final = Decimal(0)
_JOB: Final = ("labour", "unit", "consumable")
"""What the minimum charge is the least of."""
_CALL_OUT: Final = ("call_out",)


class Item(msgspec.Struct, frozen=True, kw_only=True):
    """Something to charge for: so much of it, at a price for every `per` of it."""

    kind: LineKind
    code: str | None
    title: str
    quantity: Decimal = Decimal(1)
    unit: str = "job"
    minutes: float | None = None
    price: Decimal
    per: int = 1


class Line(msgspec.Struct, frozen=True, kw_only=True):
    """One line of a bill. Net and tax sum to gross."""

    kind: Annotated[
        str,
        Meta(
            description="What it is for.",
            examples=["labour"],
            extra_json_schema=open_words(
                "labour",
                "unit",
                "consumable",
                "part",
                "fee",
                "inspection",
                "call_out",
                "disposal",
                "tyre",
                "discount",
                "minimum_charge",
                "cash_rounding",
            ),
        ),
    ]
    code: Annotated[str | None, Meta(description="The code of what is charged; null where it has none.")]
    title: Annotated[str, Meta(description="What to print.", examples=["Puncture repair, car"])]
    quantity: Annotated[float, Meta(description="How much of it, in `unit`.", examples=[1])]
    unit: Annotated[
        str, Meta(description="Unit of the quantity: `job`, `injury`, `minute`, `piece`, `ml`.", examples=["piece"])
    ]
    minutes: Annotated[float | None, Meta(description="The minutes charged; null where time is not what is charged.")]
    unit_price: Annotated[
        str, Meta(description="Price as the book has it, for `price_per` of the unit.", examples=["29.00"])
    ]
    price_per: Annotated[int, Meta(description="How many of the unit the price is for: 60 minutes, 1 piece.")]
    net: Annotated[str, Meta(description="Without tax.", examples=["24.17"])]
    tax: Annotated[str, Meta(description="All taxes on it.", examples=["4.83"])]
    gross: Annotated[str, Meta(description="With tax.", examples=["29.00"])]


class TaxTotal(msgspec.Struct, frozen=True, kw_only=True):
    """What one tax comes to on the whole bill."""

    name: Annotated[str, Meta(description="The tax.", examples=["VAT"])]
    percent: Annotated[str, Meta(description="Its rate, %.", examples=["20"])]
    net: Annotated[str, Meta(description="What it is charged on: the net of the lines it applies to.")]
    tax: Annotated[str, Meta(description="What it comes to.")]


class Totals(msgspec.Struct, frozen=True, kw_only=True):
    """What a bill comes to: the sums of its lines."""

    net: Annotated[str, Meta(description="Without tax.", examples=["24.17"])]
    tax: Annotated[str, Meta(description="All taxes.", examples=["4.83"])]
    gross: Annotated[str, Meta(description="What is to be paid.", examples=["29.00"])]


class Bill(msgspec.Struct, frozen=True, kw_only=True):
    """The lines of a bill, its taxes and its totals.

    `amount` is what it comes to in the terms of the price book, not rounded for cash, and `call_out` a part of that.
    """

    lines: tuple[Line, ...]
    taxes: tuple[TaxTotal, ...]
    totals: Totals
    amount: Decimal
    call_out: Decimal


class _Entry(msgspec.Struct, frozen=True):
    """An amount in the terms of the price book, with or without tax, taxed as the kind of line it belongs to.

    `shares` is how much of it belongs to each kind, where it belongs to several that are taxed alike.
    """

    item: Item
    amount: Decimal
    shown_as: str
    taxed_as: LineKind
    shares: tuple[tuple[LineKind, Decimal], ...] = ()

    def of_kinds(self, kinds: Collection[str]) -> Decimal:
        """Return how much of it belongs to some kinds of line."""
        shares = self.shares or ((self.taxed_as, self.amount),)
        return sum((share for kind, share in shares if kind in kinds), _NOTHING)


class _Split(msgspec.Struct, frozen=True):
    """An entry's amount split into net and tax."""

    net: Decimal
    tax: Decimal


Amount = Callable[[Decimal], Decimal]


def make_bill(items: Iterable[Item], book: PriceBook, currency: Currency, titles: Mapping[str, str]) -> Bill:
    """Return the bill for some items by a price book.

    `titles` names the lines that no price book does, `minimum_charge` and `cash_rounding`, and what each of several
    lines of a discount is taken off.
    """
    rounding = book.rounding or Rounding()

    def rounded(amount: Decimal) -> Decimal:
        return currency.rounded(amount, rounding.half)

    entries = [_Entry(item, rounded(item.quantity * item.price / item.per), item.kind, item.kind) for item in items]
    entries += _discounts(entries, book, currency, rounded, titles)
    entries += _up_to_minimum(entries, book, titles)
    groups = _by_taxes(entries, book.taxes)
    splits: dict[int, _Split] = {}
    taxes: dict[str, tuple[Decimal, Decimal]] = {}
    for rates, members in groups.items():
        amounts = [entries[index].amount for index in members]
        split = _taxed(amounts, rates, book.prices_include_tax, rounding.tax == "total", currency, rounded)
        splits.update(zip(members, split, strict=True))
        net, tax = sum((one.net for one in split), _NOTHING), sum((one.tax for one in split), _NOTHING)
        for rate, share in zip(rates, currency.spread(tax, [Decimal(rate.percent) for rate in rates]), strict=True):
            before = taxes.get(rate.name, (_NOTHING, _NOTHING))
            taxes[rate.name] = (before[0] + net, before[1] + share)
    lines = [_line(entry, splits[index], currency) for index, entry in enumerate(entries)]
    net = sum((split.net for split in splits.values()), _NOTHING)
    tax = sum((split.tax for split in splits.values()), _NOTHING)
    cash = _NOTHING if rounding.cash_step is None else to_nearest(net + tax, Decimal(rounding.cash_step)) - net - tax
    if cash:
        item = Item(kind="fee", code=None, title=titles["cash_rounding"], price=cash)
        lines.append(_line(_Entry(item, cash, "cash_rounding", "fee"), _Split(cash, _NOTHING), currency))
    return Bill(
        lines=tuple(lines),
        taxes=tuple(
            TaxTotal(name=rate.name, percent=rate.percent, net=currency.format(on), tax=currency.format(amount))
            for rate in book.taxes
            if rate.name in taxes
            for on, amount in (taxes[rate.name],)
        ),
        totals=Totals(
            net=currency.format(net + cash), tax=currency.format(tax), gross=currency.format(net + tax + cash)
        ),
        amount=sum((entry.amount for entry in entries), _NOTHING),
        call_out=sum((entry.of_kinds(_CALL_OUT) for entry in entries), _NOTHING),
    )


def _discounts(
    entries: Sequence[_Entry], book: PriceBook, currency: Currency, rounded: Amount, titles: Mapping[str, str]
) -> list[_Entry]:
    """Return what is taken off: one line, or where it is taken off what is taxed apart, one for each set of taxes."""
    discount = book.discount
    if discount is None:
        return []
    taken_off = [one for one in entries if one.amount and (discount.on is None or one.taxed_as in discount.on)]
    groups = [
        (rates, _by_kind(taken_off[index] for index in members))
        for rates, members in _by_taxes(taken_off, book.taxes).items()
    ]
    sums = [sum(by_kind.values(), _NOTHING) for _, by_kind in groups]
    if discount.percent is not None:
        share = Decimal(discount.percent) / _HUNDRED
        off = [rounded(amount * share) for amount in sums]
    else:
        off = currency.spread(min(Decimal(discount.amount or 0), sum(sums, _NOTHING)), sums)
    lines = [(*group, amount) for group, amount in zip(groups, off, strict=True) if amount]
    return [
        _discount(_title(discount, rates, titles) if len(lines) > 1 else discount.title, by_kind, amount, currency)
        for rates, by_kind, amount in lines
    ]


def _by_kind(entries: Iterable[_Entry]) -> dict[LineKind, Decimal]:
    found: dict[LineKind, Decimal] = {}
    for entry in entries:
        found[entry.taxed_as] = found.get(entry.taxed_as, _NOTHING) + entry.amount
    return found


def _discount(title: str, by_kind: Mapping[LineKind, Decimal], amount: Decimal, currency: Currency) -> _Entry:
    """Return a line that takes so much off what several kinds of line come to, off each by its share."""
    kind = next(iter(by_kind))
    parts = currency.spread(amount, list(by_kind.values()))
    shares = tuple((of, -part) for of, part in zip(by_kind, parts, strict=True))
    return _Entry(Item(kind=kind, code=None, title=title, price=-amount), -amount, "discount", kind, shares)


def _title(discount: Discount, rates: tuple[Tax, ...], titles: Mapping[str, str]) -> str:
    """Return the title of one of several lines of a discount, which names the taxes on what it is taken off."""
    taxes = ", ".join(f"{rate.name} {rate.percent}%" for rate in rates)
    return titles["discount_taxed" if rates else "discount_untaxed"].format(title=discount.title, taxes=taxes)


def _up_to_minimum(entries: Sequence[_Entry], book: PriceBook, titles: Mapping[str, str]) -> list[_Entry]:
    """Return what a job is short of the minimum charge; taxed as labour."""
    if book.minimum_charge is None or all(entry.taxed_as not in _JOB for entry in entries):
        return []
    short = Decimal(book.minimum_charge) - sum((entry.of_kinds(_JOB) for entry in entries), _NOTHING)
    if short <= 0:
        return []
    item = Item(kind="labour", code=None, title=titles["minimum_charge"], price=short)
    return [_Entry(item, short, "minimum_charge", "labour")]


def _by_taxes(entries: Sequence[_Entry], taxes: Sequence[Tax]) -> dict[tuple[Tax, ...], list[int]]:
    """Return the entries, by place, that the same taxes apply to."""
    groups: dict[tuple[Tax, ...], list[int]] = {}
    for index, entry in enumerate(entries):
        rates = tuple(tax for tax in taxes if tax.on is None or entry.taxed_as in tax.on)
        groups.setdefault(rates, []).append(index)
    return groups


def _taxed(
    amounts: Sequence[Decimal],
    rates: tuple[Tax, ...],
    inclusive: bool,
    on_total: bool,
    currency: Currency,
    rounded: Amount,
) -> list[_Split]:
    """Split amounts that the same taxes apply to into net and tax."""
    rate = sum((Decimal(tax.percent) for tax in rates), _NOTHING) / _HUNDRED

    exact = [amount * rate / (1 + rate) if inclusive else amount * rate for amount in amounts]
    whole = sum(amounts, _NOTHING)
    if on_total:
        total = whole - rounded(whole / (1 + rate)) if inclusive else rounded(whole * rate)
        taxes = currency.settle(total, exact)
    elif inclusive:
        taxes = [amount - rounded(amount / (1 + rate)) for amount in amounts]
    else:
        taxes = [rounded(amount) for amount in exact]
    return [
        _Split(amount - tax, tax) if inclusive else _Split(amount, tax)
        for amount, tax in zip(amounts, taxes, strict=True)
    ]


def _line(entry: _Entry, split: _Split, currency: Currency) -> Line:
    item = entry.item
    return Line(
        kind=entry.shown_as,
        code=item.code,
        title=item.title,
        quantity=float(item.quantity),
        unit=item.unit,
        minutes=item.minutes,
        unit_price=currency.format(item.price),
        price_per=item.per,
        net=currency.format(split.net),
        tax=currency.format(split.tax),
        gross=currency.format(split.net + split.tax),
    )
