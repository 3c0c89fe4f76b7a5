"""Every text that the service says: complete, short, and as people in the shops of its country say it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib import resources
from itertools import product
from math import inf
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest
from tests.texts import CONTRACT_WORDS, HEARD_IN_NO_SHOP, LONGEST_SENTENCE, flaws_of, sentences_of

from mendgauge.answers.finding import limit_of, observed_of, sentence
from mendgauge.core.interval import Interval
from mendgauge.rulebooks import list_editions
from mendgauge.rulebooks.provision import Language
from mendgauge.rules.binding import INJURY_RULES, POSITION_RULES, TYRE_RULES
from mendgauge.rules.engine import Evidence
from mendgauge.wording import FindingWords, wording
from mendgauge.wording.american import american

FILES: Final = sorted(
    entry.name for entry in resources.files("mendgauge.wording").iterdir() if entry.name.endswith(".toml")
)
RULES: Final = sorted({question.name for question in (*TYRE_RULES, *INJURY_RULES, *POSITION_RULES)})
GOLDEN: Final = sorted(Path(__file__).parents[2].joinpath("openapi", "examples").rglob("*.json"))
LANGUAGES: Final[tuple[Language, ...]] = ("en-GB", "en-US")
WORDS: Final = {language: wording(language) for language in LANGUAGES}
OF_A_QUANTITY: Final = {
    "age": "years",
    "age_warning": "years",
    "axle_load": "kg",
    "axle_tread": "mm",
    "band": "mm",
    "cut_length": "mm",
    "dual_match": "mm",
    "dual_tread": "mm",
    "house_age": "years",
    "house_injury_size": "mm",
    "house_lean": "deg",
    "house_repair_count": "repairs",
    "house_spacing": "mm",
    "house_tread_depth": "mm",
    "injury_size": "mm",
    "lean": "deg",
    "maker_repair_count": "repairs",
    "one_piece_lean": "deg",
    "overlap": "mm",
    "repair_count": "repairs",
    "service_tread": "mm",
    "spacing": "mm",
    "speed_symbol": "km/h",
    "tread_depth": "mm",
    "tread_warning": "mm",
}
"""Every rule about a quantity, with its unit."""
OBSERVED: Final = (
    Interval(0.0, 0.0),
    Interval(1.0, 1.0),
    Interval(1.6, 1.6),
    Interval(7.0, 7.0),
    Interval(6.04, 6.04),
    Interval(10.15, 10.17),
    Interval(0.0, 1.0),
    Interval(0.0, 12.5),
    Interval(3.25, 8.0),
    Interval(143.5, 400.0),
    Interval(1998.4, 2460.0),
)
LIMITS: Final = (1.0, 2.0, 6.0, 71.75)
LIMITS_OF: Final = {"dual_match": (Interval(6.35, 9.525),), "speed_symbol": (Interval(210.0, inf),)}
"""Limits that are ranges: a table's, over what a diameter may be, and a speed that a marking gives a floor to."""


def texts(value: Any, place: str = "") -> Iterator[tuple[str, str]]:
    """Every text of a file with its place."""
    if isinstance(value, dict):
        for key, entry in value.items():
            yield from texts(entry, f"{place}/{key}")
    elif isinstance(value, list):
        for index, entry in enumerate(value):
            yield from texts(entry, f"{place}/{index}")
    elif isinstance(value, str):
        yield place, value


def said(file: str) -> list[tuple[str, str]]:
    return list(texts(tomllib.loads(resources.files("mendgauge.wording").joinpath(file).read_text("utf-8"))))


@pytest.mark.parametrize("file", FILES)
def test_no_sentence_is_long(file: str) -> None:
    long = [
        (place, sentence)
        for place, text in said(file)
        for sentence in re.split(r"(?<=[.!?])\s", text)
        if len(sentence) > LONGEST_SENTENCE
    ]
    assert not long


@pytest.mark.parametrize("file", FILES)
def test_a_text_is_finished_and_in_the_words_of_a_shop(file: str) -> None:
    for place, text in said(file):
        assert text == text.strip(), place
        assert not re.search(r"TODO|FIXME|XXX|\s{2}|\?\?", text), place
        heard = [phrase for phrase in HEARD_IN_NO_SHOP if re.search(rf"\b{re.escape(phrase)}", text.lower())]
        assert not heard, (place, heard)


@pytest.mark.parametrize("file", FILES)
def test_a_text_for_people_names_nothing_of_the_contract(file: str) -> None:
    for place, text in said(file):
        # What no price stands for is an error for whoever sends the price book, and names its fields.
        if not place.startswith("/unpriced") and not place.endswith("/measured_with") and "/to/" not in place:
            assert not re.search(rf"`|\b(?:{'|'.join(CONTRACT_WORDS)})\b", text), place


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_has_a_text_however_it_comes_out(rule: str) -> None:
    texts = WORDS["en-GB"].findings[rule]
    assert texts.met
    assert texts.broken
    assert texts.open


def test_a_rule_about_a_quantity_says_in_a_sentence_of_its_own_that_it_is_not_known() -> None:
    for rule, texts in WORDS["en-GB"].findings.items():
        takes_a_value = any("{observed}" in text for text in (texts.met, texts.broken, texts.open))
        assert takes_a_value == (rule in OF_A_QUANTITY), rule
        assert bool(texts.unknown) == (rule in OF_A_QUANTITY), rule
        for text in (texts.unknown, texts.not_through, texts.alone, texts.limit_unknown):
            assert "{observed}" not in text, rule


@pytest.mark.parametrize(("rule", "language"), [*product(sorted(WORDS["en-GB"].findings), LANGUAGES)])
def test_a_finding_reads_well_whatever_was_observed(rule: str, language: Language) -> None:
    texts = WORDS[language].findings[rule]
    unit = OF_A_QUANTITY.get(rule, "")
    for template, evidence in product(templates(texts), evidences(rule, unit)):
        if evidence.observed is None and "{observed}" in template:
            continue
        if evidence.limit is None and ("{limit}" in template or "{bound}" in template):
            continue
        text = sentence(template, evidence, observed_of(evidence), limit_of(evidence), texts, language)
        assert not flaws_of(text, language), text


def templates(texts: FindingWords) -> list[str]:
    every = (texts.met, texts.broken, texts.open, texts.unknown, texts.not_through, texts.alone, texts.limit_unknown)
    return [text for text in every if text]


def evidences(rule: str, unit: str) -> Iterator[Evidence]:
    yield Evidence()
    at_least = "tread" in rule or "spacing" in rule
    limits: tuple[float | Interval, ...] = (*LIMITS, *LIMITS_OF.get(rule, ()))
    observations: tuple[Interval | None, ...] = (None, *OBSERVED)
    for observed, limit, inclusive in product(observations, limits, (True, False)):
        if not (unit == "repairs" and observed is not None and observed.low % 1.0):
            yield Evidence(observed, limit, unit, inclusive, at_least)


@pytest.mark.parametrize(("rule", "language"), [*product(sorted(WORDS["en-GB"].findings), LANGUAGES)])
def test_cause_and_advice_are_sentences(rule: str, language: Language) -> None:
    texts = WORDS[language].findings[rule]
    advice = (texts.tyre, texts.specialist, texts.caution, texts.vehicle, texts.mate, texts.operation)
    for text in (texts.cause, *advice):
        assert not text or not flaws_of(text, language), text
    assert "specialist" not in texts.tyre.lower(), "only where the book sends the tyre to one"


@pytest.mark.parametrize("language", LANGUAGES)
def test_questions_and_cautions_are_sentences(language: Language) -> None:
    words = WORDS[language]
    for question in words.questions.values():
        assert question.asks.endswith("?")
        for text in (question.asks, question.how):
            assert not flaws_of(text, language), text
    for caution in words.cautions.values():
        text = caution.says.format(cutter="6 mm" if language == "en-GB" else "1/4 in (6 mm)", words="'ABC', 'DE'")
        assert not flaws_of(text, language), text


def test_every_question_without_a_figure_has_a_topic() -> None:
    for edition in list_editions():
        for entry in edition.book.not_covered:
            assert entry.question in WORDS["en-GB"].not_covered.topics, edition.reference


def test_every_note_that_is_not_said_stands_in_a_rulebook() -> None:
    notes = {entry.note for edition in list_editions() for entry in edition.book.not_covered}
    for words in WORDS.values():
        assert set(words.not_covered.no_more) <= notes


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_every_text_of_a_golden_answer_reads_well(path: Path) -> None:
    example = msgspec.json.decode(path.read_bytes())
    if example["status"] != 200:
        return
    answer = example["response"]
    for one in answer.get("outcomes") or [answer]:
        language: Language = "en-US" if '"id":"us"' in msgspec.json.encode(one).decode() else "en-GB"
        for text in sentences_of(one):
            assert not flaws_of(text, language), text


@pytest.mark.parametrize(
    ("british", "its_american"),
    [
        ("Tyres at the centre, a tyre-like entry", "Tires at the center, a tire-like entry"),
        ("Check the wheel nuts with a wheel nut wrench.", "Check the lug nuts with a lug wrench."),
        ("The carcass is centred on the moulded mark.", "The casing is centered on the molded mark."),
        ("Fit a spare. Go all round the tyre.", "Install a spare. Go all the way around the tire."),
        ("The code no_petrol and `tyre` stay.", "The code no_petrol and `tyre` stay."),
        ("Buff 10 mm past the patch.", "Buff 3/8 in (10 mm) past the patch."),
        ("At most 276 kPa (40 psi).", "At most 40 psi (276 kPa)."),
        ("Check again after 80 to 160 km (50 to 100 miles).", "Check again after 50 to 100 miles (80 to 160 km)."),
        ("Under 5 °C, with 3.2 mm of tread.", "Under 41 °F (5 °C), with 4/32 in (3.2 mm) of tread."),
    ],
)
def test_american_is_spoken_as_in_an_american_shop(british: str, its_american: str) -> None:
    assert american(british) == its_american
    assert american(its_american) == its_american, "said twice it stays"
