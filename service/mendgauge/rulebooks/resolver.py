"""The one place that decides which provisions of a rulebook apply to a tyre.

Three steps, each for every heading alike: `Edition.in_force` leaves out what has ended or not begun, `provisions_for`
finds what a heading says of a class of tyre, and `condition_of` tests what else a provision is limited to. Of several
provisions on the same topic the first that certainly applies shadows those after it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from math import inf
from operator import attrgetter
from typing import Any, Literal, Protocol, TypeAlias, TypeVar

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, at_least, at_most, both, negate
from mendgauge.core.vocabulary import VehicleKind
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.schema.book import Book, Edition, Workshop, provisions
from mendgauge.tyre.marking_facts import MarkingFacts, SizeAndSpeed
from mendgauge.tyre.speed import kmh_of
from mendgauge.tyre.tyre_class import TyreClass, Use

T = TypeVar("T")

Condition: TypeAlias = Truth | Callable[[Any], Truth]
"""Whether a provision applies: settled by vehicle and marking, or a test of the other facts of the tyre."""

Applicable: TypeAlias = Sequence[tuple[Any, Truth]]
"""Provisions that may apply, each with whether it certainly does."""


class Subject(Protocol):
    """A tyre as conditions see it; the other facts that they test, it has by their names."""

    @property
    def use(self) -> Use: ...

    @property
    def marking_facts(self) -> MarkingFacts: ...


def provisions_for(edition: Edition, heading: str, of: TyreClass) -> tuple[Any, ...]:
    """Return what a heading says of a class of tyre, in its order: the workshop's provisions after the book's.

    An entry of the book that is limited to some cases leaves the workshop's standing for all others.
    """
    own, shared = _said(edition.book, heading, of), _said(edition.workshop, heading, of)
    return (*own, *_not_replaced(shared, own)) if own and shared else own or shared


def _not_replaced(shared: Iterable[Any], own: Sequence[Any]) -> tuple[Any, ...]:
    """Return provisions for which no other on the topic applies in every case in which they do."""
    on_topic: dict[str, list[Provision]] = {}
    for one in own:
        on_topic.setdefault(one.about, []).append(one)
    return tuple(
        [
            entry
            for entry in shared
            if not any(one.conditions().items() <= entry.conditions().items() for one in on_topic.get(entry.about, ()))
        ]
    )


def _said(file: Book | Workshop, heading: str, of: TyreClass) -> tuple[Any, ...]:
    return tuple([entry for entry in getattr(file, heading, ()) if of in entry.classes])


def under(
    heading: str,
    about: str | None = None,
    only: Literal["book", "workshop"] | None = None,
    unless: str | None = None,
) -> Callable[[Edition, TyreClass], tuple[Any, ...]]:
    """Return a function that looks up a heading for a rule: all of it or one topic, in both files or in one.

    It finds nothing for a class of which the book says something, whatever the case, under the heading `unless`.
    """

    def look_up(edition: Edition, of: TyreClass) -> tuple[Any, ...]:
        if unless is not None and any(entry.unconditional for entry in _said(edition.book, unless, of)):
            return ()
        if only is None:
            found = provisions_for(edition, heading, of)
        else:
            found = _said(edition.book if only == "book" else edition.workshop, heading, of)
        return found if about is None else tuple([entry for entry in found if entry.about == about])

    return look_up


def provision_for(edition: Edition, heading: str, of: TyreClass, about: str = "") -> Any:
    """Return the provision for a class of tyre under a heading whose provisions have no conditions.

    Which headings must always have one, the schema says and the loader checks.
    """
    return provisions_by_topic(edition, heading, of)[about]


@lru_cache(maxsize=1024)
def provisions_by_topic(edition: Edition, heading: str, of: TyreClass) -> Mapping[str, Any]:
    """Return the first provision on each topic of a heading whose provisions have no conditions."""
    found: dict[str, Any] = {}
    for entry in provisions_for(edition, heading, of):
        found.setdefault(entry.about, entry)
    return found


def applicable(edition: Edition, heading: str, tyre: Subject) -> Applicable:
    """Return what may apply to a tyre under a heading; per topic, up to the first that certainly does."""
    found: list[tuple[Any, Truth]] = []
    settled: set[str] = set()
    marked = representative(edition, tyre.marking_facts.size_and_speed)
    for provision, about, condition in _left_open(edition, heading, tyre.use, marked):
        if about in settled:
            continue
        applies = condition if isinstance(condition, int) else condition(tyre)
        if applies == NO:
            continue
        found.append((provision, applies))
        if applies == YES:
            settled.add(about)
    return found


@lru_cache(maxsize=1024)
def _left_open(
    edition: Edition, heading: str, use: Use, marked: SizeAndSpeed
) -> tuple[tuple[Any, str, Condition], ...]:
    """Return what use and marking leave of a heading, with its topic and what is still to be tested."""
    conditions = (
        (entry, entry.about, condition_of(entry, use.kind, marked)[0])
        for entry in provisions_for(edition, heading, use.tyre_class)
    )
    return unshadowed(conditions, about=lambda one: one[1], applies=lambda one: one[2])


@lru_cache(maxsize=1024)
def representative(edition: Edition, marked: SizeAndSpeed) -> SizeAndSpeed:
    """Return the one size and speed that stands for all that no condition of the edition distinguishes.

    It distinguishes a handful, whatever tyres come: what hangs on conditions of markings alone is kept by these.
    """
    tests, found = _tests_of_markings(edition)
    return found.setdefault(tuple(test(marked) for test in tests), marked)


@lru_cache(maxsize=256)
def _tests_of_markings(
    edition: Edition,
) -> tuple[tuple[Callable[[Any], Truth], ...], dict[tuple[Truth, ...], SizeAndSpeed]]:
    """Return the tests of markings in an edition, and the first marking found with each outcome of them."""
    ranges = {
        one: None
        for file in (edition.book, edition.workshop)
        for _, entries in provisions(file)
        for entry in entries
        for one in _ranges(entry)
    }
    return tuple(_between(*one) for one in ranges), {}


def unshadowed(ordered: Iterable[T], about: Callable[[T], str], applies: Callable[[T], Condition]) -> tuple[T, ...]:
    """Drop what cannot apply and what is shadowed by something on the same topic that always applies."""
    found: list[T] = []
    settled: set[str] = set()
    for one in ordered:
        if applies(one) == NO or about(one) in settled:
            continue
        found.append(one)
        if applies(one) == YES:
            settled.add(about(one))
    return tuple(found)


def condition_of(provision: Provision, kind: VehicleKind, marked: SizeAndSpeed) -> tuple[Condition, tuple[str, ...]]:
    """Return whether a provision applies to a tyre on a kind of vehicle, and the facts that still decide it."""
    if provision.kinds is not None and kind not in provision.kinds:
        return NO, ()
    left: list[tuple[str, Callable[[Any], Truth]]] = []
    for fact, over, to in _ranges(provision):
        test = _between(fact, over, to)
        settled = test(marked)
        if settled == NO:
            return NO, ()
        if settled == EITHER:
            left.append((fact, test))
    if provision.mass_over_kg is not None or provision.mass_to_kg is not None:
        left.append(("mass", _between("mass", provision.mass_over_kg, provision.mass_to_kg)))
    if provision.steered is not None:
        left.append(("steered", _is("steered", wanted=provision.steered)))
    if provision.fitment is not None:
        left.append(("single", _is("single", wanted=provision.fitment == "single")))
    if provision.trait is not None:
        left.append((provision.trait, _trait(provision.trait)))
    return (_all(tuple(test for _, test in left)) if left else YES), tuple(fact for fact, _ in left)


def _ranges(provision: Provision) -> Iterator[tuple[str, float | None, float | None]]:
    """Yield the conditions that a marking settles, or leaves open where it does not say: a fact, over what, up to."""
    for fact, over, to in (
        ("rated_kmh", _speed(provision.speed_over), _speed(provision.speed_to)),
        ("section_width", provision.section_over_mm, provision.section_to_mm),
    ):
        if over is not None or to is not None:
            yield fact, over, to


def _speed(symbol: str | None) -> float | None:
    return None if symbol is None else kmh_of(symbol)


def _is(fact: str, *, wanted: bool) -> Callable[[Any], Truth]:
    return (lambda tyre: getattr(tyre, fact)) if wanted else (lambda tyre: negate(getattr(tyre, fact)))


@cache
def _trait(name: str) -> Callable[[Any], Truth]:
    return lambda tyre: tyre.traits[name]


def _between(fact: str, over: float | None, to: float | None) -> Callable[[Any], Truth]:
    value: Callable[[Any], Interval] = attrgetter(fact)

    def above(known: Any) -> Truth:
        return at_least(value(known), -inf if over is None else over, inclusive=False)

    def below(known: Any) -> Truth:
        return at_most(value(known), inf if to is None else to)

    if over is None:
        return below
    return above if to is None else lambda known: both(above(known), below(known))


def _all(tests: tuple[Callable[[Any], Truth], ...]) -> Callable[[Any], Truth]:
    if len(tests) == 1:
        return tests[0]

    def test(tyre: Any) -> Truth:
        found: Truth = YES
        for one in tests:
            found = both(found, one(tyre))
        return found

    return test
