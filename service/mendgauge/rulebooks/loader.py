"""Reads the rulebook files, checks them, and finds an edition by its reference.

A file that breaks the schema stops the service before it answers anything: `RulebookError` names file and place.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from datetime import date
from functools import lru_cache
from importlib import resources
from itertools import combinations
from typing import TypeVar

import msgspec

from mendgauge.rulebooks.procedure_checks import flaws
from mendgauge.rulebooks.provision import CONDITIONS, Provision, RulebookError
from mendgauge.rulebooks.schema.book import Book, Edition, Workshop, changes, headings, provisions
from mendgauge.rulebooks.schema.procedure import ALL_CLASSES, Procedure
from mendgauge.tyre.speed import kmh_of

_File = TypeVar("_File", Book, Workshop, Procedure)
_Provided = TypeVar("_Provided", Book, Workshop)
_Part = TypeVar("_Part", Workshop, Procedure)
_WORKSHOP = "workshop-"
_PROCEDURE = "procedure-"
_MUST_SAY = {heading: kind.must_say for heading, kind in headings(Workshop)}


class UnknownRulebookError(LookupError):
    """No rulebook, or no edition of it, answers to this reference."""

    def __init__(self, reference: str, editions: Iterable[Edition]) -> None:
        """Take the reference and the editions that there are, newest first."""
        self.reference = reference
        by_book: dict[str, list[str]] = {}
        for edition in editions:
            by_book.setdefault(edition.book.id, []).append(edition.reference)
        book = reference.partition("@")[0]
        super().__init__(
            f"No edition {reference!r}. Of {book} there are {', '.join(by_book[book])}."
            if book in by_book
            else f"No rulebook {reference!r}. There are {', '.join(by_book)}."
        )


@lru_cache(maxsize=1)
def list_editions() -> tuple[Edition, ...]:
    """Return every edition there is, by id, newest first."""
    folder = resources.files(__package__)
    return read_editions(
        {entry.name: entry.read_text("utf-8") for entry in folder.iterdir() if entry.name.endswith(".toml")}
    )


@lru_cache(maxsize=256)
def find_edition(reference: str) -> Edition:
    """Return the edition a reference names: `gb@2026.1` that one, `gb` the newest.

    Raise `UnknownRulebookError` when there is none.
    """
    for edition in list_editions():
        if reference in (edition.book.id, edition.reference):
            return edition
    raise UnknownRulebookError(reference, list_editions())


def read_editions(files: Mapping[str, str]) -> tuple[Edition, ...]:
    """Return the editions from the text of their files, by file name.

    Raise `RulebookError` for anything that does not keep to the schema.
    """
    workshops = {name: _read(name, text, Workshop) for name, text in files.items() if name.startswith(_WORKSHOP)}
    procedures = {name: _read_procedure(name, text) for name, text in files.items() if name.startswith(_PROCEDURE)}
    editions = []
    for name, text in files.items():
        if name.startswith((_WORKSHOP, _PROCEDURE)):
            continue
        book = _read(name, text, Book)
        if name != f"{book.id}-{book.edition}.toml":
            raise RulebookError(f"{name}: the file of {book.id} {book.edition} is named {book.id}-{book.edition}.toml.")
        workshop = _named(name, "workshop practice", workshops, _WORKSHOP, book.workshop)
        procedure = _named(f"{_WORKSHOP}{book.workshop}.toml", "procedure", procedures, _PROCEDURE, workshop.procedure)
        editions.append(_edition(book, workshop, procedure))
    editions.sort(key=lambda edition: _age_of(edition.book))
    return tuple(sorted(editions, key=lambda edition: edition.book.id))


def _edition(book: Book, workshop: Workshop, procedure: Procedure) -> Edition:
    """Return the edition, and what of it is in force in each period."""
    digest, days = _digest(book, workshop, procedure), changes(book, workshop)
    firsts = (date.min, *days) if days else ()
    periods = tuple(Edition(_on(book, day), _on(workshop, day), procedure, digest) for day in firsts)
    return Edition(book, workshop, procedure, digest, days, periods)


def _on(file: _Provided, day: date) -> _Provided:
    """Return a file without what is not in force on a day; itself where everything is."""
    left = {
        heading: tuple(entry for entry in entries if entry.in_force(day))
        for heading, entries in provisions(file)
        if not all(entry.in_force(day) for entry in entries)
    }
    return msgspec.structs.replace(file, **left) if left else file


def _named(name: str, what: str, parts: Mapping[str, _Part], prefix: str, edition: str) -> _Part:
    """Return the part that a file asks for by its edition."""
    part = parts.get(f"{prefix}{edition}.toml")
    if part is None:
        raise RulebookError(f"{name}: there is no {what} of edition {edition}.")
    return part


def _age_of(book: Book) -> tuple[int, ...]:
    return tuple(-int(part) for part in book.edition.split("."))


def _decode(name: str, text: str, kind: type[_File]) -> _File:
    try:
        return msgspec.toml.decode(text, type=kind)
    except (msgspec.ValidationError, msgspec.DecodeError, ValueError) as error:
        raise RulebookError(f"{name}: {error}") from error


def _read_procedure(name: str, text: str) -> Procedure:
    procedure = _decode(name, text, Procedure)
    for flaw in flaws(procedure):
        raise RulebookError(f"{name}: {flaw}")
    return procedure


def _read(name: str, text: str, kind: type[_Provided]) -> _Provided:
    file = _decode(name, text, kind)
    _check_sources(name, file)
    for heading, entries in provisions(file):
        for number, entry in enumerate(entries, 1):
            _check_entry(f"{name}: [[{heading}]]", entry)
            _check_conditions(f"{name}: [[{heading}]] entry {number} ({_named_entry(entry)})", entry)
        _check_reach(f"{name}: [[{heading}]]", entries)
    if isinstance(file, Workshop):
        _check_gaps(name, file)
    return file


def _check_sources(name: str, file: Book | Workshop) -> None:
    used = {entry.source for _, entries in provisions(file) for entry in entries}
    if missing := sorted(used - file.sources.keys()):
        raise RulebookError(f"{name}: [sources] does not name {', '.join(missing)}.")
    if unused := sorted(file.sources.keys() - used):
        raise RulebookError(f"{name}: no provision rests on the source {', '.join(unused)}.")


def _check_entry(place: str, entry: Provision) -> None:
    if entry.basis == "house_rule":
        raise RulebookError(f"{place}: house_rule is a caller's basis, not a book's.")
    if entry.starts and entry.ends and entry.ends <= entry.starts:
        raise RulebookError(f"{place}: it ends on {entry.ends}, not after it starts on {entry.starts}.")


def _named_entry(entry: Provision) -> str:
    return ", ".join((*((entry.about,) if entry.about else ()), *entry.classes))


def _check_conditions(place: str, entry: Provision) -> None:
    """Refuse a condition that is not tested wherever the heading is looked up, or it would be passed over silently."""
    for condition, fields in CONDITIONS.items():
        given = [name for name in fields if name in entry.conditions()]
        if given and condition not in entry.honours:
            tested = " and ".join(sorted(entry.honours)) or "nothing but class and date"
            raise RulebookError(f"{place}: {' and '.join(given)} cannot be tested under this heading; {tested} can.")
        for name in given if condition == "speed" else ():
            try:
                kmh_of(getattr(entry, name))
            except ValueError as error:
                raise RulebookError(f"{place}: {name}: {error}") from error


def _check_gaps(name: str, workshop: Workshop) -> None:
    """Refuse a book where what a lookup takes for granted is not there for every class at any time."""
    days = changes(workshop)
    for day in (date.min, *days):
        for heading, entries in provisions(_on(workshop, day)):
            said = {(entry.about, of) for entry in entries for of in entry.classes}
            for topic in _MUST_SAY.get(heading, ()):
                if lacking := [of for of in ALL_CLASSES if (topic, of) not in said]:
                    what = f" on {topic}" if topic else ""
                    since = "" if day == date.min else f" from {day} on"
                    raise RulebookError(f"{name}: [[{heading}]] says nothing{what} for {', '.join(lacking)}{since}.")


def _check_reach(place: str, entries: Iterable[Provision]) -> None:
    """Of two provisions on the same thing, the earlier one must leave something for the later one to say."""
    for first, second in combinations(entries, 2):
        shared = sorted(set(first.classes) & set(second.classes))
        if not shared or first.about != second.about or not _overlap(first, second):
            continue
        if first.unconditional or first.conditions() == second.conditions():
            about = f" on {first.about}" if first.about else ""
            raise RulebookError(f"{place}: two provisions{about} hold for {', '.join(shared)} at the same time.")


def _overlap(first: Provision, second: Provision) -> bool:
    return (first.ends is None or second.starts is None or second.starts < first.ends) and (
        second.ends is None or first.starts is None or first.starts < second.ends
    )


def _digest(book: Book, workshop: Workshop, procedure: Procedure) -> str:
    content = msgspec.json.encode((book, workshop, procedure), order="deterministic")
    return "sha256:" + hashlib.sha256(content).hexdigest()
