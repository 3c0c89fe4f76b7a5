"""A rulebook's entries as a person reads them: whom each is for and when, what it says, and how that is known."""

from __future__ import annotations

from functools import cache
from inspect import cleandoc
from typing import Final

import msgspec
from msgspec import inspect

from mendgauge.operations.rulebooks.answer import Rulebook, RulebookProvision, StatedValue
from mendgauge.rulebooks.schema.book import Basis, Book, Workshop
from mendgauge.rulebooks.schema.procedure import Procedure

BASES: Final[dict[Basis, str]] = {
    "published": "published",
    "published_summary": "published, read in a summary",
    "derived": "derived",
    "common_practice": "common practice",
    "from_memory": "from memory",
    "house_rule": "house rule",
}


class Entry(msgspec.Struct, frozen=True):
    """An entry in words."""

    classes: str
    conditions: tuple[str, ...]
    values: tuple[str, ...]
    basis: Basis
    basis_in_words: str
    source: str
    clause: str
    note: str


class Group(msgspec.Struct, frozen=True):
    """The entries under a heading: those first in the list that apply are the ones that count."""

    anchor: str
    name: str
    title: str
    about: str
    entries: tuple[Entry, ...]


PARTS: Final = {
    "provisions": ("", "What the country’s book says"),
    "workshop": ("workshop-", "Workshop practice where the book is silent"),
    "procedure": ("procedure-", "The work of a repair"),
}
"""The parts of a rulebook: how their anchors begin, and what stands above them."""


def groups(rulebook: Rulebook, part: str) -> tuple[Group, ...]:
    """Return the entries of a part by their headings, in the order of the rulebook."""
    listed: dict[str, list[RulebookProvision]] = {}
    for provision in getattr(rulebook, part):
        listed.setdefault(provision.question, []).append(provision)
    return tuple(
        Group(PARTS[part][0] + name, name, sentence(name), _about(part).get(name, ""), tuple(map(entry, entries)))
        for name, entries in listed.items()
    )


def entry(provision: RulebookProvision) -> Entry:
    """Return an entry in words."""
    dates = [f"from {provision.starts}"] if provision.starts else []
    dates += [f"until {provision.ends}"] if provision.ends else []
    return Entry(
        classes=", ".join(provision.classes),
        conditions=(*map(in_words, provision.conditions), *dates),
        values=tuple(map(in_words, provision.values)),
        basis=provision.basis,
        basis_in_words=BASES[provision.basis],
        source=provision.source,
        clause=provision.clause,
        note=provision.note,
    )


def in_words(value: StatedValue) -> str:
    """Return a stated value with its name, whose unit stands behind the number.

    >>> in_words(StatedValue(name="found_to_mm", text="6 mm", numbers=(6.0,), unit="mm", words=(), holds=None))
    'found to: 6 mm'
    """
    name = value.name.rpartition("_")[0] if value.unit else value.name
    words = [word.replace("_", " ") if word.replace("_", "").isalpha() else word for word in value.words]
    return f"{name.replace('_', ' ')}: {', '.join(words) if words else value.text}"


def sentence(name: str) -> str:
    """Return a name of the rulebook as a heading.

    >>> sentence("injury_size")
    'Injury size'
    """
    return name.replace("_", " ").capitalize()


@cache
def _about(part: str) -> dict[str, str]:
    """Return what stands under each heading of a part, as the rulebook's schema says it."""
    file = {"provisions": Book, "workshop": Workshop, "procedure": Procedure}[part]
    kinds = {
        field.name: field.type.item_type.cls
        for field in inspect.type_info(file).fields  # type: ignore[attr-defined]
        if isinstance(field.type, inspect.VarTupleType) and isinstance(field.type.item_type, inspect.StructType)
    }
    return {name: cleandoc(kind.__doc__ or "").partition("\n\n")[0].replace("\n", " ") for name, kind in kinds.items()}
