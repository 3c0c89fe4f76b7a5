"""Every text that the service says: complete, short, and in the words of the rulebook's country."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from importlib import resources
from typing import Any

import pytest

from mendgauge.rulebooks import list_editions
from mendgauge.rules.binding import INJURY_RULES, POSITION_RULES, TYRE_RULES
from mendgauge.wording import american, wording

LONGEST_SENTENCE = 160
FILES = sorted(entry.name for entry in resources.files("mendgauge.wording").iterdir() if entry.name.endswith(".toml"))
RULES = sorted({question.name for question in (*TYRE_RULES, *INJURY_RULES, *POSITION_RULES)})
AMERICAN_ONLY = re.compile(r"\b(tires?|centers?|molded|curb|gray|color)\b", re.IGNORECASE)
BRITISH_ONLY = re.compile(r"\b(tyres?|centres?|moulded|kerb|grey|colour|lorry)\b", re.IGNORECASE)


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
def test_texts_are_british_and_translate_to_american(file: str) -> None:
    for place, text in said(file):
        assert not AMERICAN_ONLY.search(text), place
        assert not BRITISH_ONLY.search(american(text)), place


@pytest.mark.parametrize("file", FILES)
def test_texts_are_finished(file: str) -> None:
    for place, text in said(file):
        assert text == text.strip(), place
        assert not re.search(r"TODO|FIXME|XXX|\s{2}|\?\?", text), place


@pytest.mark.parametrize("rule", RULES)
def test_a_rule_can_be_told_however_it_comes_out(rule: str) -> None:
    for edition in list_editions():
        words = wording(edition.book.language).findings[rule]
        assert words.met
        assert words.broken
        assert words.open


def test_american_keeps_capitals_and_leaves_other_words() -> None:
    assert american("Tyres at the centre, a tyre-like entry") == "Tires at the center, a tire-like entry"
