"""A shop's prices, as it sends them with a case: what it charges for, with which taxes, rounded how."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Annotated, Literal, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.core.errors import Flaw
from mendgauge.core.money import Currency, Half, Percent, Price, find_currency
from mendgauge.core.vocabulary import RequestModel, VehicleKind, WheelComes

LineKind: TypeAlias = Literal[
    "labour", "unit", "consumable", "part", "fee", "inspection", "call_out", "disposal", "tyre"
]
"""What a line of a bill is for."""

Job: TypeAlias = Literal["repair", "inspection", "leak_search", "replacement"]
Material: TypeAlias = Literal["unit", "consumable"]
Minutes: TypeAlias = Literal["low", "likely", "high"]
RepairUnitKind: TypeAlias = Literal["one_piece", "two_piece"]

_Covers: TypeAlias = Annotated[
    tuple[Material, ...],
    Meta(
        max_length=2,
        description="What the price has in it already: repair units, consumables. What is not named here is charged "
        "for by its own price.",
        examples=[["consumable"]],
    ),
]


class LabourRate(RequestModel, frozen=True, kw_only=True):
    """Labour by the hour, for the minutes of the work plan."""

    per_hour: Annotated[Price, Meta(description="Price of an hour.", examples=["54.00"])]
    minutes: Annotated[
        Minutes, Meta(description="Which minutes of the work plan are charged.", examples=["likely"])
    ] = "likely"
    covers: _Covers = ()


class FlatRate(RequestModel, frozen=True, kw_only=True):
    """One price for the labour of a job, whatever its minutes. The first that fits the job is charged."""

    code: Annotated[
        str, Meta(min_length=1, max_length=60, description="The shop's own code for the job.", examples=["CAR-REP"])
    ]
    title: Annotated[
        str,
        Meta(
            min_length=1, max_length=80, description="What is printed on the bill.", examples=["Puncture repair, car"]
        ),
    ]
    price: Annotated[Price, Meta(description="Price of the job.", examples=["29.00"])]
    kinds: Annotated[
        Annotated[tuple[VehicleKind, ...], Meta(min_length=1, max_length=6)] | None,
        Meta(description="Kinds of vehicle it is for. Left out: all.", examples=[["car", "van"]]),
    ] = None
    unit: Annotated[RepairUnitKind | None, Meta(description="For repairs of one piece or of two. Left out: both.")] = (
        None
    )
    wheel: Annotated[
        WheelComes | None, Meta(description="For wheels that come so. Left out: both.", examples=["loose"])
    ] = None
    per: Annotated[
        Literal["tyre", "injury"],
        Meta(description="Charged once for the tyre, or for each injury repaired.", examples=["tyre"]),
    ] = "tyre"
    covers: _Covers = ()


class Fee(RequestModel, frozen=True, kw_only=True):
    """A fixed charge that comes with a job."""

    code: Annotated[str, Meta(min_length=1, max_length=60, description="The shop's own code.", examples=["ENV"])]
    title: Annotated[
        str, Meta(min_length=1, max_length=80, description="What is printed on the bill.", examples=["Valve, rubber"])
    ]
    price: Annotated[Price, Meta(description="The charge.", examples=["2.50"])]
    kind: Annotated[
        Literal["fee", "part"], Meta(description="A fee, or a part that is sold; taxes may differ between them.")
    ] = "fee"
    on: Annotated[
        Annotated[tuple[Job, ...], Meta(min_length=1, max_length=4)] | None,
        Meta(description="The jobs it comes with. Left out: a repair.", examples=[["repair", "replacement"]]),
    ] = None


class Discount(RequestModel, frozen=True, kw_only=True):
    """What is taken off: a share, or an amount of money, as far as there is something to take it off.

    It is one line of the bill; taken off what is taxed apart, one for each set of taxes, which its title then names.
    """

    title: Annotated[
        str, Meta(min_length=1, max_length=80, description="What is printed on the bill.", examples=["Fleet discount"])
    ]
    percent: Annotated[Percent | None, Meta(description="The share taken off, %.", examples=["10"])] = None
    amount: Annotated[Price | None, Meta(description="The amount taken off.", examples=["5.00"])] = None
    on: Annotated[
        Annotated[tuple[LineKind, ...], Meta(min_length=1, max_length=9)] | None,
        Meta(description="What it is taken off. Left out: everything.", examples=[["labour"]]),
    ] = None


class Tax(RequestModel, frozen=True, kw_only=True):
    """A tax on all or some of a bill. Several on one line are added, not compounded."""

    name: Annotated[str, Meta(min_length=1, max_length=40, description="Its name on the bill.", examples=["VAT"])]
    percent: Annotated[Percent, Meta(description="Its rate, %.", examples=["20"])]
    on: Annotated[
        Annotated[tuple[LineKind, ...], Meta(min_length=1, max_length=9)] | None,
        Meta(description="What it is charged on. Left out: everything.", examples=[["unit", "consumable", "part"]]),
    ] = None


class Rounding(RequestModel, frozen=True, kw_only=True):
    """How amounts are rounded to the smallest unit of the currency."""

    half: Annotated[
        Half, Meta(description="What becomes of an exact half: `up`, or to the `even` neighbour.", examples=["up"])
    ] = "up"
    tax: Annotated[
        Literal["line", "total"],
        Meta(description="Whether tax is rounded on each line, or on the total and then spread over the lines."),
    ] = "line"
    cash_step: Annotated[
        Price | None,
        Meta(description="Smallest step that is paid in cash; the difference is a line of its own.", examples=["0.05"]),
    ] = None


class PriceBook(RequestModel, frozen=True, kw_only=True):
    """A shop's prices. Money is decimal text, such as `"29.00"`."""

    currency: Annotated[
        str,
        Meta(
            pattern=r"^[A-Z]{3}\Z",
            max_length=3,
            description="Currency of every price, by its ISO 4217 code.",
            examples=["GBP"],
        ),
    ]
    prices_include_tax: Annotated[
        bool, Meta(description="Whether the prices have the taxes in them.", examples=[True])
    ] = False
    labour: Annotated[LabourRate | None, Meta(description="Labour by the hour, where no flat rate fits.")] = None
    flat_rates: Annotated[
        tuple[FlatRate, ...],
        Meta(max_length=50, description="Flat rates by job. They come before the labour rate."),
    ] = ()
    minimum_charge: Annotated[
        Price | None,
        Meta(
            description="The least that labour, units and consumables of a repair come to once discounted.",
            examples=["20.00"],
        ),
    ] = None
    units: Annotated[
        dict[str, Price],
        Meta(
            max_length=400,
            description="Price of one repair unit, stem or patch, by its code in `stock` or that of a generic size.",
            examples=[{"U-6": "3.40"}],
        ),
    ] = msgspec.field(default_factory=dict)
    consumables: Annotated[
        dict[str, Price],
        Meta(
            max_length=100,
            description="Price by the code of the consumable in the work plan, for 1 ml or 1 piece as planned.",
            examples=[{"cement": "0.12"}],
        ),
    ] = msgspec.field(default_factory=dict)
    fees: Annotated[tuple[Fee, ...], Meta(max_length=50, description="Fixed charges.")] = ()
    inspection: Annotated[
        Price | None,
        Meta(
            description="Price of an inspection that ends without a repair. Left out: its minutes at the labour rate.",
            examples=["12.00"],
        ),
    ] = None
    call_out: Annotated[
        Price | None, Meta(description="Charge for going out. Left out: the tyre is at the shop.", examples=["35.00"])
    ] = None
    disposal: Annotated[
        Price | None, Meta(description="Charge for a scrap tyre; on a replacement alone.", examples=["2.50"])
    ] = None
    discount: Annotated[Discount | None, Meta(description="What is taken off. Left out: nothing.")] = None
    taxes: Annotated[tuple[Tax, ...], Meta(max_length=8, description="Taxes. Left out: none is charged.")] = ()
    rounding: Annotated[
        Rounding | None, Meta(description="How amounts are rounded. Left out: by the line, a half up.")
    ] = None
    valid_days: Annotated[
        Annotated[float, Meta(ge=0, le=366, multiple_of=1)] | None,
        Meta(description="How many days a quote holds, counted from `assessed_on`.", examples=[14]),
    ] = None


def currency_of(book: PriceBook) -> Currency | None:
    """Return the book's currency, where it is one that can be paid in."""
    return find_currency(book.currency)


def price_book_flaws(book: PriceBook) -> Iterator[Flaw]:
    """Yield what is wrong with a price book that keeps to the contract's words."""
    currency = currency_of(book)
    if currency is None:
        yield Flaw(
            "/price_book/currency",
            f"{book.currency} is no currency to pay in: ISO 4217 lists none of this code that has a minor unit.",
        )
        return
    for place, price in _whole_amounts(book):
        if price is not None and not currency.holds(Decimal(price)):
            yield Flaw(f"/price_book/{place}", too_fine(currency, price))
    yield from _discount_flaws(book.discount)
    for name, codes in (
        ("flat_rates/{}/code", [rate.code for rate in book.flat_rates]),
        ("fees/{}/code", [fee.code for fee in book.fees]),
        ("taxes/{}/name", [tax.name for tax in book.taxes]),
    ):
        for index, code in enumerate(codes):
            if code in codes[:index]:
                yield Flaw(f"/price_book/{name.format(index)}", f"{code!r} comes twice; each needs a name of its own.")
    if book.rounding and book.rounding.cash_step is not None and not Decimal(book.rounding.cash_step):
        yield Flaw("/price_book/rounding/cash_step", "A step of nothing cannot be paid; leave it out for no rounding.")


def _whole_amounts(book: PriceBook) -> Iterator[tuple[str, str | None]]:
    """Yield the prices that stand on a bill as they are, and so must be payable to the last place."""
    for name in ("minimum_charge", "inspection", "call_out", "disposal"):
        yield name, getattr(book, name)
    for index, rate in enumerate(book.flat_rates):
        yield f"flat_rates/{index}/price", rate.price
    for index, fee in enumerate(book.fees):
        yield f"fees/{index}/price", fee.price
    if book.discount:
        yield "discount/amount", book.discount.amount
    if book.rounding:
        yield "rounding/cash_step", book.rounding.cash_step


def too_fine(currency: Currency, price: str) -> str:
    """Return why a price cannot stand on a bill."""
    places = f"{currency.digits} decimal places" if currency.digits else "no decimal places"
    return f"{price} cannot be paid: {currency.code} has {places} (ISO 4217)."


def _discount_flaws(discount: Discount | None) -> Iterator[Flaw]:
    if discount and (discount.percent is None) == (discount.amount is None):
        yield Flaw("/price_book/discount", "Give either `percent` or `amount`: a discount is one of the two.")
