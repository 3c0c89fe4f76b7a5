"""The answer of a check: verdict, next step, findings, questions, cautions."""

from __future__ import annotations

from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.answers.base import VERDICTS, Answer, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.finding import Finding
from mendgauge.judging.questions import ToEstablish

NEXT_STEPS: Final = (
    "ask_first",
    "book_in",
    "repair",
    "repair_for_another_position",
    "send_to_specialist",
    "ask_the_maker",
    "replace",
)


class InjuryVerdict(msgspec.Struct, frozen=True, kw_only=True):
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
            description="What to do now: `ask_first` (a roadside question may yet decide), `book_in` (the bench "
            "settles the rest), `repair`, `repair_for_another_position` (it may not run in this one), "
            "`send_to_specialist`, `ask_the_maker` or `replace`.",
            examples=["book_in"],
            extra_json_schema=open_words(*NEXT_STEPS),
        ),
    ]
    injuries: Annotated[
        tuple[InjuryVerdict, ...], Meta(max_length=20, description="One for each injury, in the order of the case.")
    ]
    findings: Annotated[
        tuple[Finding, ...],
        Meta(max_length=1000, description="Rules broken or open, the gravest first; those met too if asked for."),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(
            max_length=1000,
            description="Missing facts that may change the verdict or how the tyre is handled, most useful first.",
        ),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    rules_checked: Annotated[int, Meta(description="How many rules were checked.", examples=[31])]
