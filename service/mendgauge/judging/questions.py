"""Which question settles the most: the fields behind the open rules, in the order worth asking.

What a field is worth follows from the rules that it leaves open: it settles those that hang on it alone, and its share
of the others.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Annotated, Final, TypeAlias

import msgspec
from msgspec import Meta

from mendgauge.case.contract import AskedAt, Entry, Pointer
from mendgauge.case.fields import FIELDS, field_at, pattern_of
from mendgauge.core.interval import EITHER
from mendgauge.facts.injury import InjuryFacts
from mendgauge.judging.assessment import Judged, JudgedAlike
from mendgauge.judging.missing import missing
from mendgauge.rules.outcome import CAUTION, OPEN_ABOVE, Outcome, may_exceed
from mendgauge.wording import Wording

PLACES: Final[tuple[AskedAt, ...]] = ("record", "phone", "vehicle", "bench")
"""Where a question can be answered, in the order in which a tyre comes there."""

Asked: TypeAlias = Annotated[
    str,
    Meta(
        description="Where it can be answered: from the `record` (the owner's papers), by `phone` (the driver knows), "
        "at the `vehicle` (the tyre on its rim), or at the `bench` (the tyre off the rim).",
        examples=["phone"],
        extra_json_schema={"x-extensible-enum": list(PLACES)},
    ),
]
Waits: TypeAlias = Annotated[
    bool,
    Meta(
        description="Whether it is seen or looked up once the tyre is in the workshop; nobody is asked before it is "
        "booked in."
    ),
]
Parts: TypeAlias = Annotated[
    tuple[Annotated[str, Meta(max_length=100)], ...],
    Meta(
        max_length=50,
        description="Of a question about a whole section of the case, the fields that it answers at once. None of them "
        "is asked for by itself.",
    ),
]


class ToEstablish(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
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
    asked_at: Asked
    waits: Waits = False
    parts: Parts = ()
    settles: Annotated[
        tuple[str, ...],
        Meta(
            max_length=50,
            description="The open rules that the answer may settle; `until_then` where that hangs on it.",
        ),
    ]


class OpenRule(msgspec.Struct, frozen=True, gc=False, cache_hash=True):
    """What leaves a rule open, and what it can come to; `if_through`: it is met unless the injury goes through."""

    name: str
    fields: tuple[Pointer, ...]
    found: Outcome
    if_through: bool = False


OpenRules: TypeAlias = tuple[OpenRule, ...]


def open_rule(judged: Judged, of_use: tuple[Pointer, ...] = ()) -> OpenRule:
    """Return what leaves a rule open; `of_use` are the fields that decide what the tyre is in use as."""
    rule, subject = judged.rule, judged.subject
    fields = missing(rule.depends_on, subject)
    if judged.varies:
        fields = of_use + fields
    if_through = rule.channel and isinstance(subject, InjuryFacts) and subject.through == EITHER
    return OpenRule(rule.name, fields, judged.found, if_through)


class OpenAlike(msgspec.Struct, frozen=True, eq=False, gc=False):
    """Open rules as they were judged for many tyres alike, each with what leaves it open."""

    judged: tuple[Judged, ...]
    rules: OpenRules


@lru_cache(maxsize=2048)
def open_alike(alike: JudgedAlike, floor: Outcome) -> OpenAlike:
    """Return the open rules that can still come to something worse than a floor."""
    judged = tuple(one for one in alike.judged if one.found in OPEN_ABOVE[floor])
    return OpenAlike(judged, tuple(open_rule(one) for one in judged))


class Ask(msgspec.Struct, frozen=True, gc=False):
    """A field worth asking for: the open rules it touches, and how many of them its answers settle.

    What `waits` is not asked before the tyre is booked in.
    """

    field: Pointer
    settles: tuple[str, ...]
    at_least: int
    on_average: float
    asked_at: AskedAt
    decides: bool = True
    waits: bool = False
    parts: tuple[Pointer, ...] = ()


def ask_for(field: Pointer, settles: tuple[str, ...], at_least: int = 0, on_average: float = 0.0) -> Ask:
    """Return the question for a field, which is asked where the registry of fields says."""
    entry = field_at(field).entry
    return Ask(field, settles, at_least, on_average, entry.asked_at, waits=entry.waits)


def rank(open_rules: OpenRules, deciding: Collection[Pointer] = ()) -> tuple[Ask, ...]:
    """Return the questions for the missing fields, in the order in which they can be answered.

    A field that alone stands behind a rule settles it in any case; of the others each counts for its share of the
    fields that leave a rule open. A question decides something where it alone may settle a rule that is more than a
    caution: at the bench, where everything is looked at, every such; before it, those found to be `deciding`.
    """
    tallies: dict[Pointer, _Tally] = {}
    for rule in open_rules:
        alone, grave = len(rule.fields) == 1, may_exceed(rule.found, CAUTION)
        for field in rule.fields:
            tally = tallies.get(field)
            if tally is None:
                tally = tallies[field] = _Tally(field_at(field).entry, decides=field in deciding)
            tally.settles[rule.name] = None
            tally.at_least += alone
            tally.on_average += 1.0 / len(rule.fields)
            tally.decides |= grave and (alone or tally.entry.asked_at == "bench")
    return in_order(_by_sections(tally.ask(field) for field, tally in tallies.items()))


class _Tally:
    """What one field is worth, added up rule by rule."""

    __slots__ = ("at_least", "decides", "entry", "on_average", "settles")

    def __init__(self, entry: Entry, *, decides: bool) -> None:
        self.entry, self.decides = entry, decides
        self.settles: dict[str, None] = {}
        self.at_least, self.on_average = 0, 0.0

    def ask(self, field: Pointer) -> Ask:
        """Return the question for the field."""
        where, waits = self.entry.asked_at, self.entry.waits
        return Ask(field, tuple(self.settles), self.at_least, self.on_average, where, self.decides, waits)


_SECTIONS: Final = ("/inspection/", "/tyre/traits/", "/history/")
"""Sections of the case whose yes-or-no fields are answered at once: by what was found, and that it is all there is."""
_YES_OR_NO: Final = (True, False)
_HOW_FAR: Final = "/history/flat_distance_km"
_MASS: Final = "/vehicle/gross_mass_kg"


def _answered_together() -> Iterator[tuple[Pointer, Pointer]]:
    """Yield the fields of those sections, each with the field that says that the section is complete.

    What a driver knows of a section that is looked at later is asked for on the phone, and the rest where the tyre is.
    """
    for section in _SECTIONS:
        complete = f"{section}complete"
        where = field_at(complete).entry.asked_at
        for pattern, field in FIELDS.items():
            if (
                pattern.startswith(section)
                and (field.choices == _YES_OR_NO or pattern == _HOW_FAR)
                and not field.entry.alone
                and (where == "phone" or field.entry.asked_at != "phone")
            ):
                yield pattern, complete


_COMPLETED_BY: Final = dict(_answered_together())


def _by_sections(asks: Iterable[Ask]) -> list[Ask]:
    """Put one question in the place of those of a section that are answered together."""
    left: list[Ask] = []
    together: dict[Pointer, list[Ask]] = {}
    for ask in asks:
        complete = _COMPLETED_BY.get(ask.field)
        (left if complete is None else together.setdefault(complete, [])).append(ask)
    for complete, parts in together.items():
        left += parts if len(parts) == 1 else [_asked_together(complete, parts)]
    return left


def _asked_together(field: Pointer, parts: Sequence[Ask]) -> Ask:
    return Ask(
        field,
        tuple(dict.fromkeys(name for ask in parts for name in ask.settles)),
        sum(ask.at_least for ask in parts),
        sum(ask.on_average for ask in parts),
        max((ask.asked_at for ask in parts), key=PLACES.index),
        any(ask.decides for ask in parts),
        all(ask.waits for ask in parts),
        tuple(sorted(ask.field for ask in parts)),
    )


def in_order(asks: Iterable[Ask]) -> tuple[Ask, ...]:
    """Return questions by where they are answered, in the order in which a tyre comes there, then by their worth.

    What can wait for the workshop goes behind what is asked before the tyre is booked in. A vehicle's mass seldom
    decides anything, and no driver knows it: it goes behind what shows on the tyre.
    """
    return tuple(
        sorted(
            asks,
            key=lambda ask: (
                ask.asked_at == "bench",
                ask.waits,
                PLACES.index("vehicle" if ask.field == _MASS else ask.asked_at),
                not ask.decides or ask.field == _MASS,
                -ask.at_least,
                -ask.on_average,
                pattern_of(ask.field),
            ),
        )
    )


def in_words(ask: Ask, words: Wording) -> ToEstablish:
    """Return a missing field with its question, in the words of the rulebook's country."""
    question = words.questions[pattern_of(ask.field)]
    return ToEstablish(
        field=ask.field,
        asks=question.asks,
        how=question.how,
        asked_at=ask.asked_at,
        waits=ask.waits,
        parts=ask.parts,
        settles=ask.settles,
    )
