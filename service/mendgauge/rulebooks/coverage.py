"""What each rulebook covers, for each class of tyre, and how it is known: the table in `rulebooks/COVERAGE.md`."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final, get_args

from mendgauge.rulebooks import Edition, list_editions
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.schema.book import provisions
from mendgauge.tyre.tyre_class import TyreClass

_CLASSES: Final[tuple[TyreClass, ...]] = get_args(TyreClass)
_SAID_ELSEWHERE: Final = frozenset({"not_covered", "outside"})
_LEFT_OUT: Final = frozenset({"classes", "source", "basis", "clause", "note", "inclusive"})

_WORDS: Final = frozenset({"effect", "treatment", "word"})
_UNITS: Final = frozenset({"mm", "kg", "kmh", "deg", "percent", "years", "km", "hours"})

_HEAD: Final = """# What the rulebooks cover

Each cell is what a book says for a class of tyre, with how that is known: published (P), read in a summary (S), common
practice (C), from memory (M), derived (D). *No figure* means that none was found and the book says so; *outside*
that the book does not speak of that class of tyre, so that nothing in it lets one be repaired. Conditions are named
in square brackets; the first that holds applies. Written by `make coverage`.
"""
_INITIAL: Final = {
    "published": "P",
    "published_summary": "S",
    "common_practice": "C",
    "from_memory": "M",
    "derived": "D",
}


def coverage_table() -> str:
    """Return the coverage of every edition as Markdown, one table a book."""
    return "\n".join((_HEAD, *(_table(edition) for edition in list_editions())))


def _table(edition: Edition) -> str:
    head = f"## {edition.reference}: {edition.book.title}\n"
    rows = [f"| | {' | '.join(_CLASSES)} |", "|---" * (len(_CLASSES) + 1) + "|"]
    rows += [f"| {name} | {' | '.join(cells)} |" for name, cells in _rows(edition)]
    return "\n".join((head, *rows, ""))


def _rows(edition: Edition) -> Iterator[tuple[str, list[str]]]:
    outside = {of for entry in edition.book.outside for of in entry.classes}
    silent = {(entry.question, of) for entry in edition.book.not_covered for of in entry.classes}
    for heading, entries in provisions(edition.book):
        if heading in _SAID_ELSEWHERE:
            continue
        for about, group in _by_subject(entries):
            cells = [
                "outside" if of in outside else _cell(group, of, no_figure=(heading, of) in silent) for of in _CLASSES
            ]
            yield f"{heading} {about}".strip().replace("_", " "), cells
    headings = {heading for heading, entries in provisions(edition.book) if entries}
    for question in sorted({entry.question for entry in edition.book.not_covered} - headings):
        cells = ["outside" if of in outside else "no figure" if (question, of) in silent else "" for of in _CLASSES]
        yield question.replace("_", " "), cells


def _by_subject(entries: Iterable[Provision]) -> Iterator[tuple[str, list[Provision]]]:
    subjects: dict[str, list[Provision]] = {}
    for entry in entries:
        subjects.setdefault(entry.about, []).append(entry)
    yield from subjects.items()


def _cell(entries: Iterable[Provision], of: TyreClass, *, no_figure: bool) -> str:
    said = "; ".join(_said(entry) for entry in entries if of in entry.classes)
    return said or ("no figure" if no_figure else "")


def _said(entry: Provision) -> str:
    """Return a provision in few words: its values, its conditions, how it is known."""
    conditions = set(Provision.__struct_fields__) - _LEFT_OUT
    given = {
        name: value
        for name in entry.__struct_fields__
        if name not in _LEFT_OUT and (value := getattr(entry, name)) is not None and value != entry.about
    }
    values = ", ".join(_value(name, value) for name, value in given.items() if name not in conditions)
    held = ", ".join(_value(name, value) for name, value in given.items() if name in conditions)
    return f"{values}{f' [{held}]' if held else ''} ({_INITIAL[entry.basis]})"


def _value(name: str, value: object) -> str:
    """Return a value with what it is: `found to 6 mm` for `found_to_mm = 6`; a word speaks for itself."""
    if isinstance(value, tuple):
        value = "/".join(str(part) for part in value)
    if isinstance(value, bool):
        return f"{'' if value else 'no '}{name.replace('_', ' ')}"
    if isinstance(value, str) and name in _WORDS:
        return value.replace("_", " ")
    what, _, unit = name.rpartition("_")
    number = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{what.replace('_', ' ')} {number} {unit}" if unit in _UNITS else f"{name.replace('_', ' ')} {number}"
