"""Rulebooks: what each country's code says of tyre repair, as dated values with their sources.

One TOML file an edition (`gb-2026.1.toml`), one for workshop practice that every book shares
(`workshop-2026.1.toml`), and one for the work itself, step by step (`procedure-2026.1.toml`). `schema` and
the modules of provisions beside it are what may stand in them, `loader` reads and checks them.
"""

from mendgauge.rulebooks.loader import (
    UnknownRulebookError,
    find_edition,
    list_editions,
)
from mendgauge.rulebooks.provision import RulebookError
from mendgauge.rulebooks.schema.book import Edition

__all__ = ["Edition", "RulebookError", "UnknownRulebookError", "find_edition", "list_editions"]
