"""Rulebooks as a caller reads them: every provision in force or dated, with its source, clause and basis."""

from __future__ import annotations

from typing import Any, Final

from mendgauge.operations.rulebooks.answer import Rulebook, RulebookProvision, RulebookSummary
from mendgauge.operations.work_plans.book_figures import fixed
from mendgauge.rulebooks import Edition, UnknownRulebookError, find_edition, list_editions
from mendgauge.rulebooks.procedure_checks import sourced
from mendgauge.rulebooks.provision import Sourced
from mendgauge.rulebooks.schema.book import Provision, provisions
from mendgauge.rulebooks.schema.procedure import StepRule, StepTimes
from mendgauge.wording import in_language

__all__ = ["UnknownRulebookError", "get_rulebook", "list_rulebooks"]


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
