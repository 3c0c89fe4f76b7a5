"""What is missing, and which question settles the most: the fields behind an open rule, in the order worth asking.

A rule names the facts it looks at; here each fact is traced to the fields of the case that leave it open. A field's
worth is found by trying it: with each of a few answers put in its place, how many of the open rules are settled?
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable
from typing import Annotated, Any, Final, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.core.interval import EITHER, Interval, Truth
from mendgauge.facts.tyre import AGE, InjuryFacts, TyreFacts
from mendgauge.facts.yes_no import SIGNS, TRAITS
from mendgauge.judging.assessment import Key
from mendgauge.tyre.tyre_class import Use
from mendgauge.wording import Wording

Pointer: TypeAlias = str
Subject: TypeAlias = TyreFacts | InjuryFacts


class ToEstablish(msgspec.Struct, frozen=True, kw_only=True):
    """A missing fact that would settle open rules."""

    field: Annotated[
        str,
        Meta(
            max_length=100,
            description="The field of the case that is missing, as an RFC 6901 pointer.",
            examples=["/injuries/0/lean_deg"],
        ),
    ]
    asks: Annotated[str, Meta(max_length=200, description="The question in plain words.")]
    how: Annotated[str, Meta(max_length=200, description="How to find out.")]
    demounted: Annotated[bool, Meta(description="Whether the tyre must be off the rim to find out.")]
    settles: Annotated[tuple[str, ...], Meta(max_length=50, description="The open rules that the answer may settle.")]


def _unknown(value: Interval | Truth | tuple[object, ...]) -> bool:
    if isinstance(value, Interval):
        return not value.known
    return value == EITHER if isinstance(value, int) else len(value) > 1


def _tyre_field(fact: str, pointer: Pointer) -> Callable[[Subject], Iterable[Pointer]]:
    return lambda subject: (pointer,) if _unknown(getattr(subject.tyre, fact)) else ()


def _trait(name: str) -> Callable[[Subject], Iterable[Pointer]]:
    pointer = f"/tyre/traits/{name}"
    return lambda subject: (pointer,) if subject.tyre.traits[name] == EITHER else ()


def _sign(name: str) -> Callable[[Subject], Iterable[Pointer]]:
    pointer = f"/inspection/{name}"
    return lambda subject: (pointer,) if subject.tyre.conditions[name] == EITHER else ()


def _injury_field(fact: str, field: str) -> Callable[[Subject], Iterable[Pointer]]:
    def find(subject: Subject) -> Iterable[Pointer]:
        if isinstance(subject, TyreFacts):
            return ()
        return (f"/injuries/{subject.index}/{field}",) if _unknown(getattr(subject, fact)) else ()

    return find


def _steered(subject: Subject) -> Iterable[Pointer]:
    if subject.tyre.steered != EITHER:
        return ()
    return ("/position/steered",) if subject.tyre.axle_known else ("/position/axle",)


def _earlier(subject: Subject) -> Iterable[Pointer]:
    return () if subject.tyre.earlier_known else ("/earlier_repairs",)


def _earlier_proper(subject: Subject) -> Iterable[Pointer]:
    return [f"/earlier_repairs/{repair.index}/proper" for repair in subject.tyre.earlier if repair.proper == EITHER]


def _injury_depths(subject: Subject) -> Iterable[Pointer]:
    return [f"/injuries/{injury.index}/depth" for injury in subject.tyre.injuries if injury.through == EITHER]


_EARLIER_PLACE: Final = {
    "across": "across_mm",
    "around": "around_mm",
    "patch": "patch_mm",
    "sides": "measured_from",
}
_INJURY_PLACE: Final = {
    "across": "across_mm",
    "around": "around_mm",
    "sides": "measured_from",
    "lean": "lean_deg",
    "toward": "lean_toward_deg",
    "diameter": "diameter_mm",
    "through": "depth",
}


def _neighbours(subject: Subject) -> Iterable[Pointer]:
    for repair in subject.tyre.earlier:
        for fact, field in _EARLIER_PLACE.items():
            if _unknown(getattr(repair, fact)):
                yield f"/earlier_repairs/{repair.index}/{field}"
    for injury in subject.tyre.injuries:
        if injury is not subject:
            for fact, field in _INJURY_PLACE.items():
                if _unknown(getattr(injury, fact)):
                    yield f"/injuries/{injury.index}/{field}"


FACTS: Final[dict[str, Callable[[Subject], Iterable[Pointer]]]] = {
    "mass": _tyre_field("mass", "/vehicle/gross_mass_kg"),
    "rated_kmh": _tyre_field("rated_kmh", "/tyre/marking"),
    "v_or_above": lambda subject: ("/tyre/marking",) if subject.tyre.marking_facts.v_or_above == EITHER else (),
    "section_width": _tyre_field("section_width", "/tyre/marking"),
    "steered": _steered,
    "single": _tyre_field("single", "/position/fitment"),
    "tread_depth": _tyre_field("tread_depth", "/tyre/tread_depth_mm"),
    "tread_width": _tyre_field("tread_width", "/tyre/tread_width_mm"),
    "circumference": _tyre_field("circumference", "/in_service/overall_diameter_mm"),
    "crown_thickness": _tyre_field("crown_thickness", "/tyre/crown_thickness_mm"),
    # A date code tells a week, which may leave the age open on a birthday; asking for it again would not close it.
    "age": lambda subject: ("/tyre/date_code",) if subject.tyre.age == AGE else (),
    "pressure": _tyre_field("pressure", "/history/pressure_found_percent"),
    "driven_flat": _tyre_field("driven_flat", "/history/driven_flat"),
    "sealant": _tyre_field("sealant", "/history/sealant_used"),
    "maker_permits": _tyre_field("maker_permits", "/tyre/maker_policy/repair"),
    "earlier_repairs": _earlier,
    "earlier_repairs_proper": _earlier_proper,
    "injury_depths": _injury_depths,
    "neighbours": _neighbours,
    "region": _injury_field("regions", "region"),
    "depth": _injury_field("depths", "depth"),
    "diameter": _injury_field("diameter", "diameter_mm"),
    "stage": _injury_field("stages", "stage"),
    "across": _injury_field("across", "across_mm"),
    "around": _injury_field("around", "around_mm"),
    "measured_from": _injury_field("sides", "measured_from"),
    "lean": _injury_field("lean", "lean_deg"),
    "lean_toward": _injury_field("toward", "lean_toward_deg"),
    "emerges_in": _injury_field("emerges", "emerges_in"),
    **{name: _trait(name) for name in TRAITS},
    **{name: _sign(name) for name in SIGNS},
}


def missing(depends_on: Iterable[str], subject: Subject) -> tuple[Pointer, ...]:
    """The fields of the case that leave the facts a rule looks at open, each once."""
    return tuple(dict.fromkeys(pointer for fact in depends_on for pointer in FACTS[fact](subject)))


def fields_of_use(uses: Collection[Use]) -> tuple[Pointer, ...]:
    """The fields that tell what a tyre is in use as, where more than one thing is possible."""
    kinds = {use.kind for use in uses}
    return (
        *(("/vehicle/kind",) if len(kinds) > 1 else ()),
        *(("/tyre/marking",) if len(uses) > len(kinds) else ()),
    )


class Ask(msgspec.Struct, frozen=True):
    """A field worth asking for: the open rules it touches, and how many of them its answers settle."""

    field: Pointer
    settles: tuple[str, ...]
    at_least: int
    on_average: float


def rank(
    open_rules: dict[Key, tuple[Pointer, ...]],
    answers: Callable[[Pointer], Iterable[Any]],
    settled_by: Callable[[Pointer, Any, list[Key]], int],
) -> tuple[Ask, ...]:
    """The missing fields, the one that settles most first.

    `open_rules` gives the fields behind each open rule, `answers` a few answers to try for a field, `settled_by` how
    many of some open rules one of them settles. A field that alone stands behind its rules settles them in any case.
    """
    behind: dict[Pointer, list[Key]] = {}
    for key, fields in open_rules.items():
        for field in fields:
            behind.setdefault(field, []).append(key)
    asks = []
    for field, keys in behind.items():
        alone = sum(open_rules[key] == (field,) for key in keys)
        if alone == len(keys):
            worst, average = alone, float(alone)
        else:
            counts = [settled_by(field, answer, keys) for answer in answers(field)] or [0]
            worst, average = min(counts), sum(counts) / len(counts)
        names = tuple(dict.fromkeys(name for name, _ in keys))
        asks.append(Ask(field, names, worst, average))
    asks += [together for section in _SECTIONS if (together := _asked_together(section, asks)) is not None]
    asks.sort(key=lambda ask: (-ask.at_least, -ask.on_average, words_key(ask.field)))
    return tuple(asks)


_SECTIONS: Final = ("/inspection/", "/tyre/traits/", "/history/")
"""Sections of the case whose fields can be answered at once, by what was found and that it is all there is."""


def _asked_together(section: str, asks: list[Ask]) -> Ask | None:
    """One question for a whole section, where more than one of its fields is open."""
    parts = [ask for ask in asks if ask.field.startswith(section)]
    if len(parts) < 2:
        return None
    return Ask(
        f"{section}complete",
        tuple(dict.fromkeys(name for ask in parts for name in ask.settles)),
        sum(ask.at_least for ask in parts),
        sum(ask.on_average for ask in parts),
    )


def in_words(ask: Ask, words: Wording) -> ToEstablish:
    """A missing field with its question, in the words of the rulebook's country."""
    question = words.questions[words_key(ask.field)]
    return ToEstablish(
        field=ask.field, asks=question.asks, how=question.how, demounted=question.demounted, settles=ask.settles
    )


_INDEX: Final = re.compile(r"/[0-9]+(?=/|$)")


def words_key(field: Pointer) -> str:
    """Under which key a field's question stands: any place in a list is `*`."""
    return _INDEX.sub("/*", field)
