"""The cautions an answer carries: what whoever acts on it must know, whatever the verdict."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.core.interval import EITHER
from mendgauge.facts.yes_no import YesNoFacts
from mendgauge.rulebooks.schema.book import Basis
from mendgauge.rules.binding import BoundRules
from mendgauge.wording import Wording


class Caution(msgspec.Struct, frozen=True, kw_only=True):
    """Something to know before acting."""

    code: Annotated[str, Meta(description="The caution, by name.", examples=["inspection_decides"])]
    says: Annotated[str, Meta(description="The caution in words.")]
    basis: Annotated[Basis, Meta(description="How it is known.", examples=["published"])]
    source: Annotated[str, Meta(description="Where it comes from.")]


@lru_cache(maxsize=4096)
def cautions_for(rules: BoundRules, known: YesNoFacts, broken: frozenset[str], words: Wording) -> tuple[Caution, ...]:
    """The cautions that a tyre calls for under its rules, of which `broken` names those that are surely broken."""
    codes = (
        ("inspection_decides", True),
        ("maker_silent", known.maker_permits == EITHER),
        ("speed_rating", True),
        ("flammable_inside", "sealant" in broken),
        ("run_low", "run_low" in broken),
    )
    return (*(_told(code, words) for code, due in codes if due), *_not_covered(rules, words))


def _told(code: str, words: Wording) -> Caution:
    text = words.cautions[code]
    return Caution(code=code, says=text.says, basis=text.basis, source=text.source)


def _not_covered(rules: BoundRules, words: Wording) -> Iterator[Caution]:
    """Where the book has no figure, it says so."""
    for entry in rules.not_covered:
        question = entry.question.replace("_", " ").capitalize()
        yield Caution(
            code="not_covered",
            says=words.not_covered.format(question=question, note=entry.note),
            basis=entry.basis,
            source=rules.source(entry),
        )
