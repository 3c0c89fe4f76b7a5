"""A rule looks at no fact that it does not name, and names none that it never looks at.

Every rule of every edition, and every house rule, is judged on facts that record what is read of them. What is derived
from other facts counts as reading those: it is worked out anew by the method or property that derives it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from itertools import cycle
from typing import Any, Final, TypeAlias

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.case.fields import FIELDS
from mendgauge.case.house_rules import HouseRules
from mendgauge.facts.injury import EarlierFacts, InjuryFacts
from mendgauge.facts.position import MateFacts, PositionFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.judging.missing import FACTS, NEIGHBOURS
from mendgauge.rulebooks import Edition, list_editions
from mendgauge.rules.binding import bind_position_rules, bind_rules
from mendgauge.rules.engine import BoundRule
from mendgauge.rules.house import bind_house_position_rules, bind_house_rules
from mendgauge.tyre.marking_facts import marking_facts_of
from mendgauge.tyre.tyre_class import Use

CONTEXT: Final = frozenset(
    {
        # What rules are bound to, and what holds for every tyre of its class.
        *("use", "kind", "tyre_class", "assumed", "tyre", "index"),
        # How many injuries there are, which is never asked: a case without any speaks of one.
        "injuries",
        # Whether it is the spare, which has no mates: they are asked for instead, and a spare with mates is refused.
        "axle",
        # A limit of the maker's that nobody knows of is a caution and no open rule.
        "maker_max_repairs",
        # Where the repairs lie beside each other: what finding that reads is recorded.
        "liner",
    }
)
"""Attributes that are no facts: nobody can be asked for them to settle a rule."""

KNOWN_BY: Final = {
    "earlier": "earlier_known",
    "earlier_count": "earlier_known",
    "mates": "mates_known",
}
"""Attributes that are known when a fact is."""

PARTS: Final = frozenset({"given", "marking_facts", "yes_no", "traits", "conditions"})
"""Attributes that hold several facts by name."""

READ_BY_RULE: TypeAlias = list[tuple[str, frozenset[str], frozenset[str]]]
"""Of every rule its name, what it names, and what it read."""


class Reads:
    """What has been read while one rule judges one subject."""

    def __init__(self) -> None:
        self.on = False
        self.subject: object = None
        self.facts: set[str] = set()

    def record(self, of: Any, prefix: str, name: str) -> Any:
        """Return an attribute and record the facts that reading it reads."""
        if not self.on or name in CONTEXT or name.startswith("_"):
            return object.__getattribute__(of, name)
        if name in PARTS and not prefix.startswith("mates"):
            return Part(self, self._unrecorded(of, name), name)
        derive = getattr(type(of), f"_{name}", None)
        fact = KNOWN_BY.get(name, prefix + name)
        if fact in FACTS:
            self.facts.add(fact)
        elif derive is not None:
            derive(of)
        else:
            assert isinstance(getattr(type(of), name, None), property), f"{prefix}{name} is neither a fact nor derived"
            return object.__getattribute__(of, name)
        return self._unrecorded(of, name)

    def _unrecorded(self, of: Any, name: str) -> Any:
        self.on = False
        try:
            return object.__getattribute__(of, name)
        finally:
            self.on = True


class Part:
    """A part of the facts that is read by name: what was given of an injury, the marking, the yes-or-no facts."""

    def __init__(self, reads: Reads, plain: Any, name: str) -> None:
        self.reads, self.plain, self.name = reads, plain, name

    def __getattr__(self, name: str) -> Any:
        value = getattr(self.plain, name)
        if name in PARTS:
            return Part(self.reads, value, name)
        facts = FIELDS[f"/injuries/*/{name}"].entry.facts if self.name == "given" else (name,)
        self.reads.facts.update(fact for fact in facts if fact in FACTS)
        return value

    def __getitem__(self, name: str) -> Any:
        self.reads.facts.add(name)
        return self.plain[name]


READS: Final = Reads()


class RecordedTyre(PositionFacts):
    """A tyre's facts that record what is read of them, and of everything that belongs to it."""

    __slots__ = ()

    def __init__(self, case: Case, use: Use, edition: Edition, on: date) -> None:
        super().__init__(TyreFacts(case, use, edition, on), edition)
        for injury in self.injuries:
            injury.tyre = self
            injury.__class__ = RecordedInjury
        for repair in self.earlier:
            repair.__class__ = RecordedEarlier
        for mate in self.mates:
            mate.__class__ = RecordedMate

    def __getattribute__(self, name: str) -> Any:
        return READS.record(self, "", name)


class RecordedInjury(InjuryFacts):
    """An injury's facts that record what is read of them."""

    __slots__ = ()

    def __getattribute__(self, name: str) -> Any:
        return READS.record(self, "" if self is READS.subject else "injuries.", name)


class RecordedEarlier(EarlierFacts):
    """An earlier repair's facts that record what is read of them."""

    __slots__ = ()

    def __getattribute__(self, name: str) -> Any:
        return READS.record(self, "earlier.", name)


class RecordedMate(MateFacts):
    """A mate's facts that record what is read of them."""

    __slots__ = ()

    def __getattribute__(self, name: str) -> Any:
        return READS.record(self, "mates.", name)


MARKINGS: Final = (
    "205/55R16 91V",
    "225/45ZR17 (94Y)",
    "T125/70D16 96M",
    "195/75R16C 107/105R",
    "315/80R22.5",
    "120/70R17M/C 58W",
    "MT90B16",
)
DAYS: Final = (date(2021, 1, 31), date(2026, 11, 24))

HOUSE: Final = msgspec.convert(
    {
        "max_injury_mm": 3,
        "max_repairs": 1,
        "min_spacing_mm": 700,
        "min_tread_mm": 4,
        "max_age_years": 5,
        "max_lean_deg": 10,
        "refuse_steer_axle": True,
        "refuse_regions": ["shoulder"],
        "refuse_special_tyres": ["run_flat", "retread"],
        "refuse_speed_v_and_above": True,
        "refuse_without_maker_approval": True,
    },
    HouseRules,
)

_NEAR: Final = {"depth": "through", "region": "tread", "diameter_mm": 5, "stage": "found", "across_mm": 20}
CASES: Final[tuple[dict[str, Any], ...]] = (
    {},
    {"injuries": [{}, {}], "earlier_repairs": [{}], "in_service": {"axle_mates": [{}, {}]}},
    {"injuries": [{"depth": "through"}, {"depth": "to_cord"}], "position": {"fitment": "dual"}},
    {"injuries": [_NEAR, {**_NEAR, "measured_from": "inside"}], "earlier_repairs": [{"measured_from": "inside"}]},
    {
        "injuries": [{**_NEAR, "measured_from": "outside"}, {**_NEAR, "measured_from": "outside", "around_mm": 300}],
        "earlier_repairs": [{"measured_from": "outside", "proper": True, "across_mm": 0, "around_mm": 100}],
        "in_service": {"axle_mates": [{"place": "dual_mate", "marking": "315/80R22.5 156/150L"}]},
        "position": {"axle": "drive", "fitment": "dual_inner"},
    },
    {"injuries": [{**_NEAR, "other_side_across_mm": 25}], "position": {"axle": "front", "fitment": "single"}},
    {
        "injuries": [{**_NEAR, "diameter_mm": 40, "lean_deg": 60}],
        "vehicle": {"gross_mass_kg": 3600, "max_speed_kmh": 300},
    },
    {"injuries": [{"depth": "rubber_only"}], "tyre": {"maker_policy": {"max_repairs": 1}}},
    {"injuries": [{"depth": "to_cord", "diameter_mm": 60}], "earlier_repairs": []},
)


def _cases() -> Iterator[Case]:
    for marking in MARKINGS:
        for more in CASES:
            tyre = {"marking": marking, **more.get("tyre", {})}
            yield msgspec.convert({"rulebook": "gb", **more, "tyre": tyre}, Case)


def _judge_all(rules: tuple[BoundRule[Any], ...], subjects: list[Any]) -> Iterator[tuple[str, set[str], set[str]]]:
    """Judge every subject by every rule: yield the rule's name, what it names, and what it read."""
    for rule in rules:
        named = set(rule.depends_on)
        if "neighbours" in named:
            named.update(NEIGHBOURS)
        for subject in subjects:
            subject.tyre.liner = None
            READS.facts, READS.subject, READS.on = set(), subject, True
            try:
                rule.outcome(subject)
            finally:
                READS.on = False
            yield rule.name, named, READS.facts


def _bound(tyre: RecordedTyre, edition: Any) -> Iterator[tuple[str, set[str], set[str]]]:
    repair = bind_rules(edition, tyre.use, tyre.marking_facts.size_and_speed)
    position = bind_position_rules(edition, tyre.use, tyre.marking_facts.size_and_speed)
    house, house_position = bind_house_rules(HOUSE), bind_house_position_rules(HOUSE)
    yield from _judge_all((*repair.tyre, *house.tyre), [tyre])
    yield from _judge_all((*repair.injury, *house.injury), tyre.injuries)
    for name, named, read in _judge_all((*position.tyre, *house_position.tyre), [tyre]):
        yield f"position: {name}", named, read


@pytest.fixture(scope="module")
def judged() -> READ_BY_RULE:
    """Every rule by name, with what it names and what it read, each combination once."""
    found = set()
    for edition in list_editions():
        for case in _cases():
            for use, on in zip(marking_facts_of(case.tyre.marking).uses_on[None], cycle(DAYS), strict=False):
                in_force = edition.in_force(on)
                for name, named, read in _bound(RecordedTyre(case, use, in_force, on), in_force):
                    found.add((name, frozenset(named), frozenset(read)))
    return sorted(found, key=lambda one: one[0])


def test_a_rule_looks_at_no_fact_that_it_does_not_name(
    judged: list[tuple[str, frozenset[str], frozenset[str]]],
) -> None:
    unnamed: dict[str, set[str]] = defaultdict(set)
    for name, named, read in judged:
        if read - named:
            unnamed[name] |= read - named
    assert dict(unnamed) == {}


def test_a_rule_names_no_fact_that_it_never_looks_at(judged: READ_BY_RULE) -> None:
    named: dict[str, set[str]] = defaultdict(set)
    read: dict[str, set[str]] = defaultdict(set)
    for name, names, reads in judged:
        named[name] |= names - {"neighbours"}
        read[name] |= reads
    assert {name: named[name] - read[name] for name in named if named[name] - read[name]} == {}
