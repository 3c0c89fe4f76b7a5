"""The answer of a stem trim: where each stem is cut, outside and inside."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.base import CERTAINTY, AnswerPart, open_words
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Sourced, Sources
from mendgauge.answers.figure import Span
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability.offer import OfferAnswer


class Cut(Sourced, frozen=True, kw_only=True):
    """One cut of the stem."""

    at: Annotated[
        str,
        Meta(
            description="What it is measured from.",
            examples=["tread_surface"],
            extra_json_schema=open_words("groove_base", "tread_surface", "liner"),
        ),
    ]
    proud_mm: Annotated[Span, Meta(description="How far the stem stands above it once cut, mm; 0 is flush.")]
    asked_mm: Annotated[float, Meta(description="What is asked for before the tread left is looked at, mm.")]
    capped: Annotated[
        str,
        Meta(
            description="Whether it was cut down to the tread left.",
            examples=["no"],
            extra_json_schema=CERTAINTY,
        ),
    ]
    says: Annotated[str, Meta(description="The same in words, with the reason where it was capped.")]


class OutsideCut(Cut, frozen=True, kw_only=True):
    """The cut outside, where the channel comes out."""

    emerges_in: Annotated[
        str,
        Meta(
            description="What the channel comes out in, for which this cut holds.",
            examples=["groove"],
            extra_json_schema=open_words("groove", "lug"),
        ),
    ]


class InsideCut(Cut, frozen=True, kw_only=True):
    """The cut inside, of a stem that has no patch of its own."""

    applies: Annotated[
        str,
        Meta(
            description="Whether the stem is cut inside: `yes` of two pieces, `open` while one or two is.",
            examples=["yes"],
            extra_json_schema=CERTAINTY,
        ),
    ]


class StemTrim(AnswerPart, frozen=True, kw_only=True):
    """Where the stem of one injury's repair is cut."""

    injury: Annotated[int, Meta(description="Index of the injury.", examples=[0])]
    unit: Annotated[
        str | None, Meta(description="Code of the unit or stem that was chosen for it; null where none was.")
    ] = None
    outside: Annotated[
        tuple[OutsideCut, ...],
        Meta(max_length=2, description="One; two while it is not known whether it comes out in a groove or on a lug."),
    ]
    inside: Annotated[InsideCut | None, Meta(description="Null where stem and patch are one piece.")] = None


class StemTrims(OfferAnswer, frozen=True, kw_only=True):
    """Where the stem of each repair is cut, outside and, of two pieces, inside."""

    injuries: Annotated[
        tuple[StemTrim, ...],
        Meta(max_length=20, description="One for each injury that goes through; none where nothing is offered."),
    ]
    to_establish: Annotated[
        tuple[ToEstablish, ...],
        Meta(max_length=1000, description="Missing facts that may change the answer, the verdict's first."),
    ]
    cautions: Annotated[tuple[Caution, ...], Meta(max_length=50, description="What whoever acts on this must know.")]
    sources: Sources = msgspec.field(default_factory=dict)
