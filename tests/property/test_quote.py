"""A bill adds up in whatever currency and by whatever book; and no saving makes a repair of what may not be one."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, Final

import msgspec
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.property.cases import Drawn, full_cases
from tests.property.effort import share
from tests.property.judging import Json

from mendgauge.case.case import Case
from mendgauge.case.price_book import LineKind, PriceBook, currency_of
from mendgauge.core.errors import CaseError, NotPricedError
from mendgauge.core.money import Currency
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.quotes.bill import Bill, Item, make_bill
from mendgauge.operations.quotes.worth import Stake, break_even_depth, gain, turns, worth_paying
from mendgauge.operations.repairability import check_repairability
from mendgauge.wording import wording

WORDS: Final = wording("en-GB").quotes.titles
KINDS: Final[tuple[LineKind, ...]] = (
    "labour",
    "unit",
    "consumable",
    "part",
    "fee",
    "inspection",
    "call_out",
    "disposal",
    "tyre",
)

prices = st.decimals(0, 5000, places=2).map(lambda price: format(price, "f"))
percents = st.decimals(0, 30, places=2).map(lambda percent: format(percent, "f"))
some_kinds = st.none() | st.lists(st.sampled_from(KINDS), min_size=1, max_size=5, unique=True)


@st.composite
def items(draw: st.DrawFn, price: st.SearchStrategy[str] = prices) -> list[Item]:
    """Things to charge for, by the piece, by the millilitre and by the hour."""
    found = []
    for kind in draw(st.lists(st.sampled_from(KINDS), min_size=1, max_size=8)):
        per = 60 if kind == "labour" else 1
        quantity = draw(st.integers(1, 240 if kind == "labour" else 12))
        found.append(
            Item(kind=kind, code=None, title=kind, quantity=Decimal(quantity), price=Decimal(draw(price)), per=per)
        )
    return found


@st.composite
def books(draw: st.DrawFn) -> Json:
    """Price books of every currency's kind, with taxes, discounts, minimum charges and rounding of every kind."""
    currency = draw(st.sampled_from(("GBP", "CHF", "JPY", "BHD")))
    whole = st.integers(1, 200).map(str)
    book: Json = {
        "currency": currency,
        "prices_include_tax": draw(st.booleans()),
        "taxes": [
            {"name": f"Tax {index}", "percent": draw(percents), "on": draw(some_kinds)}
            for index in range(draw(st.integers(0, 3)))
        ],
        "rounding": {
            "half": draw(st.sampled_from(("up", "even"))),
            "tax": draw(st.sampled_from(("line", "total"))),
            "cash_step": draw(st.sampled_from((None, "5") if currency == "JPY" else (None, "0.05", "1"))),
        },
        "minimum_charge": draw(st.none() | whole),
    }
    if draw(st.booleans()):
        taken = {"percent": draw(percents)} if draw(st.booleans()) else {"amount": draw(whole)}
        book["discount"] = {"title": "Off", "on": draw(some_kinds), **taken}
    return book


def bill(charged: list[Item], book: Json) -> tuple[Bill, Currency]:
    prices = msgspec.convert(book, PriceBook)
    currency = currency_of(prices)
    assert currency is not None
    return make_bill(charged, prices, currency, WORDS), currency


@share(0.4)
@given(items(), books())
def test_the_lines_sum_to_the_total_to_the_minor_unit(charged: list[Item], book: Json) -> None:
    billed, currency = bill(charged, book)
    for line in billed.lines:
        assert Decimal(line.net) + Decimal(line.tax) == Decimal(line.gross)
    for column in ("net", "tax", "gross"):
        amounts = [Decimal(getattr(line, column)) for line in billed.lines]
        assert sum(amounts) == Decimal(getattr(billed.totals, column))
        assert all(currency.holds(amount) for amount in amounts)
    assert sum(Decimal(tax.tax) for tax in billed.taxes) == Decimal(billed.totals.tax)


@share(0.4)
@given(items(), books())
def test_each_line_is_what_its_quantity_and_price_come_to(charged: list[Item], book: Json) -> None:
    billed, currency = bill(charged, book)
    terms = "gross" if book["prices_include_tax"] else "net"
    for item, line in zip(charged, billed.lines, strict=False):
        exact = item.quantity * item.price / item.per
        assert abs(Decimal(getattr(line, terms)) - exact) <= currency.minor_unit / 2


@share(0.4)
@given(items(), books())
def test_tax_is_within_half_a_minor_unit_of_its_rate(charged: list[Item], book: Json) -> None:
    billed, currency = bill(charged, book)
    on_total = book["rounding"]["tax"] == "total"
    for line in billed.lines:
        if line.kind not in KINDS:
            continue
        rate = sum(
            (Decimal(tax["percent"]) for tax in book["taxes"] if tax["on"] is None or line.kind in tax["on"]),
            Decimal(0),
        )
        exact = (
            Decimal(line.gross) * rate / (100 + rate) if book["prices_include_tax"] else Decimal(line.net) * rate / 100
        )
        assert abs(Decimal(line.tax) - exact) <= currency.minor_unit * (1 if on_total else Decimal("0.5"))


@share(0.4)
@given(items(), books())
def test_prices_with_their_taxes_and_without_come_to_the_same(charged: list[Item], book: Json) -> None:
    """What a book without taxes in its prices comes to, gross, line by line, charged by a book with them."""
    plain = book | {"prices_include_tax": False, "discount": None, "minimum_charge": None}
    without, _ = bill(charged, plain)
    gross = [
        Item(kind=item.kind, code=None, title=item.title, price=Decimal(line.gross))
        for item, line in zip(charged, without.lines, strict=False)
    ]
    within, _ = bill(gross, plain | {"prices_include_tax": True})
    assert within.totals == without.totals
    if book["rounding"]["tax"] == "line":
        assert [(line.net, line.tax, line.gross) for line in within.lines] == [
            (line.net, line.tax, line.gross) for line in without.lines
        ]


@share(0.4)
@given(items(), books())
def test_a_bill_is_never_less_than_nothing_nor_a_job_than_its_minimum(charged: list[Item], book: Json) -> None:
    billed, _ = bill(charged, book)
    assert Decimal(billed.totals.gross) >= 0
    job = [line for line in billed.lines if line.kind in ("labour", "unit", "consumable")]
    least = book["minimum_charge"]
    if least is not None and job:
        assert billed.amount >= Decimal(least)


@share(0.4)
@given(items(), books())
def test_a_discount_has_a_line_for_each_set_of_taxes_and_each_a_name_of_its_own(
    charged: list[Item], book: Json
) -> None:
    billed, _ = bill(charged, book)
    taken_off = [line for line in billed.lines if line.kind == "discount"]
    sets = {tuple(tax["on"] is None or item.kind in tax["on"] for tax in book["taxes"]) for item in charged}
    assert len(taken_off) == len({line.title for line in taken_off}) <= len(sets)
    charged_for_it = sum(
        (item.price * item.quantity / item.per for item in charged if item.kind == "call_out"), Decimal()
    )
    assert 0 <= billed.call_out <= charged_for_it + 1


@share(0.4)
@given(items(), books())
def test_cash_rounding_moves_the_total_by_no_more_than_half_a_step(charged: list[Item], book: Json) -> None:
    step = book["rounding"]["cash_step"]
    billed, _ = bill(charged, book)
    moved = [Decimal(line.gross) for line in billed.lines if line.kind == "cash_rounding"]
    assert len(moved) <= 1
    if step is None:
        assert not moved
    else:
        assert Decimal(billed.totals.gross) % Decimal(step) == 0
        assert all(abs(amount) <= Decimal(step) / 2 for amount in moved)


# --- What a tyre is worth --------------------------------------------------------------------------------------------

depths = st.decimals(0, 20, places=1)
sums = st.decimals(0, 2000, places=2)


@st.composite
def stakes(draw: st.DrawFn) -> Stake:
    pull = draw(st.decimals(0, 5, places=1))
    new = pull + draw(st.decimals("0.1", 20, places=1))
    casing = draw(st.decimals(0, 200, places=2))
    return Stake(
        price=casing + draw(st.decimals("0.01", 2000, places=2)),
        casing=casing,
        new=new,
        pull=pull,
        remaining=min(draw(depths), new),
        repair=draw(sums),
        failure_share=draw(st.decimals(0, 100, places=0)) / 100,
        failure_cost=draw(sums),
        downtime=draw(st.decimals(-500, 500, places=2)),
        mates=tuple(min(mate, new) for mate in draw(st.lists(depths, max_size=3))),
    )


@given(stakes())
def test_what_turns_it_turns_it(stake: Stake) -> None:
    """With one input put where it turns, repair and replacement come out even; beyond it, the other way."""
    for turn in turns(stake):
        even = msgspec.structs.replace(stake, **{turn.input: turn.turns_at})
        assert abs(gain(even)) < Decimal("1e-9")
        beyond = turn.turns_at + (turn.turns_at - turn.now) / 1000
        past = gain(msgspec.structs.replace(stake, **{turn.input: beyond})) if turn.turns_at != turn.now else None
        if past is not None and past and turn.input not in ("new", "pull", "remaining"):
            assert (past > 0) != (gain(stake) > 0)


@given(stakes())
def test_more_tread_never_speaks_against_a_repair_and_a_dearer_repair_never_for_it(stake: Stake) -> None:
    deeper = min(stake.remaining + 1, stake.new)
    assert gain(msgspec.structs.replace(stake, remaining=deeper)) >= gain(stake)
    assert gain(msgspec.structs.replace(stake, repair=stake.repair + 1)) < gain(stake)
    assert gain(msgspec.structs.replace(stake, repair=worth_paying(stake))) == 0


@given(stakes())
def test_above_the_break_even_depth_a_repair_pays(stake: Stake) -> None:
    depth = break_even_depth(stake)
    assume(depth <= stake.new)
    pays = gain(msgspec.structs.replace(stake, remaining=depth))
    assert pays >= Decimal("-1e-9")
    if depth > stake.pull:
        assert pays < Decimal("1e-9")


# --- No saving outranks a rule ---------------------------------------------------------------------------------------

PRICES: Final[Json] = {
    "currency": "GBP",
    "labour": {"per_hour": "60.00", "covers": ["unit", "consumable"]},
    "inspection": "12.00",
    "taxes": [{"name": "VAT", "percent": "20"}],
}


@st.composite
def priced_cases(draw: st.DrawFn) -> tuple[Drawn, Json]:
    """Full cases with a price book and a replacement that may be dear beyond measure, or cheap."""
    drawn: Drawn = draw(full_cases())
    replacement: Json = {
        "price": draw(st.sampled_from(("1.00", "80.00", "450.00", "100000.00"))),
        "pull_point_mm": draw(st.sampled_from((0, 1.6, 4))),
        "failure_percent": draw(st.sampled_from((0, 1, 100))),
        "failure_cost": draw(st.sampled_from(("0", "600.00"))),
    }
    extra: Json = {"price_book": PRICES}
    if draw(st.booleans()):
        extra["replacement"] = replacement
    return drawn, drawn.case | extra


@share(0.3)
@given(priced_cases())
def test_a_repair_is_priced_only_where_the_rules_let_one_be_made(drawn: tuple[Drawn, Json]) -> None:
    case = msgspec.convert(drawn[1], Case)
    verdict = check_repairability(case)
    quoted = quote_repair(case)
    worth = quoted.repair_or_replace
    if "repairable" not in verdict.possible_verdicts:
        nothing_through = verdict.next_step in ("find_the_leak", "no_repair_needed")
        assert quoted.job in (("leak_search",) if nothing_through else ("inspection", "replacement"))
        assert all(one.job != "repair" for one in quoted.alternatives)
        assert not any(line.kind in ("labour", "unit", "consumable") for line in quoted.lines)
        if worth is not None:
            words = {"specialist": "specialist_or_replace", "not_covered": "ask_the_maker_or_replace"}
            assert worth.recommendation == words.get(verdict.possible_verdicts[0], "replace")
            assert worth.decided_by == "rules"
            assert worth.gain is None
    elif worth is not None and worth.recommendation == "repair":
        assert verdict.verdict == "repairable"


@share(0.3)
@given(priced_cases(), st.data())
def test_a_firm_recommendation_holds_for_every_depth_that_was_possible(
    drawn: tuple[Drawn, Json], data: st.DataObject
) -> None:
    case = drawn[1]
    new = case["tyre"]["new_tread_depth_mm"]
    low = data.draw(st.floats(0, new, allow_subnormal=False))
    high = data.draw(st.floats(low, new, allow_subnormal=False))
    within = data.draw(st.floats(low, high, allow_subnormal=False))
    vague = recommended(case, {"low": low, "high": high})
    sharp = recommended(case, within)
    if vague in ("repair", "replace") and sharp is not None:
        assert sharp in (vague, "specialist_or_replace") if vague == "replace" else sharp == vague


def recommended(case: Json, depth: Any) -> str | None:
    asked = msgspec.convert(case | {"tyre": case["tyre"] | {"tread_depth_mm": depth}}, Case)
    try:
        worth = quote_repair(asked).repair_or_replace
    except NotPricedError:
        return None
    except CaseError as refused:
        # A channel that was measured on both sides leaves not every depth of tread possible.
        if all(flaw.pointer.endswith("/other_side_across_mm") for flaw in refused.errors):
            return None
        raise
    return None if worth is None else worth.recommendation
