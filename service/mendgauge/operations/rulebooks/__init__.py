"""Rulebooks as a caller reads them: every provision in force or dated, with its source, clause and basis."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Any, Final, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.operations.work_plans.book_figures import fixed
from mendgauge.rulebooks import Edition, UnknownRulebookError, find_edition, list_editions
from mendgauge.rulebooks.procedure_checks import sourced
from mendgauge.rulebooks.provision import Sourced
from mendgauge.rulebooks.schema.book import Basis, Provision, provisions
from mendgauge.rulebooks.schema.procedure import StepRule, StepTimes
from mendgauge.wording import in_language

__all__ = ["Rulebook", "RulebookProvision", "RulebookSummary", "UnknownRulebookError", "get_rulebook", "list_rulebooks"]

Value: TypeAlias = bool | float | str | Annotated[tuple[float | str, ...], Meta(max_length=200)]


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
        dict[str, Value],
        Meta(description="When it holds, where not always; the first that holds applies.", examples=[{}]),
    ]
    values: Annotated[
        dict[str, Value],
        Meta(
            description="What it says; a number's unit ends its name.",
            examples=[{"found_to_mm": 6.0, "prepared_to_mm": 6.0, "inclusive": True}],
        ),
    ]
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


def list_rulebooks() -> tuple[RulebookSummary, ...]:
    """Every edition of every rulebook, by id, the newest first."""
    return tuple(RulebookSummary(**_head(edition)) for edition in list_editions())


def get_rulebook(reference: str) -> Rulebook:
    """The edition a reference names (`gb`, `gb@2026.1`), whole. Raises `UnknownRulebookError`."""
    edition = find_edition(reference)
    return Rulebook(
        **_head(edition),
        note=edition.book.note,
        provisions=tuple(
            _told(question, entry, edition) for question, entries in provisions(edition.book) for entry in entries
        ),
        workshop=tuple(
            _told(question, entry, edition) for question, entries in provisions(edition.workshop) for entry in entries
        ),
        procedure=tuple(_worked(heading, entry, edition) for heading, entry in sourced(edition.procedure)),
    )


def _head(edition: Edition) -> dict[str, Any]:
    book = edition.book
    return {
        "id": book.id,
        "edition": book.edition,
        "reference": edition.reference,
        "title": book.title,
        "jurisdiction": book.jurisdiction,
        "language": book.language,
        "released": book.released,
        "digest": edition.digest,
    }


_TOLD_APART: Final = {"classes", "source", "basis", "clause", "note", "starts", "ends"}
_CONDITIONS: Final = set(Provision.__struct_fields__) - _TOLD_APART


def _told(question: str, entry: Provision, edition: Edition) -> RulebookProvision:
    fields = {name: getattr(entry, name) for name in entry.__struct_fields__ if name not in _TOLD_APART}
    said = {name: value for name, value in fields.items() if value is not None}
    return RulebookProvision(
        question=question,
        classes=entry.classes,
        conditions={name: value for name, value in said.items() if name in _CONDITIONS},
        values={name: value for name, value in said.items() if name not in _CONDITIONS},
        starts=entry.starts,
        ends=entry.ends,
        basis=entry.basis,
        source=edition.source(entry),
        clause=entry.clause,
        note=entry.note,
    )


def _worked(heading: str, entry: Sourced, edition: Edition) -> RulebookProvision:
    """An entry of the procedure; what a step says in full stands in a work plan."""
    language = edition.book.language
    fields = {name: getattr(entry, name) for name in entry.__struct_fields__ if name not in _TOLD_APART}
    if isinstance(entry, StepTimes):
        fields |= {f"{code}_minutes": minutes for code, minutes in fields.pop("likely_minutes").items()}
    if isinstance(entry, StepRule):
        fields = {name: fields[name] for name in ("code", "part", "title", "kinds", "when")}
    said = {
        name: in_language(language, _plain(value, edition)) if isinstance(value, (str, tuple)) else value
        for name, value in fields.items()
        if value not in (None, (), "")
    }
    return RulebookProvision(
        question=heading,
        classes=entry.classes,
        conditions={name: value for name, value in said.items() if name in _CIRCUMSTANCES},
        values={name: value for name, value in said.items() if name not in _CIRCUMSTANCES},
        starts=None,
        ends=None,
        basis=entry.basis,
        source=edition.procedure.source(entry),
        clause=entry.clause,
        note=in_language(language, entry.note),
    )


_CIRCUMSTANCES: Final = {"kinds", "when"}


def _plain(value: str | tuple[str, ...], edition: Edition) -> str:
    """Words as they stand in a plan, with the figures they name."""
    figures = {rule.name: fixed(edition, rule).says for rule in edition.procedure.parameters}
    return (value if isinstance(value, str) else ", ".join(value)).format_map(figures)
