"""The rules: one small module a question of the trade, each a pure function of observations and a dated limit.

`QUESTIONS` below is the table of contents; `bind_rules` turns it into the rules of one edition for one class of tyre.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import lru_cache
from typing import Any, Final

import msgspec

from mendgauge.facts import InjuryFacts, TyreFacts
from mendgauge.rulebooks.schema import Beyond, Edition, NotCovered, Provision
from mendgauge.rules import (
    age,
    band,
    condition,
    coverage,
    depth,
    earlier_repairs,
    history,
    injury_size,
    lean,
    maker_policy,
    region,
    special_tyre,
    tread_depth,
)
from mendgauge.rules.outcome import EFFECT, ENDS, Outcome
from mendgauge.rules.rule import NOTHING_MEASURED, Branch, Question, Rule, Setting, bind, first_that_applies
from mendgauge.rules.rule import condition as applies_to
from mendgauge.vehicle_class import TyreClass

TYRE_QUESTIONS: Final[tuple[Question[TyreFacts, Any], ...]] = (
    coverage.QUESTION,
    *condition.QUESTIONS,
    *special_tyre.QUESTIONS,
    maker_policy.QUESTION,
    maker_policy.COUNT,
    tread_depth.QUESTION,
    age.LIMIT,
    age.WARNING,
    history.RUN_LOW,
    history.SEALANT,
    earlier_repairs.COUNT,
    earlier_repairs.PROPER,
)

INJURY_QUESTIONS: Final[tuple[Question[InjuryFacts, Any], ...]] = (
    region.QUESTION,
    depth.QUESTION,
    depth.CUT_LENGTH,
    injury_size.QUESTION,
    band.QUESTION,
    lean.QUESTION,
    lean.ONE_PIECE,
    earlier_repairs.SPACING,
    earlier_repairs.OVERLAP,
)


class Rules(msgspec.Struct, frozen=True):
    """Every rule of an edition that speaks of a class of tyre on a day, and what the edition does not cover."""

    tyre: tuple[Rule[TyreFacts], ...]
    injury: tuple[Rule[InjuryFacts], ...]
    not_covered: tuple[NotCovered, ...]
    source: Callable[[Provision], str]


@lru_cache(maxsize=256)
def bind_rules(edition: Edition, of: TyreClass, on: date) -> Rules:
    """The rules of an edition for a class of tyre, as in force on a day."""

    def in_force(provisions: tuple[Provision, ...]) -> tuple[Any, ...]:
        return tuple(entry for entry in provisions if of in entry.classes and entry.in_force(on))

    beyond = in_force(edition.book.beyond)
    injury_setting = Setting(
        *(_beyond(beyond, what) for what in ("minor", "sidewall", "bead")),
        looks_at=tuple(fact for entry in beyond for fact in applies_to(entry)[1]),
    )
    tyre_setting = msgspec.structs.replace(injury_setting, looks_at=())

    def bound(questions: tuple[Question[Any, Any], ...], setting: Setting) -> tuple[Rule[Any], ...]:
        found = ((question, in_force(question.provisions(edition))) for question in questions)
        return tuple(bind(question, provisions, setting) for question, provisions in found if provisions)

    return Rules(
        bound(TYRE_QUESTIONS, tyre_setting),
        bound(INJURY_QUESTIONS, injury_setting),
        in_force(edition.book.not_covered),
        edition.source,
    )


def _beyond(provisions: tuple[Beyond, ...], what: str) -> Callable[[TyreFacts], Outcome]:
    """What an injury beyond a minor repair comes to; it ends the tyre where the book has no word for it."""
    entries = tuple(entry for entry in provisions if entry.what == what)
    if not entries:
        return lambda _tyre: ENDS
    if entries[0].unconditional:
        effect = EFFECT[entries[0].effect]
        return lambda _tyre: effect
    return first_that_applies(tuple(_fixed(entry) for entry in entries), otherwise=ENDS)


def _fixed(entry: Beyond) -> Branch[TyreFacts]:
    effect = EFFECT[entry.effect]
    applies, looks_at = applies_to(entry)
    return Branch(entry, applies, lambda _tyre: effect, lambda _tyre: NOTHING_MEASURED, looks_at)
