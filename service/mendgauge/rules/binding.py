"""The rules of an edition for a tyre: the table of contents of `rules/`, and its binding to use and marking.

Binding costs 20 times what judging does, so bound rules are kept: one set for all markings of the same width and speed,
made of rules that are the same for every marking wherever nothing in them depends on it. The date is in the edition
(see `Edition.in_force`), so a day adds nothing to what is kept.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any, Final, Literal, TypeAlias

import msgspec

from mendgauge.core.vocabulary import VehicleKind
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import InjuryFacts, TyreFacts
from mendgauge.facts.yes_no import YES_NO_FACTS, YesNoFacts
from mendgauge.rulebooks.resolver import condition_of, provisions_for, tests_marking
from mendgauge.rulebooks.schema.book import Beyond, Edition, NotCovered
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


_List: TypeAlias = Literal["tyre", "injury", "position"]
_LISTS: Final[dict[_List, tuple[RuleDefinition[Any, Any], ...]]] = {
    "tyre": TYRE_RULES,
    "injury": INJURY_RULES,
    "position": POSITION_RULES,
}


class BoundRules(msgspec.Struct, frozen=True, eq=False, gc=False):
    """Every rule of an edition that speaks of a tyre, and what the edition does not cover.

    Of the rules on the tyre, `by_yes_no` depend on yes/no facts alone, `by_measure` are the others.
    """

    tyre: tuple[BoundRule[TyreFacts], ...]
    by_yes_no: tuple[BoundRule[Any], ...]
    by_measure: tuple[BoundRule[TyreFacts], ...]
    injury: tuple[BoundRule[InjuryFacts], ...]
    not_covered: tuple[NotCovered, ...]


@lru_cache(maxsize=512)
def bind_rules(edition: Edition, use: Use, size_and_speed: SizeAndSpeed) -> BoundRules:
    """Return the rules of an edition, as in force on the day, on repairing a tyre of a size and speed in a use."""
    of_tyre = _bound("tyre", edition, use, size_and_speed)
    return BoundRules(
        of_tyre,
        tuple(rule for rule in of_tyre if YES_NO_FACTS.issuperset(rule.depends_on)),
        tuple(rule for rule in of_tyre if not YES_NO_FACTS.issuperset(rule.depends_on)),
        _bound("injury", edition, use, size_and_speed),
        provisions_for(edition, "not_covered", use.tyre_class),
    )


@lru_cache(maxsize=512)
def bind_position_rules(edition: Edition, use: Use, size_and_speed: SizeAndSpeed) -> BoundRules:
    """Return the rules of an edition, as in force on the day, on where a tyre may run in a use."""
    rules = _bound("position", edition, use, size_and_speed)
    return BoundRules(rules, (), rules, (), ())


@lru_cache(maxsize=512)
def judged_by_yes_no(rules: BoundRules, known: YesNoFacts) -> tuple[tuple[BoundRule[Any], Outcome], ...]:
    """Return the outcomes of rules that depend on yes/no facts alone, without those met."""
    judged = ((rule, rule.judge(known)) for rule in rules.by_yes_no)
    return tuple((rule, found) for rule, found in judged if found != MET)


def _bound(which: _List, edition: Edition, use: Use, size_and_speed: SizeAndSpeed) -> tuple[BoundRule[Any], ...]:
    shared = _same_for_every_marking(which, edition, use)
    setting = _setting(which, edition, use, size_and_speed)
    rules = (
        shared[definition.name]
        if definition.name in shared
        else bind(definition, definition.provisions(edition, use.tyre_class), setting)
        for definition in _LISTS[which]
    )
    return tuple(rule for rule in rules if rule is not None)


@lru_cache(maxsize=512)
def _same_for_every_marking(which: _List, edition: Edition, use: Use) -> dict[str, BoundRule[Any] | None]:
    """Return the rules of a list that do not depend on the marking, by name; none where the edition has no such."""
    if which == "injury" and any(map(tests_marking, provisions_for(edition, "beyond", use.tyre_class))):
        return {}
    setting = _setting(which, edition, use, None)
    found: dict[str, BoundRule[Any] | None] = {}
    for definition in _LISTS[which]:
        provisions = definition.provisions(edition, use.tyre_class)
        if not definition.by_marking and not any(map(tests_marking, provisions)):
            found[definition.name] = bind(definition, provisions, setting)
    return found


def _setting(which: _List, edition: Edition, use: Use, size_and_speed: SizeAndSpeed | None) -> Setting:
    """Return what rules may know beyond their provisions; those on an injury, what lies beyond a minor repair."""
    if which != "injury":
        return Setting(use.kind, size_and_speed, _ends, _ends, _ends, ())
    by_marking = any(map(tests_marking, provisions_for(edition, "beyond", use.tyre_class)))
    beyond = _beyond_minor(edition, use, size_and_speed if by_marking else None)
    return msgspec.structs.replace(beyond, size_and_speed=size_and_speed)


@lru_cache(maxsize=512)
def _beyond_minor(edition: Edition, use: Use, size_and_speed: SizeAndSpeed | None) -> Setting:
    """Return what lies beyond a minor repair; of no marking where none of it has a condition on that."""
    entries = provisions_for(edition, "beyond", use.tyre_class)
    beyond = [_beyond(entry, use.kind, size_and_speed) for entry in entries]
    return Setting(
        use.kind,
        size_and_speed,
        beyond_minor=_settled_beyond(beyond, "minor"),
        beyond_sidewall=_settled_beyond(beyond, "sidewall"),
        beyond_bead=_settled_beyond(beyond, "bead"),
        depends_on=tuple(fact for branch in beyond for fact in branch.depends_on),
    )


def _ends(_: TyreFacts) -> Outcome:
    return ENDS


def _beyond(entry: Beyond, kind: VehicleKind, size_and_speed: SizeAndSpeed | None) -> Branch[TyreFacts]:
    effect = EFFECT[entry.effect]
    applies, depends_on = condition_of(entry, kind, size_and_speed)
    return Branch(entry, applies, lambda _tyre: effect, lambda _tyre: NOTHING_MEASURED, depends_on)


def _settled_beyond(beyond: list[Branch[TyreFacts]], what: str) -> Callable[[TyreFacts], Outcome]:
    """Return what an injury beyond a minor repair comes to; it ends the tyre where the book does not say."""
    branches = applying([branch for branch in beyond if branch.provision.about == what])
    return first_that_applies(branches, otherwise=ENDS) if branches else _ends
