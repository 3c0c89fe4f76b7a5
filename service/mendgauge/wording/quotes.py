"""The shape of what a quote says, in `quotes.toml`."""

from __future__ import annotations

import msgspec

from mendgauge.rulebooks.provision import Basis, Language


class QuoteCaveat(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Something to print beside a price, and its source."""

    says: str
    basis: Basis
    source: str


class QuoteWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is said of a price and what could change it, of a replacement, and of what a plan leaves out."""

    language: Language
    titles: dict[str, str]
    job: dict[str, str]
    unpriced: dict[str, str]
    alternatives: dict[str, str]
    caveats: dict[str, QuoteCaveat]
    worth: dict[str, str]
    inputs: dict[str, str]
    not_reckoned: dict[str, str]
    absent: dict[str, str]
