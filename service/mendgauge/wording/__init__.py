"""What the service says, in one place: findings, questions and cautions, in British or American words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import cache
from importlib import resources
from typing import TypeVar

import msgspec

from mendgauge.rulebooks.provision import Basis, Language
from mendgauge.wording.american import american
from mendgauge.wording.cards import CardWords
from mendgauge.wording.gauges import GaugeWords
from mendgauge.wording.limits import LimitWords
from mendgauge.wording.quotes import QuoteWords


class FindingWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a rule says when it is met, broken or open; templates over the observation and the limit.

    `unknown` stands in for `open` where nothing was measured, `not_through` for `met` where the injury has no channel,
    `alone` for `met` where there is nothing to measure to, `limit_unknown` for `open` where the limit is a fact of the
    tyre that nobody knows. Then the probable cause where the trade knows one, what to do for the tyre (or where only a
    `specialist` repairs it, or breaking the rule is a `caution`), the vehicle and the operation; `mate` is said of the
    vehicle, too, where the tyre may run in a dual pair. For a rule on a measurement, the instrument and what to say
    when only a `{margin}` smaller than its tolerance is left. `tread` marks a depth that American gauges read in 32nds.
    """

    broken: str
    met: str = ""
    open: str = ""
    unknown: str = ""
    not_through: str = ""
    alone: str = ""
    limit_unknown: str = ""
    cause: str = ""
    tyre: str = ""
    specialist: str = ""
    caution: str = ""
    vehicle: str = ""
    mate: str = ""
    operation: str = ""
    measured_with: str = ""
    near: str = ""
    tread: bool = False


class QuestionWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What to ask, and how to find out."""

    asks: str
    how: str


class NotCoveredWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What to say where a rulebook has no figure: a template over `topics`, and each topic by its heading.

    `no_more` are notes of rulebooks that say no more than that.
    """

    says: str
    no_more: tuple[str, ...]
    topics: dict[str, str]


class UntilThenWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a driver may do with a tyre in some state; templates over a speed, a distance and a share of the pressure.

    `open` is said where the state is not known, `used_up` where the distance was driven already; of a motorcycle, and
    of a tyre with a tube, their own, where they have some.
    """

    says: str
    open: str = ""
    motorcycle: str = ""
    motorcycle_open: str = ""
    tube: str = ""
    tube_open: str = ""
    used_up: str = ""


class CautionWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A caution, its basis and its source."""

    says: str
    basis: Basis
    source: str


class ReasonWords(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is said of a unit that does not fit, or may not; templates over what it has and what is needed.

    `unknown` stands in for `open` where it is not known what the unit has, `unmeasured` where it is not known what the
    channel needs.
    """

    no: str
    open: str
    unknown: str = ""
    unmeasured: str = ""


class UnitWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """What is said of repair units, of preparing their channels and of trimming their stems."""

    language: Language
    reasons: dict[str, ReasonWords]
    because: dict[str, str]
    when: dict[str, str]
    needs: dict[str, str]
    names: dict[str, str]
    arrows: dict[str, str]
    nothing_fits: dict[str, str]
    supposes: dict[str, str]
    room: dict[str, str]
    limit: dict[str, str]
    preparation: dict[str, str]
    trim: dict[str, str]
    cautions: dict[str, CautionWords]


class DrawingWords(msgspec.Struct, frozen=True, eq=False, forbid_unknown_fields=True):
    """What stands on the drawing of a case; templates over its figures."""

    crown_section: str
    liner_plan: str
    detail: str
    scale: str
    band: str
    tread_width: str
    section_width: str
    valve: str
    bead: str
    earlier: str
    injury: str
    broken: str
    open: str
    by: str
    patch: str
    across: str
    across_not_known: str
    along: str
    from_valve_not_known: str
    along_not_known: str
    key_flags: str
    key_hatching: str
    one_more_open: str
    more_open: str
    not_measured: str
    not_known_of: str
    no_band: str
    earlier_not_known: str
    standards: str
    lengths: dict[str, str]
    titles: dict[str, str]
    verdicts: dict[str, str]
    figures: dict[str, str]
    regions: dict[str, str]
    measures: dict[str, str]
    missing: dict[str, str]


class Wording(msgspec.Struct, frozen=True, eq=False):
    """Every text in one language."""

    language: Language
    findings: dict[str, FindingWords]
    questions: dict[str, QuestionWords]
    cautions: dict[str, CautionWords]
    until_then: dict[str, UntilThenWords]
    units: UnitWords
    limits: LimitWords
    quotes: QuoteWords
    drawings: DrawingWords
    gauges: GaugeWords
    cards: CardWords
    not_covered: NotCoveredWords


T = TypeVar("T")


@cache
def wording(language: Language) -> Wording:
    """Return the texts in the words of a rulebook's country."""
    return Wording(
        language,
        read_texts("findings", dict[str, FindingWords], language),
        read_texts("questions", dict[str, QuestionWords], language),
        read_texts("cautions", dict[str, CautionWords], language),
        read_texts("until_then", dict[str, UntilThenWords], language),
        read_texts("units", UnitWords, language),
        read_texts("limits", LimitWords, language),
        read_texts("quotes", QuoteWords, language),
        read_texts("drawings", DrawingWords, language),
        read_texts("gauges", GaugeWords, language),
        read_texts("cards", CardWords, language),
        read_texts("not_covered", NotCoveredWords, language),
    )


def read_texts(name: str, kind: type[T], language: Language) -> T:
    """Return the texts of a file of this folder in one language."""
    text = resources.files(__package__).joinpath(f"{name}.toml").read_text("utf-8")
    table = msgspec.toml.decode(text)
    if kind in (UnitWords, QuoteWords):
        table["language"] = language
    return msgspec.convert(_translate(table, language), kind)


def _translate(value: object, language: Language) -> object:
    if isinstance(value, dict):
        return {key: _translate(entry, language) for key, entry in value.items()}
    return in_language(language, value) if isinstance(value, str) else value


def in_language(language: Language, text: str) -> str:
    """Return a British text in the words and units of a rulebook's country."""
    return american(text) if language == "en-US" else text


def either_of(names: Sequence[str]) -> str:
    """Return names as alternatives.

    >>> either_of(["van", "truck", "bus"])
    'van, truck or bus'
    """
    return " or ".join(filter(None, (", ".join(names[:-1]), *names[-1:])))


def day_in_words(day: date, language: Language) -> str:
    """Return a day as a country writes it.

    >>> day_in_words(date(2026, 12, 4), "en-GB"), day_in_words(date(2026, 12, 4), "en-US")
    ('4 December 2026', 'December 4, 2026')
    """
    return f"{day:%B} {day.day}, {day.year}" if language == "en-US" else f"{day.day} {day:%B %Y}"
