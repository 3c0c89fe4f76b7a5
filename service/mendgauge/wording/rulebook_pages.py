"""How a rulebook is read on a page: its headings, the names of what it states, and the words it states."""

from __future__ import annotations

from functools import cache

import msgspec

from mendgauge.rulebooks.provision import Language
from mendgauge.wording import read_texts


class RulebookPageWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """The texts of a rulebook's page. A name or word that is not among them stands as the rulebook has it."""

    headings: dict[str, str]
    names: dict[str, str]
    words: dict[str, str]


@cache
def rulebook_page_words(language: Language) -> RulebookPageWords:
    """Return the texts in the words of a rulebook's country."""
    return read_texts("rulebook_pages", RulebookPageWords, language)
