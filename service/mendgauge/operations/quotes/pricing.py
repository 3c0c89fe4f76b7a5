"""What a job is charged for by a price book: labour, units, consumables, fees; and what of it has no price.

Nothing is given away unasked: what the job takes and no price covers is named, with the place of the missing price.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, TypeAlias

import msgspec

from mendgauge.case.price_book import FlatRate, Job, Material, PriceBook
from mendgauge.core.errors import Flaw
from mendgauge.operations.quotes.answer import Covered, NotIncluded
from mendgauge.operations.quotes.bill import Item
from mendgauge.operations.quotes.work import Work
from mendgauge.operations.work_plans.answer import ConsumableUsed, Minutes
from mendgauge.wording.quotes import QuoteWords

_HOUR: Final = 60
_REPAIR: Final[tuple[Job, ...]] = ("repair",)
CHARGED_AS_UNIT: Final = "repair_unit"
"""The work plan counts the unit among its consumables; on a bill it stands by its own code."""

Part: TypeAlias = Item | Flaw | Covered


class Charges(msgspec.Struct, frozen=True):
    """What a job is charged for, what the price of labour covers, and what has no price."""

    items: tuple[Item, ...]
    covered: tuple[Covered, ...]
    flaws: tuple[Flaw, ...]


def charges(job: Job, work: Work, book: PriceBook, words: QuoteWords) -> Charges:
    """Return everything that a job is charged for."""
    of_job = {
        "repair": _repair,
        "inspection": _inspection,
        "leak_search": _leak_search,
        "replacement": _replacement,
    }[job]
    parts = [*of_job(work, book, words), *_extras(job, book, words)]
    return Charges(
        tuple(part for part in parts if isinstance(part, Item)),
        tuple(part for part in parts if isinstance(part, Covered)),
        tuple(part for part in parts if isinstance(part, Flaw)),
    )


def not_included(work: Work, charged: Charges) -> Iterator[NotIncluded]:
    """Yield the steps and consumables of a repair that hang on an open question; a flat rate has all steps in it."""
    by_the_hour = any(item.kind == "labour" and item.per == _HOUR for item in charged.items)
    for step in work.steps.steps:
        # What no answer makes sure and is reckoned with all the same is in the price: a wheel on the vehicle.
        reckoned = step.minutes.low == 0.0 < step.minutes.likely
        if by_the_hour and step.only_if is not None and step.minutes.high > step.minutes.likely and not reckoned:
            yield NotIncluded(code=step.code, title=step.title, only_if=step.only_if)
    covered = {one.code for one in charged.covered}
    for used in work.consumables:
        if used.only_if is not None and used.code not in covered:
            yield NotIncluded(code=used.code, title=used.title, only_if=used.only_if)


def _repair(work: Work, book: PriceBook, words: QuoteWords) -> Iterator[Part]:
    rate = _flat_rate(work, book, words)
    if isinstance(rate, Flaw):
        yield rate
        return
    covers: tuple[Material, ...] = ()
    if rate is not None:
        covers = rate.covers
        times = len(work.chosen) if rate.per == "injury" else 1
        yield Item(
            kind="labour",
            code=rate.code,
            title=rate.title,
            quantity=Decimal(times),
            unit="injury" if rate.per == "injury" else "job",
            price=Decimal(rate.price),
            minutes=_minutes(work.steps.minutes, book),
        )
    elif book.labour is not None:
        covers = book.labour.covers
        yield _labour("labour", words.titles["labour"], work.steps.minutes, book)
    else:
        yield Flaw("/price_book/labour", words.unpriced["labour"].format(job=_described(work)))
    yield from _units(work, book, "unit" in covers, words)
    for used in work.consumables:
        if used.code != CHARGED_AS_UNIT and (used.only_if is None or "consumable" in covers):
            yield _consumable(used, book, "consumable" in covers, words)


def _inspection(work: Work, book: PriceBook, words: QuoteWords) -> Iterator[Part]:
    minutes, title = work.steps.to_decision, words.titles["inspection"]
    if book.inspection is not None:
        price = Decimal(book.inspection)
        yield Item(kind="inspection", code=None, title=title, price=price, minutes=_minutes(minutes, book) or None)
    elif book.labour is not None and minutes.likely > 0:
        yield _labour("inspection", title, minutes, book)
    else:
        yield Flaw("/price_book/inspection", words.unpriced["inspection"])


def _leak_search(work: Work, book: PriceBook, words: QuoteWords) -> Iterator[Part]:
    """Yield the price of an inspection where the book has one, else the minutes; nothing where there is no work."""
    if work.scope == "none":
        return
    if book.inspection is not None:
        yield from _inspection(work, book, words)
    elif book.labour is not None:
        yield _labour("inspection", words.titles["leak_search"], work.steps.minutes, book)
    else:
        yield Flaw("/price_book/inspection", words.unpriced["leak_search"])


def _replacement(work: Work, book: PriceBook, words: QuoteWords) -> Iterator[Part]:
    new = work.workup.case.replacement
    if new is None:
        yield Flaw("/replacement", words.unpriced["replacement"])
        return
    yield Item(kind="tyre", code=None, title=new.title or words.titles["tyre"], unit="piece", price=Decimal(new.price))
    if book.disposal is not None:
        yield Item(
            kind="disposal", code=None, title=words.titles["disposal"], unit="piece", price=Decimal(book.disposal)
        )


def _extras(job: Job, book: PriceBook, words: QuoteWords) -> Iterator[Item]:
    for fee in book.fees:
        if job in (fee.on or _REPAIR):
            unit = "piece" if fee.kind == "part" else "job"
            yield Item(kind=fee.kind, code=fee.code, title=fee.title, unit=unit, price=Decimal(fee.price))
    if book.call_out is not None:
        yield Item(kind="call_out", code=None, title=words.titles["call_out"], price=Decimal(book.call_out))


def _labour(kind: Job | str, title: str, minutes: Minutes, book: PriceBook) -> Item:
    assert book.labour is not None
    charged = _minutes(minutes, book)
    return Item(
        kind="inspection" if kind == "inspection" else "labour",
        code=None,
        title=title,
        quantity=_exact(charged),
        unit="minute",
        minutes=charged,
        price=Decimal(book.labour.per_hour),
        per=_HOUR,
    )


def _minutes(minutes: Minutes, book: PriceBook) -> float:
    charged: float = getattr(minutes, book.labour.minutes if book.labour else "likely")
    return charged


def _units(work: Work, book: PriceBook, covered: bool, words: QuoteWords) -> Iterator[Part]:
    pieces: dict[tuple[str, str], int] = {}
    bench = work.workup.case.bench
    filled_by_heat = bench is not None and bench.heat_cured_fill is not None
    for chosen in work.chosen:
        for piece in chosen.pieces:
            if filled_by_heat and piece.kind != "patch":
                continue  # the fill takes the place of the stem
            pieces[piece.code, piece.kind] = pieces.get((piece.code, piece.kind), 0) + 1
    for (code, kind), number in pieces.items():
        title = words.titles[kind]
        if covered:
            yield Covered(code=code, title=title, quantity=number, unit="piece")
        elif code in book.units:
            yield Item(
                kind="unit",
                code=code,
                title=title,
                quantity=Decimal(number),
                unit="piece",
                price=Decimal(book.units[code]),
            )
        else:
            yield Flaw(f"/price_book/units/{_step(code)}", words.unpriced["unit"].format(code=code))


def _consumable(used: ConsumableUsed, book: PriceBook, covered: bool, words: QuoteWords) -> Part:
    quantity = (_exact(used.low) + _exact(used.high)) / 2
    if covered:
        return Covered(code=used.code, title=used.title, quantity=float(quantity), unit=used.unit)
    if used.code in book.consumables:
        return Item(
            kind="consumable",
            code=used.code,
            title=used.title,
            quantity=quantity,
            unit=used.unit,
            price=Decimal(book.consumables[used.code]),
        )
    what = words.unpriced["consumable"].format(
        title=used.title, code=used.code, quantity=f"{float(quantity):g}", unit=used.unit
    )
    return Flaw(f"/price_book/consumables/{_step(used.code)}", what)


def _flat_rate(work: Work, book: PriceBook, words: QuoteWords) -> FlatRate | Flaw | None:
    """Return the first flat rate that fits the job; a flaw where one before it may fit, and a fact decides."""
    bench = work.workup.case.bench
    wheel = None if bench is None else bench.wheel
    unit = _unit_kind(work)
    kinds = {use.kind for use in work.workup.uses}
    for rate in book.flat_rates:
        if rate.unit not in (None, unit) or (rate.wheel is not None and wheel not in (None, rate.wheel)):
            continue
        if rate.kinds is not None and not kinds & set(rate.kinds):
            continue
        if rate.kinds is not None and not kinds <= set(rate.kinds):
            return Flaw("/vehicle/kind", words.unpriced["hangs_on_kind"].format(code=rate.code))
        if rate.wheel is not None and wheel is None:
            return Flaw("/bench/wheel", words.unpriced["hangs_on_wheel"].format(code=rate.code))
        return rate
    return None


def _unit_kind(work: Work) -> str:
    """Return the kind of the units: of two pieces as soon as one of the injuries is repaired so."""
    return "two_piece" if any(chosen.kind == "two_piece" for chosen in work.chosen) else "one_piece"


def _described(work: Work) -> str:
    """Describe the job in the words of the flat rates."""
    bench = work.workup.case.bench
    unit = {"one_piece": "one-piece unit", "two_piece": "separate stem and patch"}[_unit_kind(work)]
    wheel = {
        "on_vehicle": "wheel on the vehicle",
        "loose": "wheel brought in off the vehicle",
        None: "wheel on the vehicle or off it",
    }[None if bench is None else bench.wheel]
    kinds = dict.fromkeys(use.kind for use in work.workup.uses)
    return f"{' or '.join(kinds)}, {unit}, {wheel}"


def _exact(number: float) -> Decimal:
    """Return a number as it is printed, not as the machine keeps it."""
    return Decimal(repr(number))


def _step(code: str) -> str:
    return code.replace("~", "~0").replace("/", "~1")
