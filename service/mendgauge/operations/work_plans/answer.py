"""The answer of a work plan: ordered steps with their figures, hold points, cautions and times; what is used up."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.answers.base import CERTAINTY, AnswerPart, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Sourced, Sources
from mendgauge.answers.figure import Span
from mendgauge.judging.questions import Asked, Parts, Waits
from mendgauge.operations.repairability.offer import OfferAnswer

_ONLY_IF: Final = Meta(
    description="What it hangs on, in words, where the case does not settle that; null where it is settled.",
    examples=["a pressure sensor is fitted"],
)


class StepParameter(Sourced, frozen=True, kw_only=True):
    """A figure to work to: a number, a range, a limit, or words."""

    name: Annotated[str, Meta(description="The figure, by name.", examples=["drill_speed"])]
    title: Annotated[str, Meta(description="The figure in words.", examples=["Drill speed"])]
    injury: Annotated[
        int | None, Meta(description="Index of the injury it is for; null for the tyre or for all.", examples=[0])
    ] = None
    low: Annotated[
        float | None, Meta(description="The least it may be; null where only `high` limits it, or `words`.")
    ] = None
    high: Annotated[
        float | None, Meta(description="The most it may be; null where only `low` limits it, or `words`.")
    ] = None
    unit: Annotated[str, Meta(description="Unit of both; empty where there is none.", examples=["rpm"])] = ""
    words: Annotated[
        str | None, Meta(description="What it is, where it is no number.", examples=["toward the beads"])
    ] = None
    says: Annotated[str, Meta(description="The value as a job card prints it.", examples=["at most 1200 rpm"])]
    only_if: Annotated[str | None, _ONLY_IF] = None
    note: Annotated[str, Meta(description="What else there is to know, in a full answer; may be empty.")] = ""


class TimePart(Sourced, frozen=True, kw_only=True):
    """The time of a step, or of extra work in it, and its source."""

    code: Annotated[str, Meta(description="Its code: what `house_times.minutes` calls it.", examples=["inner_dual"])]
    low: Annotated[float, Meta(description="At the least, minutes.", examples=[8])]
    likely: Annotated[float, Meta(description="As a rule, minutes.", examples=[10])]
    high: Annotated[float, Meta(description="At the most, minutes.", examples=[15])]
    only_if: Annotated[str | None, _ONLY_IF] = None
    note: Annotated[str, Meta(description="What else there is to know, in a full answer; may be empty.")] = ""


class Minutes(msgspec.Struct, frozen=True, kw_only=True):
    """A time in minutes. What hangs on an unanswered question counts in `high` alone."""

    low: Annotated[float, Meta(description="At the least, minutes.", examples=[34])]
    likely: Annotated[float, Meta(description="As a rule, minutes.", examples=[42])]
    high: Annotated[float, Meta(description="At the most, minutes.", examples=[62])]


class UsualMinutes(Sourced, frozen=True, kw_only=True):
    """What one straight repair takes in all by the trade, to hold the plan's own minutes against."""

    on_vehicle: Annotated[float, Meta(description="With the wheel on the vehicle, minutes.", examples=[42])]
    loose: Annotated[float, Meta(description="Of a loose wheel, minutes.", examples=[32])]
    note: Annotated[str, Meta(description="What else there is to know, in a full answer; may be empty.")] = ""


class HoldPoint(msgspec.Struct, frozen=True, kw_only=True):
    """A point at which the work stops unless a check comes out right."""

    checks: Annotated[str, Meta(description="What is checked.")]
    right: Annotated[str, Meta(description="What is right.")]
    if_not: Annotated[str, Meta(description="What to do when it is not.")]


class CautionAtStep(Sourced, frozen=True, kw_only=True):
    """Something to know before this step."""

    code: Annotated[str, Meta(description="The caution, by name.", examples=["trajectory"])]
    says: Annotated[str, Meta(description="The caution in words.")]
    only_if: Annotated[str | None, _ONLY_IF] = None


class WorkStep(Sourced, frozen=True, kw_only=True):
    """One step of the work. Its basis is that of its weakest line, its source names each document once."""

    code: Annotated[str, Meta(description="The step, by name.", examples=["cut_channel"])]
    part: Annotated[
        str,
        Meta(
            description="`inspection` and `decision` come first; `repair` only once the verdict is settled. "
            "`leak_search` follows the inspection where no injury goes through.",
            examples=["repair"],
            extra_json_schema=open_words("inspection", "leak_search", "decision", "repair"),
        ),
    ]
    title: Annotated[str, Meta(description="What the step is.", examples=["Cut the channel clean"])]
    only_if: Annotated[str | None, _ONLY_IF] = None
    injuries: Annotated[
        tuple[int, ...], Meta(max_length=20, description="Injuries it is done at, each in turn; empty: once a tyre.")
    ] = ()
    do: Annotated[
        tuple[str, ...],
        Meta(
            max_length=20,
            description="What to do, in order; not in a brief repair plan. A sentence that hangs on something begins "
            "with `If`.",
        ),
    ] = ()
    parameters: Annotated[tuple[StepParameter, ...], Meta(max_length=500, description="The figures to work to.")] = ()
    tools: Annotated[tuple[str, ...], Meta(max_length=20, description="What to have at hand.")] = ()
    minutes: Minutes
    times: Annotated[
        tuple[TimePart, ...],
        Meta(max_length=5, description="What the minutes are made of, for one injury where the step is done at each."),
    ] = ()
    hold: Annotated[HoldPoint | None, Meta(description="Where the work stops unless a check comes out right.")] = None
    cautions: Annotated[tuple[CautionAtStep, ...], Meta(max_length=10, description="What to know before it.")] = ()


class ConsumableUsed(Sourced, frozen=True, kw_only=True):
    """What the job uses up."""

    code: Annotated[
        str, Meta(description="What it is, by name: what `house_times.quantities` calls it.", examples=["cement"])
    ]
    title: Annotated[str, Meta(description="What it is.", examples=["Rubber cement"])]
    low: Annotated[float, Meta(description="At the least, in `unit`.", examples=[0.8])]
    high: Annotated[float, Meta(description="At the most, in `unit`.", examples=[1.8])]
    unit: Annotated[
        str,
        Meta(description="`ml` or `piece`.", examples=["ml"], extra_json_schema=open_words("ml", "piece")),
    ]
    only_if: Annotated[str | None, _ONLY_IF] = None
    note: Annotated[str, Meta(description="What else there is to know, in a full answer; may be empty.")] = ""


class Drying(AnswerPart, frozen=True, kw_only=True):
    """How cement dries at this bench."""

    minutes: Minutes
    slow: Annotated[
        str,
        Meta(
            description="Whether it dries slowly, in cold or damp air.",
            examples=["no"],
            extra_json_schema=CERTAINTY,
        ),
    ]
    stopped: Annotated[
        str,
        Meta(
            description="Whether no cement may be put on: too cold, or the liner at or below the dew point.",
            examples=["no"],
            extra_json_schema=CERTAINTY,
        ),
    ]
    dew_point_c: Annotated[
        Span | None, Meta(description="Dew point of the air, °C; null where temperature or humidity is not known.")
    ] = None


class PlanQuestion(AnswerPart, frozen=True, kw_only=True):
    """A missing fact that would settle the verdict, the choice of unit, or what the plan says."""

    field: Annotated[
        str,
        Meta(
            max_length=100,
            description="The field of the case that is missing, as an RFC 6901 pointer.",
            examples=["/bench/wheel"],
        ),
    ]
    asks: Annotated[str, Meta(max_length=200, description="The question in plain words.")]
    how: Annotated[str, Meta(max_length=200, description="How to find out.")]
    asked_at: Asked
    waits: Waits = False
    parts: Parts = ()
    settles: Annotated[
        tuple[str, ...], Meta(max_length=50, description="What of the verdict and the unit the answer may settle.")
    ] = ()
    steps: Annotated[
        tuple[str, ...], Meta(max_length=50, description="Steps, by their codes, that hang on the answer.")
    ] = ()


class WorkPlan(OfferAnswer, frozen=True, kw_only=True):
    """The work on one tyre, from finding the leak to checking the wheel nuts again."""

    scope: Annotated[
        str,
        Meta(
            description="`repair`: the whole job; `inspection`: up to the decision and no farther; `leak_search`: no "
            "injury goes through, so the leak is looked for; `none`: no work.",
            examples=["repair"],
            extra_json_schema=open_words("repair", "inspection", "leak_search", "none"),
        ),
    ]
    says: Annotated[
        tuple[str, ...], Meta(max_length=4, description="How far the plan goes and where the work waits, in words.")
    ]
    waits_at: Annotated[
        str | None,
        Meta(
            description="Step at whose hold point the work waits, as the case stands; null where nothing is known that "
            "would stop it.",
            examples=["decide"],
        ),
    ] = None
    steps: Annotated[tuple[WorkStep, ...], Meta(max_length=100, description="The steps in the order of the work.")]
    minutes: Minutes
    minutes_to_decision: Minutes
    usual_minutes: Annotated[
        UsualMinutes | None,
        Meta(description="Null without a repair, and where the trade has no figure, or not one for every class."),
    ] = None
    drying: Annotated[Drying | None, Meta(description="Null where no repair is on offer.")] = None
    consumables: Annotated[
        tuple[ConsumableUsed, ...],
        Meta(max_length=100, description="What the repair uses up; none in a brief repair plan."),
    ]
    to_establish: Annotated[
        tuple[PlanQuestion, ...],
        Meta(max_length=1000, description="Missing facts that may change the answer, the verdict's first."),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    sources: Sources = msgspec.field(default_factory=dict)
