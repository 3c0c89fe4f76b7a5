"""The rules of an edition for a tyre: the table of contents of `rules/`, and its binding to use and marking.

Binding costs 20 times what judging does, so bound rules are kept: one set for all markings that no condition of the
edition distinguishes, of which there are a handful. The date is in the edition (see `Edition.in_force`), so a day adds
nothing to what is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final

import msgspec

from mendgauge.core.vocabulary import VehicleKind
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YES_NO_FACTS
from mendgauge.rulebooks.resolver import condition_of, provisions_for, representative
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rulebooks.schema.repair import Beyond, NotCovered
from mendgauge.rules.engine import (
    BoundRule,
    Branch,
    RuleDefinition,
    Setting,
    applying,
    bind,
    first_that_applies,
)
from mendgauge.rules.outcome import EFFECT, ENDS, Outcome
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
    plugged,
    region,
    special_tyre,
    tread_depth,
)
from mendgauge.tyre.marking_facts import SizeAndSpeed
from mendgauge.tyre.tyre_class import Use

TYRE_RULES: Final[tuple[RuleDefinition[TyreFacts, Any], ...]] = (
    coverage.DEFINITION,
    *condition.DEFINITIONS,
    *special_tyre.DEFINITIONS,
    maker_policy.DEFINITION,
    maker_policy.COUNT,
    tread_depth.DEFINITION,
    tread_depth.WARNING,
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
    plugged.DEFINITION,
    earlier_repairs.SAME_HOLE,
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


class BoundRules(msgspec.Struct, frozen=True, eq=False, gc=False):
    """Every rule of an edition that speaks of a tyre, and what the edition does not cover.

    Of the rules on the tyre, `by_yes_no` depend on yes/no facts alone, `by_measure` are the others.
    """

    tyre: tuple[BoundRule[TyreFacts], ...]
    by_yes_no: tuple[BoundRule[Any], ...]
    by_measure: tuple[BoundRule[TyreFacts], ...]
    injury: tuple[BoundRule[InjuryFacts], ...]
    not_covered: tuple[NotCovered, ...]


def bind_rules(edition: Edition, use: Use, size_and_speed: SizeAndSpeed) -> BoundRules:
    """Return the rules of an edition, as in force on the day, on repairing a tyre of a size and speed in a use."""
    return _rules_on_repair(edition, use, representative(edition, size_and_speed))


def bind_position_rules(edition: Edition, use: Use, size_and_speed: SizeAndSpeed) -> BoundRules:
    """Return the rules of an edition, as in force on the day, on where a tyre may run in a use."""
    return _rules_on_position(edition, use, representative(edition, size_and_speed))


@lru_cache(maxsize=512)
def _rules_on_repair(edition: Edition, use: Use, marked: SizeAndSpeed) -> BoundRules:
    plain = Setting(use.kind, marked, _ends, _ends, _ends, ())
    of_tyre = _bound(TYRE_RULES, edition, use, plain)
    return BoundRules(
        of_tyre,
        tuple(rule for rule in of_tyre if YES_NO_FACTS.issuperset(rule.depends_on)),
        tuple(rule for rule in of_tyre if not YES_NO_FACTS.issuperset(rule.depends_on)),
        _bound(INJURY_RULES, edition, use, _beyond_minor(edition, use, marked)),
        provisions_for(edition, "not_covered", use.tyre_class),
    )


@lru_cache(maxsize=512)
def _rules_on_position(edition: Edition, use: Use, marked: SizeAndSpeed) -> BoundRules:
    rules = _bound(POSITION_RULES, edition, use, Setting(use.kind, marked, _ends, _ends, _ends, ()))
    return BoundRules(rules, (), rules, (), ())


def _bound(
    definitions: tuple[RuleDefinition[Any, Any], ...], edition: Edition, use: Use, setting: Setting
) -> tuple[BoundRule[Any], ...]:
    rules = (bind(one, one.provisions(edition, use.tyre_class), setting) for one in definitions)
    return tuple(rule for rule in rules if rule is not None)


def _beyond_minor(edition: Edition, use: Use, marked: SizeAndSpeed) -> Setting:
    """Return the setting of rules on an injury: they may know what lies beyond a minor repair."""
    entries = provisions_for(edition, "beyond", use.tyre_class)
    beyond = [_beyond(entry, use.kind, marked) for entry in entries]
    return Setting(
        use.kind,
        marked,
        beyond_minor=_settled_beyond(beyond, "minor"),
        beyond_sidewall=_settled_beyond(beyond, "sidewall"),
        beyond_bead=_settled_beyond(beyond, "bead"),
        depends_on=tuple(fact for branch in beyond for fact in branch.depends_on),
    )


def _ends(_: TyreFacts) -> Outcome:
    return ENDS


def _beyond(entry: Beyond, kind: VehicleKind, marked: SizeAndSpeed) -> Branch[TyreFacts]:
    effect = EFFECT[entry.effect]
    applies, depends_on = condition_of(entry, kind, marked)
    return Branch(entry, applies, lambda _tyre: effect, None, depends_on)


def _settled_beyond(beyond: list[Branch[TyreFacts]], what: str) -> Callable[[TyreFacts], Outcome]:
    """Return what an injury beyond a minor repair comes to; it ends the tyre where the book does not say."""
    branches = applying([branch for branch in beyond if branch.provision.about == what])
    return first_that_applies(branches, otherwise=ENDS) if branches else _ends
