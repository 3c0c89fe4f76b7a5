"""A rulebook's entries as a person reads them: whom each is for and when, what it says, and how that is known."""

from __future__ import annotations

import re
from functools import cache
from inspect import cleandoc
from typing import Final, cast

import msgspec
from msgspec import inspect

from mendgauge.operations.rulebooks.answer import Rulebook, RulebookProvision, StatedValue
from mendgauge.rulebooks.provision import Basis, Language
from mendgauge.rulebooks.schema.book import Book, Workshop
from mendgauge.rulebooks.schema.procedure import Procedure
from mendgauge.wording import in_language
from mendgauge.wording.rulebook_pages import RulebookPageWords, rulebook_page_words

_CODE: Final = re.compile("[a-z]+(_[a-z]+)*")

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
    language = cast("Language", rulebook.language)
    words = rulebook_page_words(language)
    listed: dict[str, list[RulebookProvision]] = {}
    for provision in getattr(rulebook, part):
        listed.setdefault(provision.question, []).append(provision)
    return tuple(
        Group(
            anchor=PARTS[part][0] + name,
            title=words.headings[name],
            about=in_language(language, _about(part)[name]),
            entries=tuple(entry(provision, words) for provision in entries),
        )
        for name, entries in listed.items()
    )


def entry(provision: RulebookProvision, words: RulebookPageWords) -> Entry:
    """Return an entry in words."""
    dates = [f"from {provision.starts}"] if provision.starts else []
    dates += [f"until {provision.ends}"] if provision.ends else []
    return Entry(
        classes=", ".join(provision.classes),
        conditions=(*(in_words(value, words) for value in provision.conditions), *dates),
        values=tuple(in_words(value, words) for value in provision.values),
        basis=provision.basis,
        basis_in_words=BASES[provision.basis],
        source=provision.source,
        clause=provision.clause,
        note=provision.note,
    )


def in_words(value: StatedValue, words: RulebookPageWords) -> str:
    """Return a stated value with its name, whose unit stands behind the number.

    >>> size = StatedValue(name="found_to_mm", text="6 mm", numbers=(6.0,), unit="mm", words=(), holds=None)
    >>> in_words(size, rulebook_page_words("en-GB"))
    'as found, up to: 6 mm'
    """
    name = (value.name.rpartition("_")[0] if value.unit else "") or value.name
    said = [
        words.words.get(word) or (word.replace("_", " ") if _CODE.fullmatch(word) else word) for word in value.words
    ]
    return f"{words.names.get(name) or name.replace('_', ' ')}: {', '.join(said) if said else value.text}"


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
