"""The cautions an answer carries: what whoever acts on it must know, whatever the verdict."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.core.interval import EITHER
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YesNoFacts
from mendgauge.rulebooks.schema.book import Basis
from mendgauge.rules.binding import BoundRules
from mendgauge.rules.engine import BoundRule
from mendgauge.wording import CautionWords
from mendgauge.wording.quotes import QuoteCaveat


class Caution(msgspec.Struct, frozen=True, kw_only=True, gc=False):
    """Something to know before acting."""

    code: Annotated[str, Meta(description="The caution, by name.", examples=["inspection_decides"])]
    says: Annotated[str, Meta(description="The caution in words.")]
    basis: Annotated[Basis, Meta(description="How it is known.", examples=["published"])]
    source: Annotated[str, Meta(description="Where it comes from.")]


def worded(code: str, text: CautionWords | QuoteCaveat, **figures: str) -> Caution:
    """Return the caution that a text makes with some figures."""
    return Caution(code=code, says=text.says.format(**figures), basis=text.basis, source=text.source)


@lru_cache(maxsize=512)
def cautions_for(
    rules: BoundRules, known: YesNoFacts, broken: frozenset[str], bound: BoundEdition
) -> tuple[Caution, ...]:
    """Return the cautions that a tyre calls for under its rules, of which `broken` names those surely broken.

    Kept: tyres in a fleet differ little in these, and wording them anew would take 5 µs of a decision's 40.
    """
    codes = (
        ("inspection_decides", True),
        ("maker_silent", known.maker_permits == EITHER),
        ("speed_rating", True),
        ("flammable_inside", "sealant" in broken),
    )
    return (
        *(worded(code, bound.words.cautions[code]) for code, due in codes if due),
        *(_run_low(rule, bound) for rule in rules.tyre if rule.name == "run_low" and rule.name in broken),
        *_not_covered(rules, bound),
    )


def _run_low(rule: BoundRule[TyreFacts], bound: BoundEdition) -> Caution:
    """Say what running low asks for, as the provision has it that the tyre is judged by."""
    provision = rule.branches[0].provision
    return Caution(
        code="run_low",
        says=bound.words.cautions["run_low"].says,
        basis=provision.basis,
        source=bound.edition.source(provision),
    )


def _not_covered(rules: BoundRules, bound: BoundEdition) -> Iterator[Caution]:
    """Say of every question on which the book has no figure that it has none."""
    for entry in rules.not_covered:
        topic = bound.words.topics[entry.question]
        yield Caution(
            code="not_covered",
            says=bound.words.not_covered.format(topic=topic, note=entry.note),
            basis=entry.basis,
            source=bound.edition.source(entry),
        )
