"""Rulebooks as a caller reads them: editions and their provisions."""

from __future__ import annotations

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.rulebooks.provision import Basis


class StatedValue(msgspec.Struct, frozen=True, kw_only=True):
    """One thing a provision states: numbers, words, or yes or no, as its name says; and always as text."""

    name: Annotated[str, Meta(description="Its name in the rulebook.", examples=["found_to_mm"])]
    text: Annotated[str, Meta(description="What is stated, as text.", examples=["6 mm"])]
    numbers: Annotated[
        tuple[float, ...],
        Meta(max_length=200, description="The number, or the numbers of a list; empty otherwise.", examples=[[6.0]]),
    ]
    unit: Annotated[str | None, Meta(description="Unit of the numbers; null where they have none.", examples=["mm"])]
    words: Annotated[
        tuple[str, ...],
        Meta(max_length=200, description="The word, or the words of a list; empty otherwise.", examples=[[]]),
    ]
    holds: Annotated[bool | None, Meta(description="Yes or no; null where it is neither.", examples=[None])]


class RulebookSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One edition of a rulebook."""

    id: Annotated[str, Meta(description="The rulebook.", examples=["gb"])]
    edition: Annotated[str, Meta(description="Its edition.", examples=["2026.1"])]
    reference: Annotated[str, Meta(description="How a case pins this edition.", examples=["gb@2026.1"])]
    title: Annotated[str, Meta(description="What it is about.")]
    jurisdiction: Annotated[str, Meta(description="Where it applies.", examples=["United Kingdom"])]
    language: Annotated[str, Meta(description="Language of its answers.", examples=["en-GB"])]
    released: Annotated[date, Meta(description="When the edition was released; it never changes after.")]
    digest: Annotated[str, Meta(description="Digest of the edition's content.", examples=["sha256:0f3a"])]


class RulebookProvision(msgspec.Struct, frozen=True, kw_only=True):
    """One thing a rulebook says, for whom, since when, and how we know."""

    question: Annotated[str, Meta(description="The question it answers.", examples=["injury_size"])]
    classes: Annotated[
        tuple[str, ...], Meta(max_length=5, description="Classes of tyre it holds for.", examples=[["car", "van"]])
    ]
    conditions: Annotated[
        tuple[StatedValue, ...],
        Meta(max_length=50, description="When it holds, where not always; the first provision that holds applies."),
    ]
    values: Annotated[tuple[StatedValue, ...], Meta(max_length=100, description="What it says.")]
    starts: Annotated[date | None, Meta(description="In force from this day; null: from the start.")]
    ends: Annotated[date | None, Meta(description="No longer in force on this day; null: still in force.")]
    basis: Annotated[Basis, Meta(description="How it is known.", examples=["published_summary"])]
    source: Annotated[str, Meta(description="The document, and where it was seen.")]
    clause: Annotated[str, Meta(description="Where in the document; empty where not known.")]
    note: Annotated[str, Meta(description="What else there is to know; may be empty.")]


class Rulebook(RulebookSummary, frozen=True, kw_only=True):
    """One edition of a rulebook, whole, with the workshop practice it stands on."""

    note: Annotated[str, Meta(description="What there is to know of the book; may be empty.")]
    provisions: Annotated[
        tuple[RulebookProvision, ...], Meta(max_length=1000, description="What the country's book says.")
    ]
    workshop: Annotated[
        tuple[RulebookProvision, ...],
        Meta(max_length=1000, description="Workshop practice that holds where the book is silent."),
    ]
    procedure: Annotated[
        tuple[RulebookProvision, ...],
        Meta(
            max_length=1000,
            description="The work of a repair: its steps, figures, times and cautions, and what it uses up.",
        ),
    ]
