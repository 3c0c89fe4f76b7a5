"""An edition of a rulebook bound to the texts of its country: what everything that words an answer works with."""

from __future__ import annotations

from functools import lru_cache

from mendgauge.answers.base import RulebookUsed
from mendgauge.intake.tolerances import usual
from mendgauge.rulebooks import Edition
from mendgauge.wording import in_language, wording


class BoundEdition:
    """An edition, its texts, and what every answer under it shares."""

    def __init__(self, edition: Edition) -> None:
        self.edition = edition
        self.words = wording(edition.book.language)
        self.used = RulebookUsed(id=edition.book.id, edition=edition.book.edition, digest=edition.digest)
        self.tolerances = usual(edition)

    def in_language(self, text: str) -> str:
        """Return a British text in the spelling of the rulebook's country."""
        return in_language(self.edition.book.language, text)


@lru_cache(maxsize=64)
def bound_edition(edition: Edition) -> BoundEdition:
    """Return the one bound edition of an edition."""
    return BoundEdition(edition)
