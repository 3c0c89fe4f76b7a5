"""What stands on the bench page, and the fields of a case as a form asks for them: labels, bounds, choices."""

from __future__ import annotations

from functools import cache
from math import inf
from typing import Literal, TypeAlias

import msgspec

from mendgauge.case.contract import AskedAt, CaseField, Instrument, Pattern
from mendgauge.case.fields import FIELDS
from mendgauge.rulebooks.provision import Language
from mendgauge.wording import read_texts, wording

Kind: TypeAlias = Literal["measured", "number", "text", "yes_no", "choice", "list"]
"""What an answer to a field is: a number that may be a range, a plain number, a text, yes or no, a word, or a list."""


class PageWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """The texts of the page; `labels` for what nobody is asked, `complete` for what closes a section."""

    texts: dict[str, str]
    sections: dict[str, str]
    labels: dict[Pattern, str]
    complete: dict[Pattern, str]
    next_steps: dict[str, str]
    drive: dict[str, str]
    basis: dict[str, str]
    asked_at: dict[AskedAt, str]
    choices: dict[str, dict[str, str]]


class FormField(msgspec.Struct, frozen=True, omit_defaults=True):
    """A field of the case as a form asks for it."""

    kind: Kind
    asks: str
    how: str = ""
    asked_at: AskedAt = "bench"
    instrument: Instrument | None = None
    low: float | None = None
    high: float | None = None
    choices: dict[str, str] = msgspec.field(default_factory=dict)


class Form(msgspec.Struct, frozen=True):
    """Everything that the page says of itself in one language."""

    language: Language
    verdicts: dict[str, str]
    page: PageWords
    fields: dict[Pattern, FormField]


@cache
def form(language: Language) -> Form:
    """Return the fields of a case as a form asks for them, and the texts around them."""
    page = read_texts("page", PageWords, language)
    fields = {pattern: _form_field(field, page, language) for pattern, field in FIELDS.items()}
    return Form(language, wording(language).drawings.verdicts, page, fields)


def _form_field(field: CaseField, page: PageWords, language: Language) -> FormField:
    asked = wording(language).questions.get(field.pattern)
    name = field.pattern.rpartition("/")[2]
    kind = _kind(field)
    measurement = field.measurement
    return FormField(
        kind=kind,
        asks=page.complete.get(field.pattern) or (asked.asks if asked else page.labels[field.pattern]),
        how=asked.how if asked else "",
        asked_at=field.entry.asked_at,
        instrument=field.entry.instrument,
        low=_finite(measurement.low) if measurement else None,
        high=_finite(measurement.high) if measurement else None,
        choices=page.choices[name] if kind == "choice" else {},
    )


def _kind(field: CaseField) -> Kind:
    if field.measurement is not None:
        return "measured"
    if field.choices:
        if isinstance(field.choices[0], bool):
            return "yes_no"
        return "choice" if isinstance(field.choices[0], str) else "list"
    return "number" if field.numeric else "text"


def _finite(bound: float) -> float | None:
    return None if abs(bound) == inf else bound
