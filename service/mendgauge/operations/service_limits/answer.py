"""The answer of the service limits: its parts, each figure with its unit and its basis."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.base import CERTAINTY, VERDICTS, Answer, open_words
from mendgauge.answers.citation import Cited, Sourced, Sources
from mendgauge.answers.finding import Finding, Observed
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability.answer import NEXT_STEPS

_CLAUSE = Meta(description="Where in the document; empty where not known.")

KMH_PER_MPH = 1.609344
"""Kilometres in a mile, exactly."""


class SpeedCeiling(Cited, frozen=True, kw_only=True):
    """A speed not to pass, and when."""

    when: Annotated[
        str,
        Meta(
            description="`maker_cap`: the tyre maker's figure for a repaired tyre; `first_hours`, `afterwards`: since "
            "the repair; `temporary_use`: of a temporary spare; `run_deflated`: of a run-flat tyre without pressure.",
            examples=["first_hours"],
            extra_json_schema=open_words("maker_cap", "first_hours", "afterwards", "temporary_use", "run_deflated"),
        ),
    ]
    max_kmh: Annotated[float, Meta(description="The speed not to pass, km/h.", examples=[80])]
    max_mph: Annotated[float, Meta(description="The same, mph.", examples=[49.7])]
    for_hours: Annotated[float | None, Meta(description="How long it holds, hours; null: not limited by time.")] = None
    for_km: Annotated[float | None, Meta(description="How far it holds, km; null: not limited by distance.")] = None
    certain: Annotated[bool, Meta(description="Whether it surely holds; false while that hangs on what is not known.")]
    says: Annotated[str, Meta(description="The limit in words.")]
    clause: Annotated[str, _CLAUSE] = ""


class ServiceSpeed(Cited, frozen=True, kw_only=True):
    """How fast the tyre may go."""

    status: Annotated[
        str,
        Meta(
            description="`retained`, `capped` or `void` as the tyre's maker says; `not_confirmed` without it.",
            examples=["not_confirmed"],
            extra_json_schema=open_words("retained", "not_confirmed", "capped", "void"),
        ),
    ]
    possible_statuses: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=open_words("retained", "capped", "void"))], ...],
        Meta(max_length=3, description="What the status may become, best first; one where it is settled."),
    ] = ()
    rests_on: Annotated[
        Annotated[str, Meta(extra_json_schema=open_words("tyre_maker", "marking", "nobody"))] | None,
        Meta(
            description="Whose word the status rests on: `tyre_maker`; `marking`, where nothing is repaired; `nobody`.",
            examples=["tyre_maker"],
        ),
    ] = None
    symbol: Annotated[
        str | None,
        Meta(description="Speed symbol; ZR or such where the size alone says it, in brackets if it is a floor."),
    ] = None
    rated_kmh: Annotated[
        float | None, Meta(description="Speed of the symbol, km/h: no maker's word makes it more.", examples=[240])
    ] = None
    rated_mph: Annotated[float | None, Meta(description="The same, mph.", examples=[149.1])] = None
    rated_is_floor: Annotated[
        bool | None, Meta(description="True: the tyre is good for more than that, and its maker knows for how much.")
    ] = None
    ceiling_kmh: Annotated[
        float | None,
        Meta(
            description="The speed not to pass from now on, km/h, leaving the first hours aside; null where none "
            "follows from what is known. No speed is granted by it where the status is `void` or `not_confirmed`.",
            examples=[180],
        ),
    ] = None
    ceiling_mph: Annotated[float | None, Meta(description="The same, mph.", examples=[111.8])] = None
    ceiling_settled: Annotated[
        bool, Meta(description="False while something that is not known may bring a ceiling, or a lower one.")
    ]
    vehicle_kmh: Annotated[
        Observed | None, Meta(description="The vehicle's top speed; null where it is not known.")
    ] = None
    covers_vehicle: Annotated[
        str,
        Meta(
            description="Whether what is left of the tyre's speed covers the vehicle's top speed: `yes`, `no`, `open`.",
            examples=["open"],
            extra_json_schema=CERTAINTY,
        ),
    ]
    ceilings: Annotated[
        tuple[SpeedCeiling, ...], Meta(max_length=20, description="Every speed not to pass, beside the symbol's.")
    ]
    says: Annotated[str, Meta(description="The status in words.")]
    book_says: Annotated[str | None, Meta(description="What the rulebook says of speed after a repair.")] = None
    clause: Annotated[str, _CLAUSE] = ""


class ServiceLoad(Cited, frozen=True, kw_only=True):
    """How much the tyre, and the axle, may carry."""

    status: Annotated[
        str,
        Meta(
            description="Whether the tyres of the axle carry its load: `enough`, `short` or `open`.",
            examples=["enough"],
            extra_json_schema=open_words("enough", "short", "open"),
        ),
    ]
    rests_on: Annotated[
        Annotated[str, Meta(extra_json_schema=open_words("moulded", "load_index", "nothing"))] | None,
        Meta(
            description="What the load is taken from: `moulded` on the sidewall, which outranks the `load_index`; "
            "`nothing` where neither is known.",
            examples=["load_index"],
        ),
    ] = None
    at_kmh: Annotated[
        Observed | None,
        Meta(description="The speed the load is taken at: the vehicle's top speed, or the tyre's where that is lower."),
    ] = None
    single: Annotated[
        Observed | None, Meta(description="Load of one tyre fitted singly at that speed; null: unknown.")
    ] = None
    dual: Annotated[
        Observed | None, Meta(description="Load of each tyre of a dual pair at that speed; null: unknown.")
    ] = None
    tyres_on_axle: Annotated[
        int | None,
        Meta(description="How many tyres share the axle's load; null while that is not known.", examples=[2]),
    ] = None
    capacity: Annotated[Observed | None, Meta(description="What they may carry together; null where unknown.")] = None
    required: Annotated[Observed | None, Meta(description="The axle's load; null where it is not known.")] = None
    shortfall: Annotated[
        Observed | None, Meta(description="How much more the axle's load is than they may carry; null unless `short`.")
    ] = None
    shortfall_percent: Annotated[
        Observed | None, Meta(description="The shortfall as a share of the axle's load; null unless `short`.")
    ] = None
    says: Annotated[str, Meta(description="The status in words.")]
    book_says: Annotated[str | None, Meta(description="What the rulebook says of load after a repair.")] = None
    clause: Annotated[str, _CLAUSE] = ""


class ServicePosition(msgspec.Struct, frozen=True, kw_only=True):
    """Whether the tyre may run where it is meant to, its load apart."""

    status: Annotated[
        str,
        Meta(
            description="`allowed`, `not_allowed` or `open`.",
            examples=["allowed"],
            extra_json_schema=open_words("allowed", "not_allowed", "open"),
        ),
    ]
    says: Annotated[str, Meta(description="The status in words.")]


class Caveat(Sourced, frozen=True, kw_only=True):
    """Something to print, short and long."""

    code: Annotated[str, Meta(description="The caveat, by name.", examples=["rating_not_confirmed"])]
    short: Annotated[str, Meta(description="In a few words, for a receipt or a screen.")]
    long: Annotated[str, Meta(description="In full.")]
    to: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=open_words("counter", "driver", "job_file"))], ...],
        Meta(max_length=3, description="Whom it is for: `counter`, `driver`, `job_file`.", examples=[["driver"]]),
    ]
    acknowledge: Annotated[bool, Meta(description="Whether it must be acknowledged before the vehicle leaves.")]


class FollowUpDue(Sourced, frozen=True, kw_only=True):
    """Something to look at again after the repair."""

    code: Annotated[str, Meta(description="The follow-up, by name.", examples=["re_torque"])]
    says: Annotated[str, Meta(description="The follow-up in words.")]
    from_km: Annotated[
        float | None, Meta(description="Not before this distance, km; null: at once.", examples=[80])
    ] = None
    to_km: Annotated[
        float | None, Meta(description="By this distance, km; null: no distance given.", examples=[160])
    ] = None
    from_miles: Annotated[float | None, Meta(description="Not before this distance, miles.", examples=[50])] = None
    to_miles: Annotated[float | None, Meta(description="By this distance, miles.", examples=[100])] = None
    within_hours: Annotated[float | None, Meta(description="Within this time, hours; null: no time given.")] = None
    every_days: Annotated[float | None, Meta(description="Again every so many days; null: once.", examples=[30])] = None
    due_on: Annotated[
        date | None,
        Meta(
            description="The day by which it is due, the first time where it comes again, for a tyre repaired on "
            "`assessed_on`; null where a distance decides.",
            examples=["2026-12-24"],
        ),
    ] = None
    clause: Annotated[str, _CLAUSE] = ""


def mph(kmh: float) -> float:
    """Return a speed in mph, to a tenth."""
    return round(kmh / KMH_PER_MPH, 1)


def to_tenth(kmh: float) -> float:
    """Round a speed in km/h to a tenth."""
    return round(kmh, 1)


class ServiceLimits(Answer, frozen=True, kw_only=True):
    """What the tyre may do after its repair, as far as the case is known."""

    verdict: Annotated[
        str,
        Meta(
            description="Whether the tyre may be repaired, as `/v1/repairability` says: what follows hangs on it.",
            examples=["repairable"],
            extra_json_schema=VERDICTS,
        ),
    ]
    possible_verdicts: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=VERDICTS)], ...],
        Meta(max_length=3, description="All the verdict may become, best first.", examples=[["repairable"]]),
    ]
    fit: Annotated[
        str,
        Meta(
            description="`fit`: the tyre may be repaired and run here under this load; `not_fit`: it may not; `open` "
            "while that is not settled. The speed is apart, since a driver can keep to one.",
            examples=["fit"],
            extra_json_schema=open_words("fit", "not_fit", "open"),
        ),
    ]
    next_step: Annotated[
        str,
        Meta(
            description="What to do now, as `/v1/repairability` says; `repair_for_another_position` also where another "
            "rule on the position forbids this one.",
            examples=["repair"],
            extra_json_schema=open_words(*NEXT_STEPS),
        ),
    ]
    says: Annotated[str, Meta(description="The verdict in words, and what it means for the limits.")]
    speed: ServiceSpeed
    load: ServiceLoad
    position: ServicePosition
    findings: Annotated[
        tuple[Finding, ...],
        Meta(
            max_length=100,
            description="Rules on position and load, broken or open, the gravest first; those met too if asked for.",
        ),
    ]
    caveats: Annotated[
        tuple[Caveat, ...], Meta(max_length=40, description="What to print, what must be acknowledged first.")
    ]
    follow_ups: Annotated[
        tuple[FollowUpDue, ...],
        Meta(max_length=20, description="What to look at again after the repair, and when; none without one."),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(max_length=100, description="Missing facts that may change these limits, most useful question first."),
    ]
    rules_checked: Annotated[
        int | None, Meta(description="How many rules on position and load were checked.", examples=[9])
    ] = None
    sources: Sources = msgspec.field(default_factory=dict)
