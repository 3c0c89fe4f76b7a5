"""What the service says, in one place: findings, questions and cautions, in British or American words."""

from __future__ import annotations

import re
from functools import cache
from importlib import resources
from typing import Final, TypeVar

import msgspec

from mendgauge.rulebooks.schema.book import Basis, Language
from mendgauge.wording.limits import LimitWords
from mendgauge.wording.quotes import QuoteWords


class FindingWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a rule says when it is met, broken or open; templates over the observation and the limit.

    Then the probable cause where the trade knows one, what to do for the tyre, the vehicle and the operation, and, for
    a rule on a measurement, the instrument and what to say when only a `{margin}` smaller than its tolerance is left.
    """

    broken: str
    met: str = ""
    open: str = ""
    cause: str = ""
    tyre: str = ""
    vehicle: str = ""
    operation: str = ""
    measured_with: str = ""
    near: str = ""


class QuestionWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What to ask, how to find out, and whether the tyre must be off the rim."""

    asks: str
    how: str
    demounted: bool


class CautionWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A caution, its basis and its source."""

    says: str
    basis: Basis
    source: str


class ReasonWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is said of a unit that does not do, or may not; templates over what it has and what is needed."""

    no: str
    open: str


class UnitWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """What is said of repair units, of preparing their channels and of trimming their stems."""

    reasons: dict[str, ReasonWords]
    because: dict[str, str]
    when: dict[str, str]
    arrows: dict[str, str]
    nothing_fits: dict[str, str]
    room: dict[str, str]
    limit: dict[str, str]
    preparation: dict[str, str]
    trim: dict[str, str]
    cautions: dict[str, CautionWords]


class Wording(msgspec.Struct, frozen=True, eq=False):
    """Every text in one language."""

    findings: dict[str, FindingWords]
    questions: dict[str, QuestionWords]
    cautions: dict[str, CautionWords]
    units: UnitWords
    limits: LimitWords
    quotes: QuoteWords
    not_covered: str = "{question}: no figure in this rulebook. {note}"


T = TypeVar("T")

_AMERICAN: Final = {
    "tyre": "tire",
    "tyres": "tires",
    "centre": "center",
    "centres": "centers",
    "mould": "mold",
    "moulded": "molded",
    "kerb": "curb",
    "lorry": "truck",
    "petrol": "gasoline",
}
_WORD: Final = re.compile(r"[A-Za-z]+")


@cache
def wording(language: Language) -> Wording:
    """The texts in the words of a rulebook's country."""
    return Wording(
        _read("findings", dict[str, FindingWords], language),
        _read("questions", dict[str, QuestionWords], language),
        _read("cautions", dict[str, CautionWords], language),
        _read("units", UnitWords, language),
        _read("limits", LimitWords, language),
        _read("quotes", QuoteWords, language),
    )


def _read(name: str, kind: type[T], language: Language) -> T:
    text = resources.files(__package__).joinpath(f"{name}.toml").read_text("utf-8")
    table = msgspec.toml.decode(text)
    return msgspec.convert(_translate(table, language), kind)


def _translate(value: object, language: Language) -> object:
    if isinstance(value, dict):
        return {key: _translate(entry, language) for key, entry in value.items()}
    return in_language(language, value) if isinstance(value, str) else value


def in_language(language: Language, text: str) -> str:
    """A British text in the spelling of a rulebook's country."""
    return american(text) if language == "en-US" else text


def american(text: str) -> str:
    """The same text in American spelling."""
    return _WORD.sub(lambda found: _in_american(found.group()), text)


def _in_american(word: str) -> str:
    other = _AMERICAN.get(word.lower(), word)
    return other.capitalize() if word[0].isupper() and other != word else other
