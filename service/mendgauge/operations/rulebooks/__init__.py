"""Rulebooks as a caller reads them: every provision in force or dated, with its source, clause and basis."""

from __future__ import annotations

from mendgauge.answers.bound_edition import bound_edition
from mendgauge.operations.rulebooks.answer import Rulebook, RulebookProvision, RulebookSummary
from mendgauge.operations.rulebooks.entries import head, procedure_entry, provision
from mendgauge.rulebooks import UnknownRulebookError, find_edition, list_editions
from mendgauge.rulebooks.procedure_checks import sourced
from mendgauge.rulebooks.schema.book import Book, Workshop, provisions

__all__ = ["UnknownRulebookError", "get_rulebook", "list_rulebooks"]


def list_rulebooks() -> tuple[RulebookSummary, ...]:
    """Return every edition of every rulebook, by id, the newest first."""
    return tuple(RulebookSummary(**head(edition)) for edition in list_editions())


def get_rulebook(reference: str) -> Rulebook:
    """Return the edition a reference names (`gb`, `gb@2026.1`), whole.

    Raises:
        UnknownRulebookError: No edition answers to the reference.
    """
    edition = find_edition(reference)

    def entries(file: Book | Workshop) -> tuple[RulebookProvision, ...]:
        return tuple(provision(heading, entry, edition) for heading, some in provisions(file) for entry in some)

    return Rulebook(
        **head(edition),
        note=edition.book.note,
        provisions=entries(edition.book),
        workshop=entries(edition.workshop),
        procedure=tuple(
            procedure_entry(heading, entry, bound_edition(edition, "full"))
            for heading, entry in sourced(edition.procedure)
        ),
    )
