"""What is missing: the fields of the case that leave a fact open, by the facts that rules name.

A rule names the facts it looks at; here each is traced to the fields of the case behind it.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator
from functools import cache
from typing import Any, Final, TypeAlias

from mendgauge.case.contract import Pattern, Pointer
from mendgauge.case.fields import FIELDS
from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.load import LOAD
from mendgauge.facts.neighbours import liner_of
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import SIGNS, TRAITS, YesNoFacts
from mendgauge.tyre.load import load_of
from mendgauge.tyre.tyre_class import Use

Subject: TypeAlias = TyreFacts | InjuryFacts | YesNoFacts
"""What a rule judges; of one on yes-or-no facts alone these stand for every tyre that has them."""


def _unknown(value: Interval | Truth | tuple[object, ...] | bool | None) -> bool:
    """Return whether a fact is left open: `None` and false say that nothing is known of it at all."""
    # By its type, as elsewhere on the way of every case: `isinstance` asks the metaclass of a struct.
    if type(value) is Interval:
        return value.low != value.high
    if type(value) is int:
        return value == EITHER
    return len(value) > 1 if type(value) is tuple else not value


Search: TypeAlias = Callable[[Any], Iterable[Pointer]]
"""A search, from the subject of a rule, for the fields of the case that leave a fact open."""


def _of_tyre(fact: str, pattern: Pattern) -> Search:
    if fact in TRAITS:
        return lambda subject: (pattern,) if subject.tyre.traits[fact] == EITHER else ()
    if fact in SIGNS:
        return lambda subject: (pattern,) if subject.tyre.conditions[fact] == EITHER else ()
    return lambda subject: (pattern,) if _unknown(getattr(subject.tyre, fact)) else ()


def _of_injury(fact: str, pattern: Pattern) -> Search:
    def find(subject: TyreFacts | InjuryFacts) -> Iterable[Pointer]:
        index = subject.index
        return (_placed(pattern, index),) if index is not None and _unknown(getattr(subject, fact)) else ()

    return find


def _of_each(of: str, fact: str, pattern: Pattern) -> Search:
    return lambda subject: [
        _placed(pattern, one.index) for one in getattr(subject.tyre, of) if _unknown(getattr(one, fact))
    ]


@cache
def _placed(pattern: Pattern, index: int) -> Pointer:
    return pattern.replace("*", str(index))


_LISTS: Final = {"/injuries/*/": "injuries", "/earlier_repairs/*/": "earlier", "/in_service/axle_mates/*/": "mates"}
"""The lists of the case, by the attribute of the tyre that holds their facts."""


def _searches() -> Iterator[tuple[str, Search]]:
    """Yield every fact that a field of the case gives, with the search for that field.

    A fact of the injury that is judged goes by its name, one of every injury, earlier repair or mate by that of its
    list too: `lean`, `injuries.lean`, `earlier.patch`, `mates.places`.
    """
    for pattern, field in FIELDS.items():
        of = next((name for start, name in _LISTS.items() if pattern.startswith(start)), None)
        for fact in field.entry.facts:
            if of is None:
                yield fact, _of_tyre(fact, pattern)
                continue
            yield f"{of}.{fact}", _of_each(of, fact, pattern)
            if of == "injuries":
                yield fact, _of_injury(fact, pattern)


def _steered(subject: TyreFacts | InjuryFacts) -> Iterable[Pointer]:
    if subject.tyre.steered != EITHER:
        return ()
    return ("/position/steered",) if subject.tyre.axle_known else ("/position/axle",)


def _repaired(tyre: Any) -> Iterable[Pointer]:
    return missing(("injuries.through", "earlier_known"), tyre) if tyre.repaired == EITHER else ()


def _loading(tyre: Any) -> Iterable[Pointer]:
    """Yield what leaves the load of one tyre open: its moulded figures, its index, and the speed it is taken at."""
    one, index = tyre.loading, load_of(tyre.marking_facts.marking)
    in_pair = tyre.single != YES
    if index is None or tyre.marking_facts.marking.light_truck:
        if tyre.max_load == LOAD:
            yield "/tyre/max_load_kg"
        if in_pair and tyre.max_load_dual == LOAD:
            yield "/in_service/max_load_dual_kg"
    elif in_pair and index.dual_kg is None and tyre.max_load_dual == LOAD:
        yield "/in_service/max_load_dual_kg"
    if index is None:
        yield "/tyre/marking"
    if not one.at_kmh.known and not (one.single.known and (one.dual.known or not in_pair)):
        yield "/vehicle/max_speed_kmh"


def _circumference(subject: TyreFacts | InjuryFacts) -> Iterable[Pointer]:
    """Return what leaves it open how far it is once round, where there is a repair to be near another."""
    tyre = subject.tyre
    if tyre.lone_injury or tyre.circumference.known:
        return ()
    new = tyre.case.tyre.new_tread_depth_mm is None
    return ("/in_service/overall_diameter_mm", *(("/tyre/new_tread_depth_mm",) if new else ()))


def _mates(tyre: Any) -> Iterable[Pointer]:
    unpaired = tyre.single == NO and not any("dual_mate" in mate.places for mate in tyre.mates)
    return ("/in_service/axle_mates",) if not tyre.mates_known or unpaired else ()


NEIGHBOURS: Final = (
    *(f"earlier.{fact}" for fact in ("across", "around", "patch", "sides")),
    *(
        f"injuries.{fact}"
        for fact in ("across", "around", "sides", "lean", "toward", "emerges", "diameter", "stages", "through")
    ),
)
"""What the fact `neighbours` stands for: where the repairs beside an injury's own lie, and how large they are."""


def _neighbours(subject: TyreFacts | InjuryFacts) -> Iterable[Pointer]:
    if isinstance(subject, InjuryFacts) and subject.tyre.lone_injury:
        return ()
    own = None if isinstance(subject, TyreFacts) else f"/injuries/{subject.index}/"
    liner = liner_of(subject.tyre)
    if liner.unplaced is None:
        liner.unplaced = missing(NEIGHBOURS, subject.tyre)
    return [pointer for pointer in liner.unplaced if own is None or not pointer.startswith(own)]


FACTS: Final[dict[str, Search]] = {
    **dict(_searches()),
    "steered": _steered,
    "repaired": _repaired,
    "loading": _loading,
    "circumference": _circumference,
    "mates_known": _mates,
    "neighbours": _neighbours,
}
"""Every fact that a rule may look at, with the search for the fields that leave it open: those that one field gives,
from the registry of fields, and those that hang on several.
"""


def missing(depends_on: Iterable[str], subject: Subject) -> tuple[Pointer, ...]:
    """Return the fields of the case that leave some facts open, each once."""
    known = subject.fields_behind
    found: dict[Pointer, None] = {}
    for fact in depends_on:
        fields = known.get(fact)
        if fields is None:
            fields = known[fact] = tuple(FACTS[fact](subject))
        for pointer in fields:
            found[pointer] = None
    return tuple(found)


def fields_of_use(uses: Collection[Use]) -> tuple[Pointer, ...]:
    """Return the fields that decide what a tyre is in use as, where more than one thing is possible."""
    kinds = {use.kind for use in uses}
    return (
        *(("/vehicle/kind",) if len(kinds) > 1 else ()),
        *(("/tyre/marking",) if len(uses) > len(kinds) else ()),
    )
