"""The cautions an answer carries: what whoever acts on it must know, whatever the verdict."""

from __future__ import annotations

from collections.abc import Collection, Iterator
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
    return (*(_told(code, words) for code in _codes(facts, broken)), *_not_covered(rules, words))


def _codes(facts: TyreFacts, broken: Collection[str]) -> Iterator[str]:
    yield "inspection_decides"
    if facts.maker_permits == EITHER:
        yield "maker_silent"
    yield "speed_rating"
    if "sealant" in broken:
        yield "flammable_inside"
    if "run_low" in broken:
        yield "run_low"


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
