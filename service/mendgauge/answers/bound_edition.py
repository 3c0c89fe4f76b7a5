"""An edition of a rulebook bound to the texts of its country and to a level of detail: what words an answer.

How much an answer says is chosen here alone: whatever makes a part of an answer asks its bound edition whether it is
`full`, and makes nothing that a brief one leaves out. A brief repair plan is an `outline`: each of its parts leaves to
the part's own operation how the work is done.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from mendgauge.answers.base import RulebookUsed
from mendgauge.answers.citation import Citation, key_of
from mendgauge.core.vocabulary import Detail
from mendgauge.intake.tolerances import usual
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.provision import Basis, Provision
from mendgauge.wording import in_language, wording

NOTHING_CITED: Final = Citation()


class BoundEdition:
    """An edition, its texts, how much of them is said, and what every answer under it shares."""

    def __init__(self, edition: Edition, detail: Detail, *, outline: bool) -> None:
        self.edition = edition
        self.full = detail == "full"
        self.outline = outline
        self.words = wording(edition.book.language)
        self.used = RulebookUsed(id=edition.book.id, edition=edition.book.edition, digest=edition.digest)
        self.tolerances = usual(edition)

    def in_language(self, text: str) -> str:
        """Return a British text in the spelling of the rulebook's country."""
        return in_language(self.edition.book.language, text)

    def provenance(self, basis: Basis | None, source: str) -> Citation:
        """Return what a full answer says of a source; a brief one says nothing."""
        return Citation(basis, source) if self.full else NOTHING_CITED

    def provenance_of(self, provision: Provision) -> Citation:
        """Return what a full answer says of the source of a provision of the edition; a brief one says nothing."""
        return self.provenance(provision.basis, self.edition.source(provision)) if self.full else NOTHING_CITED

    def cite(self, basis: Basis, source: str) -> Citation:
        """Return what an answer says of a source: a brief one its key."""
        return Citation(basis, source) if self.full else Citation(cites=key_of(basis, source))

    def cite_provision(self, provision: Provision) -> Citation:
        """Return what an answer says of the source of a provision of the edition: a brief one its key."""
        return _citation_of(provision, self)


@lru_cache(maxsize=4096)
def _citation_of(provision: Provision, bound: BoundEdition) -> Citation:
    return bound.cite(provision.basis, bound.edition.source(provision))


@lru_cache(maxsize=64)
def bound_edition(edition: Edition, detail: Detail, *, outline: bool = False) -> BoundEdition:
    """Return the one bound edition of an edition at a level of detail; an `outline` is brief."""
    return BoundEdition(edition, detail, outline=outline)
