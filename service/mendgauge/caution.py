"""The cautions an answer carries: what whoever acts on it must know, whatever the verdict."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from functools import lru_cache
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.facts import TyreFacts
from mendgauge.quantity import EITHER
from mendgauge.rulebooks.schema import Basis
from mendgauge.rules import Rules
from mendgauge.wording import Wording


class Caution(msgspec.Struct, frozen=True, kw_only=True):
    """Something to know before acting."""

    code: Annotated[str, Meta(description="The caution, by name.", examples=["inspection_decides"])]
    says: Annotated[str, Meta(description="The caution in words.")]
    basis: Annotated[Basis, Meta(description="How it is known.", examples=["published"])]
    source: Annotated[str, Meta(description="Where it comes from.")]


def cautions_for(facts: TyreFacts, rules: Rules, broken: Collection[str], words: Wording) -> tuple[Caution, ...]:
    """The cautions that a tyre calls for under its rules, of which `broken` names those that are surely broken."""
    return _in_words(rules, facts.maker_permits == EITHER, "sealant" in broken, "run_low" in broken, words)


@lru_cache(maxsize=4096)
def _in_words(rules: Rules, maker_silent: bool, sealant: bool, run_low: bool, words: Wording) -> tuple[Caution, ...]:
    codes = (
        ("inspection_decides", True),
        ("maker_silent", maker_silent),
        ("speed_rating", True),
        ("flammable_inside", sealant),
        ("run_low", run_low),
    )
    return (*(_told(code, words) for code, due in codes if due), *_not_covered(rules, words))


def _told(code: str, words: Wording) -> Caution:
    text = words.cautions[code]
    return Caution(code=code, says=text.says, basis=text.basis, source=text.source)


def _not_covered(rules: Rules, words: Wording) -> Iterator[Caution]:
    """Where the book has no figure, it says so."""
    for entry in rules.not_covered:
        question = entry.question.replace("_", " ").capitalize()
        yield Caution(
            code="not_covered",
            says=words.not_covered.format(question=question, note=entry.note),
            basis=entry.basis,
            source=rules.source(entry),
        )
