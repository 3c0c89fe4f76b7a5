"""A fleet's own rules: they stand beside the book's and can only be stricter.

Each is one more rule on the same tyre, so no house rule ever makes a verdict better. One that asks for less than the
book is a mistake of whoever sent it, and is refused. Their limits come with the case and name it as their source.

>>> (rule,) = bind_house_rules(HouseRules(max_repairs=2)).tyre
>>> rule.name, rule.branches[0].provision.source
('house_repair_count', 'House rule sent with the case')
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache
from typing import Any, Final, get_args

import msgspec

from mendgauge.case.house_rules import HouseRules
from mendgauge.core.errors import Flaw
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, any_of, at_most, negate
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.rulebooks.provision import Provision
from mendgauge.rules.engine import BoundRule, Branch, Evidence, S, may_apply
from mendgauge.rules.outcome import ENDS, NOT_HERE, Outcome, outcome
from mendgauge.rules.repair.earlier_repairs import PLACE, count_outcome, distance, distance_evidence, spacing_outcome
from mendgauge.rules.repair.lean import lean
from mendgauge.rules.repair.tread_depth import tread_depth
from mendgauge.tyre.tyre_class import TyreClass

HOUSE: Final = "House rule sent with the case"


class HouseRuleSet(msgspec.Struct, frozen=True, eq=False):
    """The rules a house adds to the book's."""

    tyre: tuple[BoundRule[TyreFacts], ...]
    injury: tuple[BoundRule[InjuryFacts], ...]


NO_HOUSE_RULES: Final = HouseRuleSet((), ())


@lru_cache(maxsize=256)
def bind_house_rules(house: HouseRules) -> HouseRuleSet:
    """Return the rules that a house's settings come to."""
    return HouseRuleSet(tuple(_tyre_rules(house)), tuple(_injury_rules(house)))


@lru_cache(maxsize=256)
def bind_house_position_rules(house: HouseRules) -> HouseRuleSet:
    """Return the rules on a position that a house's settings come to: it keeps repaired tyres off its steer axles."""
    return HouseRuleSet(tuple(_position_rules(house)), ())


def _position_rules(house: HouseRules) -> Iterator[BoundRule[Any]]:
    def judge(tyre: PositionFacts) -> Outcome:
        return outcome(any_of(negate(tyre.steered), negate(tyre.repaired)), NOT_HERE)

    if house.refuse_steer_axle:
        yield _rule("house_steer_axle", ("steered", "repaired"), judge)


def _rule(
    name: str,
    depends_on: tuple[str, ...],
    judge: Callable[[S], Outcome],
    evidence: Callable[[S], Evidence] | None = None,
    *,
    channel: bool = False,
    exact: bool = True,
) -> BoundRule[S]:
    provision = Provision(classes=get_args(TyreClass), source=HOUSE, basis="house_rule")
    branches = (Branch(provision, YES, judge, evidence, ()),)
    return BoundRule(name, depends_on, judge, branches, channel=channel, exact=exact, measures=evidence is not None)


def _tyre_rules(house: HouseRules) -> Iterator[BoundRule[TyreFacts]]:
    if (most := house.max_repairs) is not None:
        yield _rule(
            "house_repair_count",
            ("earlier_known", "injuries.through"),
            lambda tyre: count_outcome(tyre, most),
            lambda tyre: Evidence(tyre.earlier_count.plus(tyre.repairs_needed), most, "repairs"),
        )
    if (least := house.min_tread_mm) is not None:
        yield _rule(
            "house_tread_depth",
            ("tread_depth",),
            lambda tyre: outcome(tread_depth(tyre.tread_depth, least, inclusive=True), ENDS),
            lambda tyre: Evidence(tyre.tread_depth, least, "mm", at_least=True),
        )
    if (oldest := house.max_age_years) is not None:
        yield _rule(
            "house_age",
            ("age",),
            lambda tyre: outcome(at_most(tyre.age, oldest), ENDS),
            lambda tyre: Evidence(tyre.age, oldest, "years"),
        )
    if house.refuse_steer_axle:
        yield _rule("house_steer_axle", ("steered",), lambda tyre: outcome(negate(tyre.steered), ENDS))
    if house.refuse_speed_v_and_above:
        yield _rule("house_speed", ("v_or_above",), lambda tyre: outcome(negate(tyre.v_or_above), ENDS))
    if house.refuse_without_maker_approval:
        yield _rule("house_maker_approval", ("maker_permits",), lambda tyre: outcome(tyre.maker_permits, ENDS))
    for kind in house.refuse_special_tyres:
        yield _rule(f"house_{kind}", (kind,), _refuse_trait(kind))


def _refuse_trait(kind: str) -> Callable[[TyreFacts], Outcome]:
    return lambda tyre: outcome(negate(tyre.traits[kind]), ENDS)


def _injury_rules(house: HouseRules) -> Iterator[BoundRule[InjuryFacts]]:
    if (largest := house.max_injury_mm) is not None:
        yield _rule(
            "house_injury_size",
            ("diameter", "stages", "through"),
            lambda injury: outcome(at_most(_size(injury), largest), ENDS),
            lambda injury: Evidence(_size(injury), largest, "mm"),
            channel=True,
        )
    if (steepest := house.max_lean_deg) is not None:
        yield _rule(
            "house_lean",
            ("lean", "through"),
            lambda injury: outcome(lean(injury.lean, steepest), ENDS),
            lambda injury: Evidence(injury.lean, steepest, "deg"),
            channel=True,
        )
    if (least := house.min_spacing_mm) is not None:
        keep = distance(least)
        yield _rule(
            "house_spacing",
            PLACE,
            lambda injury: spacing_outcome(injury, lambda _: keep),
            lambda injury: distance_evidence(injury, least),
            channel=True,
            exact=False,
        )
    if house.refuse_regions:
        refused = frozenset(house.refuse_regions)
        yield _rule("house_region", ("regions",), lambda injury: outcome(_outside(injury, refused), ENDS))


def _outside(injury: InjuryFacts, refused: frozenset[str]) -> Truth:
    """Return whether the injury lies in none of the refused regions."""
    inside = [where in refused for where in injury.regions]
    if all(inside):
        return NO
    return EITHER if any(inside) else YES


def _size(injury: InjuryFacts) -> Interval:
    """Return the size of a hole as found, or of a channel by its cutter, mm; both where it may be either."""
    if injury.stages == ("found",):
        return injury.diameter
    return injury.nominal if injury.stages == ("prepared",) else injury.diameter.hull(injury.nominal)


class _Counterpart(msgspec.Struct, frozen=True):
    """The book's own limit on what a house setting limits."""

    setting: str
    rule: str
    limit: Callable[[Any], float]
    unit: str
    at_least: bool = False


_COUNTERPARTS: Final = (
    _Counterpart("max_injury_mm", "injury_size", lambda entry: entry.found_to_mm, "mm"),
    _Counterpart("max_repairs", "repair_count", lambda entry: entry.max_repairs, "repairs"),
    _Counterpart("min_spacing_mm", "spacing", lambda entry: entry.min_mm, "mm", at_least=True),
    _Counterpart("min_tread_mm", "tread_depth", lambda entry: entry.min_mm, "mm", at_least=True),
    _Counterpart("max_lean_deg", "lean", lambda entry: entry.max_deg, "degrees"),
    _Counterpart("max_one_piece_lean_deg", "one_piece_lean", lambda entry: entry.max_deg, "degrees"),
)


def loosening(house: HouseRules, tyre: TyreFacts, rules: Iterable[BoundRule[Any]], book: str) -> Iterator[Flaw]:
    """Yield every setting of a house that asks for less than the book does, naming both values.

    Where the book's limit hangs on what is not known, a setting is held against the loosest it may be.
    """
    limits = {rule.name: may_apply(rule.branches, tyre) for rule in rules}
    for one in _COUNTERPARTS:
        asked = getattr(house, one.setting)
        branches = limits.get(one.rule)
        if asked is None or not branches:
            continue
        of_book = [one.limit(branch.provision) for branch in branches]
        loosest = min(of_book) if one.at_least else max(of_book)
        if asked < loosest if one.at_least else asked > loosest:
            side = "at least" if one.at_least else "at most"
            what = (
                f"A house rule may only be stricter than the book: this says {asked:g} {one.unit}, "
                f"rulebook {book} {loosest:g}. Make it {side} {loosest:g}, or leave it out."
            )
            yield Flaw(f"/house_rules/{one.setting}", what)
