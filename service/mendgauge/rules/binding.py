"""The rules: one small module a question of the trade, each a pure function of observations and a dated limit.

The lists below are the table of contents: what decides of a repair, and what of the position the tyre goes to after it.
`bind_rules` and `bind_position_rules` turn them into the rules of one edition for one tyre.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import lru_cache
from typing import Any, Final

import msgspec

from mendgauge.core.vocabulary import VehicleKind
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import InjuryFacts, TyreFacts
from mendgauge.facts.yes_no import YES_NO_FACTS, YesNoFacts
from mendgauge.rulebooks.schema.book import Beyond, Edition, NotCovered, Provision
from mendgauge.rules.engine import (
    NOTHING_MEASURED,
    BoundRule,
    Branch,
    RuleDefinition,
    Setting,
    applying,
    bind,
    first_that_applies,
)
from mendgauge.rules.engine import condition as condition_of
from mendgauge.rules.outcome import EFFECT, ENDS, MET, Outcome
from mendgauge.rules.position import axle_load, axle_match, dual_match, front_axle, service_tread, speed_symbol
from mendgauge.rules.repair import (
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
from mendgauge.tyre.marking_facts import MarkingFacts
from mendgauge.tyre.tyre_class import TyreClass, Use

TYRE_RULES: Final[tuple[RuleDefinition[TyreFacts, Any], ...]] = (
    coverage.DEFINITION,
    *condition.DEFINITIONS,
    *special_tyre.DEFINITIONS,
    maker_policy.DEFINITION,
    maker_policy.COUNT,
    tread_depth.DEFINITION,
    age.LIMIT,
    age.WARNING,
    history.RUN_LOW,
    history.SEALANT,
    earlier_repairs.COUNT,
    earlier_repairs.PROPER,
)

INJURY_RULES: Final[tuple[RuleDefinition[InjuryFacts, Any], ...]] = (
    region.DEFINITION,
    depth.DEFINITION,
    depth.CUT_LENGTH,
    injury_size.DEFINITION,
    band.DEFINITION,
    lean.DEFINITION,
    lean.ONE_PIECE,
    earlier_repairs.SPACING,
    earlier_repairs.OVERLAP,
)

POSITION_RULES: Final[tuple[RuleDefinition[PositionFacts, Any] | RuleDefinition[TyreFacts, Any], ...]] = (
    *front_axle.DEFINITIONS,
    age.IN_POSITION,
    service_tread.DEFINITION,
    speed_symbol.DEFINITION,
    axle_load.DEFINITION,
    *axle_match.MATCHES,
    dual_match.DEFINITION,
    *axle_match.TREADS,
)


class BoundRules(msgspec.Struct, frozen=True, eq=False):
    """Every rule of an edition that speaks of a tyre on a day, and what the edition does not cover.

    Of the rules on the tyre, `by_yes_no` look at nothing but what is told of it, `by_measure` are the others.
    """

    tyre: tuple[BoundRule[TyreFacts], ...]
    by_yes_no: tuple[BoundRule[Any], ...]
    by_measure: tuple[BoundRule[TyreFacts], ...]
    injury: tuple[BoundRule[InjuryFacts], ...]
    not_covered: tuple[NotCovered, ...]
    source: Callable[[Provision], str]


@lru_cache(maxsize=4096)
def bind_rules(edition: Edition, use: Use, marking_facts: MarkingFacts, on: date) -> BoundRules:
    """The rules of an edition for a use of a tyre of a marking, as in force on a day."""
    in_force = _in_force(use.tyre_class, on)
    beyond = [_beyond(entry, use.kind, marking_facts) for entry in in_force(edition.book.beyond)]
    injury_setting = Setting(
        use.kind,
        marking_facts,
        beyond_minor=_settled_beyond(beyond, "minor"),
        beyond_sidewall=_settled_beyond(beyond, "sidewall"),
        beyond_bead=_settled_beyond(beyond, "bead"),
        depends_on=tuple(fact for branch in beyond for fact in branch.depends_on),
    )
    tyre_setting = msgspec.structs.replace(injury_setting, depends_on=())
    of_tyre = _bound(TYRE_RULES, edition, in_force, tyre_setting)
    return BoundRules(
        of_tyre,
        tuple(rule for rule in of_tyre if YES_NO_FACTS.issuperset(rule.depends_on)),
        tuple(rule for rule in of_tyre if not YES_NO_FACTS.issuperset(rule.depends_on)),
        _bound(INJURY_RULES, edition, in_force, injury_setting),
        in_force(edition.book.not_covered),
        edition.source,
    )


@lru_cache(maxsize=4096)
def bind_position_rules(edition: Edition, use: Use, marking_facts: MarkingFacts, on: date) -> BoundRules:
    """The rules of an edition on where a tyre of a marking may run in a use, as in force on a day."""
    in_force = _in_force(use.tyre_class, on)
    setting = Setting(
        use.kind, marking_facts, beyond_minor=_ends, beyond_sidewall=_ends, beyond_bead=_ends, depends_on=()
    )
    rules = _bound(POSITION_RULES, edition, in_force, setting)
    return BoundRules(rules, (), rules, (), (), edition.source)


@lru_cache(maxsize=4096)
def judged_by_yes_no(rules: BoundRules, known: YesNoFacts) -> tuple[tuple[BoundRule[Any], Outcome], ...]:
    """What the rules that look at nothing else make of what is told of a tyre; those that are met are left out."""
    judged = ((rule, rule.judge(known)) for rule in rules.by_yes_no)
    return tuple((rule, found) for rule, found in judged if found != MET)


def _in_force(of: TyreClass, on: date) -> Callable[[tuple[Provision, ...]], tuple[Any, ...]]:
    """The provisions that hold for a class of tyre on a day."""
    return lambda provisions: tuple(entry for entry in provisions if of in entry.classes and entry.in_force(on))


def _bound(
    questions: tuple[RuleDefinition[Any, Any], ...],
    edition: Edition,
    in_force: Callable[[tuple[Provision, ...]], tuple[Any, ...]],
    setting: Setting,
) -> tuple[BoundRule[Any], ...]:
    rules = (bind(question, in_force(question.provisions(edition)), setting) for question in questions)
    return tuple(rule for rule in rules if rule is not None)


def _ends(_: TyreFacts) -> Outcome:
    return ENDS


def _beyond(entry: Beyond, kind: VehicleKind, marking_facts: MarkingFacts) -> Branch[TyreFacts]:
    effect = EFFECT[entry.effect]
    applies, depends_on = condition_of(entry, kind, marking_facts)
    return Branch(entry, applies, lambda _tyre: effect, lambda _tyre: NOTHING_MEASURED, depends_on)


def _settled_beyond(beyond: list[Branch[TyreFacts]], what: str) -> Callable[[TyreFacts], Outcome]:
    """What an injury beyond a minor repair comes to; it ends the tyre where the book has no word for it."""
    branches = applying([branch for branch in beyond if branch.provision.about == what])
    return first_that_applies(branches, otherwise=ENDS) if branches else _ends
