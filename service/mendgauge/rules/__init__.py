"""The rules: one small module a question of the trade, each a pure function of observations and a dated limit.

The two lists below are the table of contents; `bind_rules` turns them into the rules of one edition for one tyre.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import lru_cache
from typing import Any, Final

import msgspec

from mendgauge.facts import Frame, InjuryFacts, TyreFacts
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
from mendgauge.rules.rule import (
    NOTHING_MEASURED,
    Branch,
    Question,
    Rule,
    Setting,
    applying,
    bind,
    first_that_applies,
)
from mendgauge.rules.rule import condition as condition_of
from mendgauge.words import VehicleKind

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


class Rules(msgspec.Struct, frozen=True, eq=False):
    """Every rule of an edition that speaks of a tyre on a day, and what the edition does not cover."""

    tyre: tuple[Rule[TyreFacts], ...]
    injury: tuple[Rule[InjuryFacts], ...]
    not_covered: tuple[NotCovered, ...]
    source: Callable[[Provision], str]


@lru_cache(maxsize=4096)
def bind_rules(edition: Edition, kind: VehicleKind, frame: Frame, on: date) -> Rules:
    """The rules of an edition for a tyre of a marking on a kind of vehicle, as in force on a day."""
    of = frame.classes[kind]

    def in_force(provisions: tuple[Provision, ...]) -> tuple[Any, ...]:
        return tuple(entry for entry in provisions if of in entry.classes and entry.in_force(on))

    beyond = [_beyond(entry, kind, frame) for entry in in_force(edition.book.beyond)]
    injury_setting = Setting(
        kind,
        frame,
        beyond_minor=_settled_beyond(beyond, "minor"),
        beyond_sidewall=_settled_beyond(beyond, "sidewall"),
        beyond_bead=_settled_beyond(beyond, "bead"),
        looks_at=tuple(fact for branch in beyond for fact in branch.looks_at),
    )
    tyre_setting = msgspec.structs.replace(injury_setting, looks_at=())

    def bound(questions: tuple[Question[Any, Any], ...], setting: Setting) -> tuple[Rule[Any], ...]:
        rules = (bind(question, in_force(question.provisions(edition)), setting) for question in questions)
        return tuple(rule for rule in rules if rule is not None)

    return Rules(
        bound(TYRE_QUESTIONS, tyre_setting),
        bound(INJURY_QUESTIONS, injury_setting),
        in_force(edition.book.not_covered),
        edition.source,
    )


def _beyond(entry: Beyond, kind: VehicleKind, frame: Frame) -> Branch[TyreFacts]:
    effect = EFFECT[entry.effect]
    applies, looks_at = condition_of(entry, kind, frame)
    return Branch(entry, applies, lambda _tyre: effect, lambda _tyre: NOTHING_MEASURED, looks_at)


def _settled_beyond(beyond: list[Branch[TyreFacts]], what: str) -> Callable[[TyreFacts], Outcome]:
    """What an injury beyond a minor repair comes to; it ends the tyre where the book has no word for it."""
    branches = applying([branch for branch in beyond if branch.provision.about == what])
    return first_that_applies(branches, otherwise=ENDS) if branches else lambda _tyre: ENDS
