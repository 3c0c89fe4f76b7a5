"""The answer of a check: verdict, next step, findings, questions, cautions."""

from __future__ import annotations

from typing import Annotated, Final, TypeAlias, get_args

import msgspec
from msgspec import Meta

from mendgauge.answers.base import VERDICTS, Answer, AnswerPart, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Sourced, Sources
from mendgauge.answers.finding import Finding
from mendgauge.judging.questions import ToEstablish
from mendgauge.rulebooks.schema.limits import UntilThenTopic

NEXT_STEPS: Final = (
    "ask_first",
    "book_in",
    "repair",
    "repair_for_another_position",
    "find_the_leak",
    "no_repair_needed",
    "send_to_specialist",
    "ask_the_maker",
    "replace",
)


class InjuryVerdict(AnswerPart, frozen=True, kw_only=True):
    """What the rules on one injury come to, leaving those on the tyre aside."""

    verdict: Annotated[
        str,
        Meta(
            description="`repairable`, `specialist`, `not_covered`, `not_repairable` or `inspect`.",
            examples=["inspect"],
            extra_json_schema=VERDICTS,
        ),
    ]
    possible_verdicts: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=VERDICTS)], ...],
        Meta(max_length=4, description="All it may become, best first.", examples=[["repairable"]]),
    ]


class DriverAdvice(Sourced, frozen=True, kw_only=True, gc=False):
    """Something to tell the driver."""

    code: Annotated[
        str,
        Meta(
            description="What it is about: the state of the tyre, by name.",
            examples=["losing_air"],
            extra_json_schema=open_words(*get_args(UntilThenTopic)),
        ),
    ]
    says: Annotated[str, Meta(description="What to tell the driver.")]
    clause: Annotated[
        str, Meta(description="The place in the source, in a full answer; empty where none is known.")
    ] = ""


class UntilThen(AnswerPart, frozen=True, kw_only=True):
    """What the driver may do with the tyre until it is seen to, as far as is known: more facts may end the journey."""

    drive: Annotated[
        str,
        Meta(
            description="`no`: not driven on; `to_the_bench`: to the nearest bench, as `says` has it; `open`: it hangs "
            "on whether it holds its pressure.",
            examples=["open"],
            extra_json_schema=open_words("no", "to_the_bench", "open"),
        ),
    ]
    max_kmh: Annotated[
        float | None, Meta(description="No faster than this, km/h; null: no figure is given.", examples=[80])
    ] = None
    for_km: Annotated[
        float | None,
        Meta(description="No farther than this, km, as far as it was driven taken off; null: no figure is given."),
    ] = None
    says: Annotated[tuple[DriverAdvice, ...], Meta(max_length=10, description="What to tell the driver, in order.")]


Place: TypeAlias = Annotated[int, Meta(ge=0, description="An entry of a table, counted from 0.", examples=[0])]


class InTables(AnswerPart, frozen=True, kw_only=True, gc=False):
    """Where in a batch's `tables` that stands which a brief row of it leaves out, counted from 0."""

    cautions: Annotated[
        tuple[Place, ...], Meta(max_length=50, description="Its cautions; those in the row itself come behind them.")
    ] = ()
    to_establish: Annotated[
        tuple[Place, ...], Meta(max_length=50, description="Its questions; those in the row itself come behind them.")
    ] = ()
    until_then: Annotated[
        Place | None, Meta(description="What to tell the driver; null: nothing, or in the row.", examples=[0])
    ] = None
    findings: Annotated[
        tuple[Place | None, ...],
        Meta(max_length=1000, description="Its findings in their order; null: the next of those in the row itself."),
    ] = ()
    advice: Annotated[
        tuple[Place | None, ...],
        Meta(max_length=1000, description="The advice of each finding in the row itself; null: none, or with it."),
    ] = ()


class Repairability(Answer, frozen=True, kw_only=True):
    """Whether the tyre may be repaired under the rulebook, as far as the case is known."""

    verdict: Annotated[
        str,
        Meta(
            description="`repairable`, `specialist`, `not_covered` (the rulebook says nothing of this class of tyre), "
            "`not_repairable`; `inspect` while more than one is possible.",
            examples=["inspect"],
            extra_json_schema=VERDICTS,
        ),
    ]
    possible_verdicts: Annotated[
        tuple[Annotated[str, Meta(extra_json_schema=VERDICTS)], ...],
        Meta(
            max_length=4,
            description="Every verdict that a completion of the unknown facts can bring, best first.",
            examples=[["repairable", "specialist"]],
        ),
    ]
    next_step: Annotated[
        str,
        Meta(
            description="What to do now: `ask_first` (an answer by phone or from papers may change it), "
            "`book_in` (the bench settles the rest), `repair`, "
            "`repair_for_another_position` (it may not run in this one), "
            "`find_the_leak` (no injury goes through), `no_repair_needed` (nor does it lose air), "
            "`send_to_specialist`, `ask_the_maker` or `replace`.",
            examples=["book_in"],
            extra_json_schema=open_words(*NEXT_STEPS),
        ),
    ]
    otherwise: Annotated[
        str,
        Meta(
            description="What to do if nobody can be asked; the same as `next_step` unless that is `ask_first`.",
            examples=["book_in"],
            extra_json_schema=open_words(*NEXT_STEPS[1:]),
        ),
    ]
    injuries: Annotated[
        tuple[InjuryVerdict, ...],
        Meta(max_length=20, description="One for each injury, in the order of the case; in a full answer."),
    ] = ()
    findings: Annotated[
        tuple[Finding, ...],
        Meta(
            max_length=1000,
            description="Rules broken or open, the gravest first. A brief answer leaves out those open of which "
            "nothing is known: the questions say what is missing. A full one lists every rule.",
        ),
    ]
    until_then: Annotated[
        UntilThen | None,
        Meta(
            description="What to tell the driver until the tyre is seen to; null where it is off the vehicle, or was "
            "inspected off the rim."
        ),
    ] = None
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(
            max_length=1000,
            description="Missing facts that may change the verdict or how the tyre is handled: those asked before the "
            "tyre is booked in, those seen or looked up once it is in the workshop, those seen off the rim. A brief "
            "answer has the first of them.",
        ),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    rules_checked: Annotated[
        int | None, Meta(description="How many rules were checked; in a full answer.", examples=[31])
    ] = None
    sources: Sources = msgspec.field(default_factory=dict)
    in_tables: Annotated[
        InTables | None,
        Meta(description="In a brief row of a batch, where in the batch's `tables` the rest of it stands; else null."),
    ] = None
