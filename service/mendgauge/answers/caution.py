"""The cautions an answer carries: what whoever acts on it must know, whatever the verdict."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated

from msgspec import Meta

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.citation import Citation, Sourced
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.provision import Basis
from mendgauge.rulebooks.schema.repair import NotCovered
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.repair.history import RUN_LOW
from mendgauge.wording import CautionWords, either_of
from mendgauge.wording.quotes import QuoteCaveat


class Caution(Sourced, frozen=True, kw_only=True, gc=False):
    """Something to know before acting. A brief answer has it without its source."""

    code: Annotated[str, Meta(description="The caution, by name.", examples=["inspection_decides"])]
    says: Annotated[str, Meta(description="The caution in words.")]


def caution(code: str, says: str, citation: Citation) -> Caution:
    """Return a caution with what it rests on."""
    return Caution(code=code, says=says, basis=citation.basis, source=citation.source)


def worded(code: str, text: CautionWords | QuoteCaveat, bound: BoundEdition, **figures: str) -> Caution:
    """Return the caution that a text makes with some figures."""
    return caution(code, text.says.format(**figures), bound.provenance(text.basis, text.source))


@lru_cache(maxsize=512)
def cautions_for(
    rules: BoundRules, bound: BoundEdition, *, maker_silent: bool, run_low: bool, sealant: bool
) -> tuple[Caution, ...]:
    """Return the cautions that a tyre calls for under its rules: `run_low` and `sealant` where these are surely broken.

    Kept: tyres in a fleet differ little in these, and wording them anew would take 5 µs of a decision's 40.
    """
    codes = (
        ("inspection_decides", True),
        ("maker_silent", maker_silent),
        ("speed_rating", True),
        ("flammable_inside", sealant),
    )
    return (
        *(worded(code, bound.words.cautions[code], bound) for code, due in codes if due),
        *(_run_low(rule, bound) for rule in rules.tyre if run_low and rule.name == RUN_LOW.name),
        *_not_covered(rules.not_covered, bound),
    )


def words_not_read(words: tuple[str, ...], bound: BoundEdition) -> Caution:
    """Return the caution on the words of a marking that nobody knows."""
    quoted = ", ".join(f"'{word}'" for word in dict.fromkeys(words))
    return worded("word_not_read", bound.words.cautions["word_not_read"], bound, words=quoted)


def _run_low(rule: BoundRule[TyreFacts], bound: BoundEdition) -> Caution:
    """Say what running low asks for, as the provision has it that the tyre is judged by."""
    citation = bound.provenance_of(rule.branches[0].provision)
    return caution("run_low", bound.words.cautions["run_low"].says, citation)


@lru_cache(maxsize=512)
def _not_covered(entries: tuple[NotCovered, ...], bound: BoundEdition) -> tuple[Caution, ...]:
    """Say on which questions the book has no figure: one caution for all that rest on the same document."""
    words = bound.words.not_covered
    gaps: dict[tuple[Basis, str], list[NotCovered]] = {}
    for entry in entries:
        gaps.setdefault((entry.basis, bound.edition.source(entry)), []).append(entry)
    found = []
    for (basis, source), of_source in gaps.items():
        topics = either_of([words.topics[entry.question] for entry in of_source])
        notes = (entry.note for entry in of_source if entry.note not in words.no_more)
        says = " ".join((words.says.format(topics=topics), *notes))
        found.append(caution("not_covered", says, bound.provenance(basis, source)))
    return tuple(found)
