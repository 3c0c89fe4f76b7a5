"""The repair held against a replacement, for every depth that the case leaves possible."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from decimal import Decimal
from itertools import islice, product
from typing import Final, Literal, TypeAlias

from mendgauge.answers.figure import Span, tidy
from mendgauge.case.case import Case
from mendgauge.case.price_book import too_fine
from mendgauge.case.replacement import Replacement
from mendgauge.case.service import MATES_MAX, AxleMate
from mendgauge.core.errors import Flaw
from mendgauge.core.interval import Interval
from mendgauge.core.money import Currency
from mendgauge.facts.given import measured
from mendgauge.operations.quotes.answer import CostPerDistance, HangsOn, MoneySpan, RepairOrReplace
from mendgauge.operations.quotes.worth import (
    Input,
    Stake,
    break_even_depth,
    cost_per_distance_new,
    cost_per_distance_repaired,
    gain,
    lost_on_mates,
    share_worn,
    tread_value,
    turns,
    value_left,
    value_per_depth,
    worth_paying,
)
from mendgauge.operations.work_plans.answer import Minutes
from mendgauge.operations.workup import Workup
from mendgauge.rulebooks.resolver import provision_for
from mendgauge.rulebooks.schema.worth import WornOut
from mendgauge.wording.quantities import quantity
from mendgauge.wording.quotes import QuoteWords

Allowed: TypeAlias = Literal["offered", "conditional", "no_unit", "specialist", "not_covered", "withheld"]
"""What the rules, and the stock, let become of the tyre."""

_FIELDS: Final[dict[Input, tuple[str, str]]] = {
    "repair": ("/price_book", ""),
    "remaining": ("/tyre/tread_depth_mm", "mm"),
    "price": ("/replacement/price", ""),
    "casing": ("/replacement/casing_value", ""),
    "new": ("/tyre/new_tread_depth_mm", "mm"),
    "pull": ("/replacement/pull_point_mm", "mm"),
    "failure_share": ("/replacement/failure_percent", "%"),
    "failure_cost": ("/replacement/failure_cost", ""),
    "downtime": ("/replacement/downtime", ""),
}
"""Where each input stands in the case, and its unit; money where it has none."""

_HUNDRED: Final = Decimal(100)
_NO_REPAIR: Final = Decimal(0)
_LEAST_RUN_OFF_MM: Final = 0.1
"""What a tread gauge reads: over less than that, the worth of a millimetre means nothing."""
_MOST_PERCENT: Final = 1_000_000


def replacement_flaws(workup: Workup, currency: Currency) -> Iterator[Flaw]:
    """Yield what is wrong with the replacement of a case."""
    case, replacement = workup.case, workup.case.replacement
    if replacement is None:
        return
    if not currency.holds(Decimal(replacement.price)):
        yield Flaw("/replacement/price", too_fine(currency, replacement.price))
    if Decimal(replacement.casing_value) >= Decimal(replacement.price):
        yield Flaw(
            "/replacement/casing_value", f"A worn casing is worth less than the new tyre's price, {replacement.price}."
        )
    if case.tyre.new_tread_depth_mm is not None:
        least, pull = (
            measured(case.tyre.new_tread_depth_mm, Interval(0.0, 0.0)).low,
            float(_pull_point(workup, replacement)),
        )
        if least - pull < _LEAST_RUN_OFF_MM:
            field = "/tyre/new_tread_depth_mm" if replacement.pull_point_mm is None else "/replacement/pull_point_mm"
            what = (
                f"A tyre is taken off at {pull:g} mm of tread, and the new one may have no more than {least:g} mm: "
                f"there must be {_LEAST_RUN_OFF_MM:g} mm at least to run off."
            )
            yield Flaw(field, what)


def compare(
    workup: Workup,
    replacement: Replacement,
    repair: Decimal | None,
    allowed: Allowed,
    takes: Minutes,
    currency: Currency,
    words: QuoteWords,
) -> RepairOrReplace:
    """Return the repair against the replacement.

    `repair` is its price in the terms of the price book, without what is paid either way; `takes` how long it takes.
    The tread depth of a new tyre must be known.
    """
    stakes = _stakes(workup, replacement, repair, takes)
    gains = [gain(stake) for stake in stakes]
    least, most = min(gains), max(gains)
    nearest = stakes[gains.index(most if most < 0 else least)]
    recommendation, decided_by, says = _recommend(allowed, least, most)

    def money(amount: Callable[[Stake], Decimal]) -> MoneySpan:
        return _span((amount(stake) for stake in stakes), currency)

    def amount(value: Decimal) -> str:
        return f"{currency.format(currency.rounded(value))} {currency.code}"

    bound, priced = workup.bound, repair is not None
    turning = _hangs_on(nearest, currency, words) if priced and decided_by == "cost" else iter(())
    provenance = bound.provenance("common_practice", words.worth["source"])
    return RepairOrReplace(
        recommendation=recommendation,
        decided_by=decided_by,
        says=words.worth[says].format(
            gain=amount(-most if recommendation == "replace" else least),
            worth=amount(min(worth_paying(stake) for stake in stakes)),
            low=amount(least),
            high=amount(most),
        ),
        gain=money(gain) if priced else None,
        value_per_mm=money(value_per_depth) if bound.full else None,
        tread_value=money(tread_value) if bound.full else None,
        value_left=money(value_left),
        worth_paying=money(worth_paying),
        break_even_mm=_depths(map(break_even_depth, stakes)) if priced else None,
        worn_percent=_worn_percent(stakes, workup) if bound.full else None,
        replaced_with_it=max(len(stake.mates) for stake in stakes),
        lost_on_others=money(lost_on_mates) if bound.full else None,
        cost_per_distance=_per_distance(stakes, replacement, priced),
        hangs_on=tuple(turning if bound.full else islice(turning, 1)),
        basis=provenance.basis,
        source=provenance.source,
    )


def _worn_percent(stakes: list[Stake], workup: Workup) -> Span:
    worn_out = Decimal(repr(_worn_out(workup)))
    return _depths(share_worn(stake.new, stake.remaining, worn_out) * _HUNDRED for stake in stakes)


def _recommend(allowed: Allowed, least: Decimal, most: Decimal) -> tuple[str, str, str]:
    """Return the recommendation, what decides, and the words for it."""
    if allowed == "withheld":
        return "replace", "rules", "replace_by_rule"
    if allowed == "specialist":
        return "specialist_or_replace", "rules", "specialist_or_replace"
    if allowed == "not_covered":
        return "ask_the_maker_or_replace", "rules", "ask_the_maker_or_replace"
    if allowed == "no_unit":
        return "replace", "stock", "replace_no_unit"
    if most < 0:
        return "replace", "cost", "replace"
    if least <= 0:
        return "open", "cost", "open"
    word = "repair" if allowed == "offered" else "repair_if_it_passes"
    return word, "cost", word


def _stakes(workup: Workup, replacement: Replacement, repair: Decimal | None, takes: Minutes) -> list[Stake]:
    """Return what is at stake at every corner of what the depths may be; being monotone, all else lies between."""
    case = workup.case
    pull = _pull_point(workup, replacement)
    depths = [tyre.tread_depth for tyre in workup.facts]
    left = Interval(min(one.low for one in depths), max(one.high for one in depths))
    new = measured(case.tyre.new_tread_depth_mm, left)
    mates = _may_be_replaced(_mates(case), replacement, new)
    return [
        Stake(
            price=Decimal(replacement.price),
            casing=Decimal(replacement.casing_value),
            new=at_new,
            pull=pull,
            remaining=min(remaining, at_new),
            repair=_NO_REPAIR if repair is None else repair,
            failure_share=Decimal(repr(replacement.failure_percent)) / _HUNDRED,
            failure_cost=Decimal(replacement.failure_cost),
            downtime=_downtime(replacement, takes),
            mates=tuple(mate for mate in at_mates if mate is not None),
        )
        for remaining, at_new in product(_ends(left), _ends(new))
        for at_mates in product(*mates)
    ]


def _mates(case: Case) -> tuple[AxleMate, ...]:
    """Return the other tyres of the axle; as many unknown ones as there may be, where the case names none."""
    if case.in_service is not None and case.in_service.axle_mates is not None:
        return case.in_service.axle_mates
    single = case.position is not None and case.position.fitment == "single"
    return (AxleMate(),) * (1 if single else MATES_MAX)


def _may_be_replaced(
    mates: Iterable[AxleMate], replacement: Replacement, new: Interval
) -> list[tuple[Decimal | None, ...]]:
    """Return what the tread of each other tyre may be if it is replaced too, with none where it may stay."""
    most = replacement.largest_tread_difference_mm
    if most is None:
        return []
    found: list[tuple[Decimal | None, ...]] = []
    for mate in mates:
        depth = measured(mate.tread_depth_mm, Interval(0.0, new.high))
        may_stay = new.low - depth.high <= most
        must_go = Interval(depth.low, min(depth.high, new.high - most))
        ends: tuple[Decimal | None, ...] = _ends(must_go) if must_go.low < new.high - most else ()
        found.append((*ends, *((None,) if may_stay else ())))
    return found


def _ends(depth: Interval) -> tuple[Decimal, ...]:
    return tuple(dict.fromkeys((Decimal(repr(depth.low)), Decimal(repr(depth.high)))))


def _pull_point(workup: Workup, replacement: Replacement) -> Decimal:
    """Return the tread at which the tyre is taken off."""
    return Decimal(repr(_worn_out(workup) if replacement.pull_point_mm is None else replacement.pull_point_mm))


def _worn_out(workup: Workup) -> float:
    """Return the tread left at which the tyre counts as worn out; the deepest where its class is open."""
    classes = {use.tyre_class for use in workup.uses}
    entries: list[WornOut] = [provision_for(workup.edition, "worn_out", of) for of in classes]
    return max(entry.at_mm for entry in entries)


def _downtime(replacement: Replacement, takes: Minutes) -> Decimal:
    """Return what standing costs more for a repair than for a replacement."""
    downtime = replacement.downtime
    if downtime is None:
        return Decimal(0)
    repair = takes.likely if downtime.repair_minutes is None else downtime.repair_minutes
    minutes = Decimal(repr(repair)) - Decimal(repr(downtime.replacement_minutes))
    return minutes * Decimal(downtime.cost_per_hour) / 60


def _per_distance(stakes: list[Stake], replacement: Replacement, priced: bool) -> CostPerDistance | None:
    if replacement.distance_per_mm is None:
        return None
    per_mm = Decimal(repr(replacement.distance_per_mm))
    repaired = [cost_per_distance_repaired(stake, per_mm) for stake in stakes] if priced else []
    known = [cost for cost in repaired if cost is not None]
    return CostPerDistance(
        unit=replacement.distance_unit,
        new=_fine_span(cost_per_distance_new(stake, per_mm) for stake in stakes),
        repaired=_fine_span(known) if known and len(known) == len(repaired) else None,
    )


def _hangs_on(stake: Stake, currency: Currency, words: QuoteWords) -> Iterator[HangsOn]:
    for turn in turns(stake):
        field, unit = _FIELDS[turn.input]
        scale = _HUNDRED if turn.input == "failure_share" else Decimal(1)
        now, at = turn.now * scale, turn.turns_at * scale

        def amount(value: Decimal, *, money: bool = not unit) -> str:
            return currency.format(currency.rounded(value)) if money else format(round(value, 2) + 0, ".2f")

        def in_words(value: Decimal, *, unit: str = unit) -> str:
            if not unit:
                return f"{amount(value, money=True)} {currency.code}"
            return quantity(float(value), float(value), unit, words.language, tread=True)

        yield HangsOn(
            field=field,
            unit=unit or currency.code,
            now=amount(now),
            turns_at=amount(at),
            by=amount(at - now),
            by_percent=_percent(now, at),
            says=words.inputs["turns"].format(
                input=words.inputs[turn.input],
                now=in_words(now),
                at=in_words(at),
            ),
        )


def _percent(now: Decimal, at: Decimal) -> float | None:
    """Return a change in percent of what is; none of nothing, or next to nothing."""
    if not now or abs(at - now) * _HUNDRED > abs(now) * _MOST_PERCENT:
        return None
    return round(float((at - now) / abs(now) * _HUNDRED), 1) + 0.0


def _span(amounts: Iterable[Decimal], currency: Currency) -> MoneySpan:
    found = list(amounts)
    return MoneySpan(
        low=currency.format(currency.rounded(min(found))), high=currency.format(currency.rounded(max(found)))
    )


def _fine_span(amounts: Iterable[Decimal]) -> MoneySpan:
    """Return the span of costs per distance, to a ten-thousandth: they are small."""
    found = [format(round(amount, 4) + 0, "f") for amount in sorted(amounts)]
    return MoneySpan(low=found[0], high=found[-1])


def _depths(depths: Iterable[Decimal]) -> Span:
    found = [float(depth) for depth in depths]
    return Span(low=tidy(min(found)), high=tidy(max(found)))
