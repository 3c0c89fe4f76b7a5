"""The answer of a quote: a bill, what could change it, and the repair against a replacement."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.answers.base import AnswerPart, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Sourced, Sources
from mendgauge.answers.figure import Span
from mendgauge.operations.quotes.bill import Line, TaxTotal, Totals
from mendgauge.operations.repairability.offer import OfferAnswer
from mendgauge.operations.work_plans.answer import PlanQuestion

_JOB: Final = Meta(
    description="What is priced: the `repair`, the `inspection` alone, a `leak_search`, or a `replacement`.",
    examples=["repair"],
    extra_json_schema=open_words("repair", "inspection", "leak_search", "replacement"),
)
_LINES: Final = Meta(max_length=400, description="What is charged for, in the order of a bill.")
_TAXES: Final = Meta(max_length=8, description="What each tax comes to.")


class Covered(msgspec.Struct, frozen=True, kw_only=True):
    """What the job takes and the price of its labour has in it already."""

    code: Annotated[str, Meta(description="Its code.", examples=["cement"])]
    title: Annotated[str, Meta(description="What it is.", examples=["Rubber cement"])]
    quantity: Annotated[float, Meta(description="How much of it, in `unit`.", examples=[1.2])]
    unit: Annotated[str, Meta(description="`ml` or `piece`.", examples=["ml"])]


class NotIncluded(msgspec.Struct, frozen=True, kw_only=True):
    """What is not in the price, since it is not known to be needed."""

    code: Annotated[str, Meta(description="The step of the work plan, or the consumable.", examples=["service_sensor"])]
    title: Annotated[str, Meta(description="What it is.", examples=["Service the pressure sensor"])]
    only_if: Annotated[str, Meta(description="When it is needed.", examples=["a pressure sensor is fitted"])]


class NotPriced(msgspec.Struct, frozen=True, kw_only=True):
    """Something that an alternative takes and that has no price."""

    field: Annotated[
        str, Meta(description="Where its price is missed, as an RFC 6901 pointer.", examples=["/price_book/units/U-8"])
    ]
    says: Annotated[str, Meta(description="What has no price, and what would be right.")]


class Alternative(AnswerPart, frozen=True, kw_only=True):
    """What the price could become, or could be instead."""

    code: Annotated[
        str,
        Meta(
            description="What would have changed.",
            examples=["next_size_up"],
            extra_json_schema=open_words(
                "next_size_up",
                "next_size_ends_it",
                "next_size_no_unit",
                "two_piece",
                "two_piece_ends_it",
                "two_piece_no_unit",
                "abandoned",
                "inspection",
                "replacement",
            ),
        ),
    ]
    says: Annotated[str, Meta(description="When it holds.")]
    job: Annotated[str, _JOB]
    lines: Annotated[tuple[Line, ...], _LINES] = ()
    taxes: Annotated[tuple[TaxTotal, ...], _TAXES] = ()
    totals: Annotated[Totals | None, Meta(description="What it comes to; null where something has no price.")] = None
    not_priced: Annotated[
        tuple[NotPriced, ...], Meta(max_length=100, description="What has no price; then nothing is totalled.")
    ] = ()


class MoneySpan(msgspec.Struct, frozen=True, kw_only=True):
    """All amounts from one to another; known where both are the same."""

    low: Annotated[str, Meta(description="The smallest amount it can be.", examples=["29.42"])]
    high: Annotated[str, Meta(description="The largest amount it can be.", examples=["29.42"])]


class CostPerDistance(AnswerPart, frozen=True, kw_only=True):
    """What a unit of distance costs, casing credited."""

    unit: Annotated[
        str, Meta(description="`km` or `mile`.", examples=["km"], extra_json_schema=open_words("km", "mile"))
    ]
    new: Annotated[MoneySpan, Meta(description="On a new tyre.")]
    repaired: Annotated[
        MoneySpan | None,
        Meta(description="On the repaired tyre, from now on; null without a repair, or where no tread may be left."),
    ] = None


class HangsOn(msgspec.Struct, frozen=True, kw_only=True):
    """An input that the recommendation depends on, and how far it would have to change to turn it."""

    field: Annotated[str, Meta(description="The input, as an RFC 6901 pointer.", examples=["/tyre/tread_depth_mm"])]
    unit: Annotated[str, Meta(description="Its unit: a currency's code, mm, %.", examples=["mm"])]
    now: Annotated[str, Meta(description="What it is.", examples=["5.00"])]
    turns_at: Annotated[str, Meta(description="Where repair and replacement come out even.", examples=["3.35"])]
    by: Annotated[str, Meta(description="How far it would have to change, with its sign.", examples=["-1.65"])]
    by_percent: Annotated[
        float | None, Meta(description="The same in percent of what it is; null of next to nothing.", examples=[-33.1])
    ]
    says: Annotated[str, Meta(description="The same in words.")]


class RepairOrReplace(Sourced, frozen=True, kw_only=True):
    """The repair compared with a replacement. Ranges hold for every completion of the unknown depths."""

    recommendation: Annotated[
        str,
        Meta(
            description="`repair`; `repair_if_it_passes` while the verdict is open; `replace`; "
            "`specialist_or_replace`; `open` while unknown depths decide. No saving outranks a rule.",
            examples=["repair"],
            extra_json_schema=open_words(
                "repair", "repair_if_it_passes", "replace", "specialist_or_replace", "ask_the_maker_or_replace", "open"
            ),
        ),
    ]
    decided_by: Annotated[
        str,
        Meta(
            description="Whether `rules`, the `stock` or the `cost` decides.",
            examples=["cost"],
            extra_json_schema=open_words("rules", "stock", "cost"),
        ),
    ]
    says: Annotated[str, Meta(description="The recommendation in words.")]
    gain: Annotated[
        MoneySpan | None,
        Meta(description="What the repair gains: the margin. Negative where a replacement is cheaper; null of none."),
    ] = None
    value_per_mm: Annotated[MoneySpan | None, Meta(description="What a millimetre of tread is worth.")] = None
    tread_value: Annotated[MoneySpan | None, Meta(description="What the tread left is worth.")] = None
    value_left: Annotated[MoneySpan, Meta(description="What the tyre is worth, repaired: its tread and its casing.")]
    worth_paying: Annotated[
        MoneySpan, Meta(description="The price of a repair at which it comes out even with a replacement.")
    ]
    break_even_mm: Annotated[
        Span | None, Meta(description="Tread left at which this repair comes out even, mm; null without a repair.")
    ] = None
    worn_percent: Annotated[Span | None, Meta(description="Share of the tread that is gone, down to worn out, %.")] = (
        None
    )
    replaced_with_it: Annotated[
        int | None,
        Meta(description="Other tyres of the axle that a new one would not match, replaced too.", examples=[0]),
    ] = None
    lost_on_others: Annotated[
        MoneySpan | None, Meta(description="What the tread is worth that is thrown away with these.")
    ] = None
    cost_per_distance: Annotated[
        CostPerDistance | None, Meta(description="Null where `/replacement/distance_per_mm` is not given.")
    ] = None
    hangs_on: Annotated[
        tuple[HangsOn, ...],
        Meta(
            max_length=9,
            description="Each input of which a change alone would turn the recommendation, the least change first; "
            "worked out at the depths nearest to turning it.",
        ),
    ]


class Quote(OfferAnswer, frozen=True, kw_only=True):
    """What the job costs by the caller's price book, as far as the case is known."""

    job: Annotated[str, _JOB]
    says: Annotated[str, Meta(description="What the price is for, in words.")]
    currency: Annotated[str, Meta(description="Currency of every amount, by its ISO 4217 code.", examples=["GBP"])]
    prices_include_tax: Annotated[bool, Meta(description="Whether the unit prices have their taxes in them.")]
    lines: Annotated[tuple[Line, ...], _LINES]
    taxes: Annotated[tuple[TaxTotal, ...], _TAXES]
    totals: Totals
    covered: Annotated[
        tuple[Covered, ...], Meta(max_length=400, description="What the labour's price has in it already.")
    ] = ()
    not_included: Annotated[
        tuple[NotIncluded, ...], Meta(max_length=200, description="What is not in the price, and when it is needed.")
    ]
    valid_until: Annotated[date | None, Meta(description="The last day the price holds; null where none is given.")] = (
        None
    )
    alternatives: Annotated[
        tuple[Alternative, ...],
        Meta(max_length=10, description="What the price could become after inspection and preparation, or be instead."),
    ]
    repair_or_replace: Annotated[
        RepairOrReplace | None,
        Meta(description="The repair compared with a replacement; null where the two are not compared."),
    ] = None
    not_reckoned: Annotated[
        str | None, Meta(description="Why the repair is not compared with a replacement; null where it is.")
    ] = None
    caveats: Annotated[tuple[Caution, ...], Meta(max_length=60, description="What to print beside the price.")]
    to_establish: Annotated[
        tuple[PlanQuestion, ...],
        Meta(max_length=1000, description="Missing facts that may change the answer, the verdict's first."),
    ]
    sources: Sources = msgspec.field(default_factory=dict)
