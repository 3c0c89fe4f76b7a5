"""Rulebooks as they are told over HTTP: every provision in one flat shape, its source in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from typing import Annotated, Any, Final, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.schema import Book, Provision, Workshop, provisions

Value: TypeAlias = bool | float | str | tuple[float | str, ...]


class ProvisionTold(msgspec.Struct, frozen=True, kw_only=True):
    """One thing a rulebook says, for whom, since when, and how it is known."""

    heading: Annotated[str, Meta(description="What it is about.", examples=["injury_size"])]
    values: Annotated[
        dict[str, Value],
        Meta(
            description="What it says. Names end in the unit.",
            examples=[{"found_to_mm": 6.0, "prepared_to_mm": 6.0, "inclusive": True}],
        ),
    ]
    classes: Annotated[
        tuple[str, ...], Meta(max_length=20, description="The classes of tyre it is for.", examples=[["car", "van"]])
    ]
    conditions: Annotated[
        dict[str, Value],
        Meta(
            description="When it applies; empty is always. Of the provisions under a heading, the first one whose "
            "conditions hold counts.",
            examples=[{"speed_over": "H"}],
        ),
    ]
    source: Annotated[str, Meta(description="The document, and where it was read.", examples=["BS AU 159g:2013"])]
    clause: Annotated[str, Meta(description="The clause; empty where none is known.")]
    basis: Annotated[
        str,
        Meta(
            description="How it is known: `published`, `published_summary`, `common_practice`, `from_memory` or "
            "`derived`.",
            examples=["published_summary"],
        ),
    ]
    note: Annotated[str, Meta(description="What else to know about it.")]
    starts: Annotated[date | None, Meta(description="First day in force; null if always.")]
    ends: Annotated[date | None, Meta(description="First day no longer in force; null if none is set.")]


class RulebookSummary(msgspec.Struct, frozen=True, kw_only=True):
    """One edition of one rulebook, in a line."""

    id: Annotated[str, Meta(description="The rulebook.", examples=["gb"])]
    edition: Annotated[str, Meta(description="Its edition.", examples=["2026.1"])]
    reference: Annotated[str, Meta(description="How a case pins this edition.", examples=["gb@2026.1"])]
    digest: Annotated[str, Meta(description="Digest of its content; answers name it.", examples=["sha256:0f3a"])]
    title: Annotated[str, Meta(description="What it is.")]
    jurisdiction: Annotated[str, Meta(description="Where it applies.", examples=["United Kingdom"])]
    language: Annotated[str, Meta(description="The language its answers are worded in.", examples=["en-GB"])]
    released: Annotated[date, Meta(description="The day this edition was released.", examples=["2026-11-24"])]


class RulebookList(msgspec.Struct, frozen=True):
    """Every edition of every rulebook."""

    rulebooks: Annotated[
        tuple[RulebookSummary, ...], Meta(max_length=1000, description="By id, the newest edition first.")
    ]


class Rulebook(RulebookSummary, frozen=True, kw_only=True):
    """One edition of one rulebook, with all that it says."""

    note: Annotated[str, Meta(description="What to know of the whole.")]
    provisions: Annotated[
        tuple[ProvisionTold, ...], Meta(max_length=1000, description="All that it says, by heading, in order.")
    ]
    workshop_provisions: Annotated[
        tuple[ProvisionTold, ...],
        Meta(max_length=1000, description="The workshop practice it stands on, the same for every rulebook."),
    ]


def told_list(editions: Iterable[Edition]) -> RulebookList:
    """Editions, a line each."""
    return RulebookList(tuple(RulebookSummary(**_summary(edition)) for edition in editions))


def told(edition: Edition) -> Rulebook:
    """An edition in full."""
    return Rulebook(
        **_summary(edition),
        note=edition.book.note,
        provisions=tuple(_provisions(edition, edition.book)),
        workshop_provisions=tuple(_provisions(edition, edition.workshop)),
    )


_TOLD_APART: Final = ("classes", "source", "clause", "basis", "note", "starts", "ends")
_CONDITIONS: Final = tuple(name for name in Provision.__struct_fields__ if name not in _TOLD_APART)


def _summary(edition: Edition) -> dict[str, Any]:
    book = edition.book
    told_of_book = ("id", "edition", "title", "jurisdiction", "language", "released")
    return {name: getattr(book, name) for name in told_of_book} | {
        "reference": edition.reference,
        "digest": edition.digest,
    }


def _provisions(edition: Edition, file: Book | Workshop) -> Iterator[ProvisionTold]:
    for heading, entries in provisions(file):
        for entry in entries:
            said = {name: value for name, value in msgspec.structs.asdict(entry).items() if value is not None}
            yield ProvisionTold(
                heading=heading,
                values={name: said[name] for name in said if name not in Provision.__struct_fields__},
                classes=entry.classes,
                conditions={name: said[name] for name in _CONDITIONS if name in said},
                source=edition.source(entry),
                clause=entry.clause,
                basis=entry.basis,
                note=entry.note,
                starts=entry.starts,
                ends=entry.ends,
            )
