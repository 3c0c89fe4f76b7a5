"""Every text of an answer that a person reads, and what must not be in one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, Final

import msgspec

from mendgauge.case.case import Case

LONGEST_SENTENCE: Final = 160

_SENTENCES: Final = frozenset(
    {
        "arrows",
        "asks",
        "book_says",
        "cause",
        "checks",
        "do",
        "how",
        "if_not",
        "long",
        "operation",
        "right",
        "says",
        "tyre",
        "vehicle",
        "when",
    }
)
"""Fields of an answer that hold whole sentences."""

_NO_SENTENCES: Final = frozenset({"parameters", "rulebook"})
"""Fields below which texts are figures or names."""


def sentences_of(answer: Any) -> list[str]:
    """Every text of an answer that is made of whole sentences, as it is encoded."""
    return list(dict.fromkeys(_found(msgspec.to_builtins(answer))))


def _found(value: Any, key: str = "") -> Iterator[str]:
    if isinstance(value, dict):
        for name, entry in value.items():
            if name not in _NO_SENTENCES:
                yield from _found(entry, name)
    elif isinstance(value, list | tuple):
        for entry in value:
            yield from _found(entry, key)
    elif isinstance(value, str) and key in _SENTENCES and " " in value:
        yield value


def _contract_words() -> set[str]:
    """Every name of the request that no person says: those with an underscore."""
    (_, components) = msgspec.json.schema_components([Case])
    return {name for schema in components.values() for name in schema.get("properties", ()) if "_" in name}


CONTRACT_WORDS: Final = _contract_words()

HEARD_IN_NO_SHOP: Final = (
    "at most its maker's word lets",
    "as told",
    "as it was told",
    "was told",
    "tell the speed",
    "by the word of",
    "no word of",
    "its maker's word",
    "this is none",
    "is no retread",
    "do not pass",
    "repaired apart",
    "tired",
    "a parting tread",
    "it does, but",
    "look twice",
    "as far as he",
    "come loose?",
    "asked for",
    "hangs on",
    "may be not known",
    "a yes",
)
"""Phrases that nobody in a shop says."""

_BRITISH: Final = (
    "tyres?|centres?|centred|moulded|kerbs?|grey|colours?|lorry|lorries|callipers?|carcass|petrol|labour|vapours?|"
    "wheel nuts?|aluminium|litres?|(?:milli|centi|kilo)?metres?|neighbour\\w*|relearnt|fit tyres|is fitted"
)
_AMERICAN: Final = "tires?|centers?|centered|molded|curbs?|gray|colors?|calipers?|gasoline|labor|vapors?|lug nuts?"

WRONG: Final = {
    "an unfilled place": r"[{}]",
    "an unknown in a sentence for a value": r"(?:not known|unknown) (?:away|long|old|thick)\b|not known;",
    "a name of the contract": rf"`|/\w+/|\b(?:{'|'.join(sorted(CONTRACT_WORDS))})\b",
    "two spaces": r"  ",
    "an empty value": r" [.;,?)]|\(\s*\)|\b(?:nan|inf)\b|(?<=[a-z] )(?-i:None)\b",
    "a unit without its number": r"(?:^|[^\d\s] )(?:mm|km/h|mph|kg|psi)[ .,;)]",
    "a singular for many": r"\b(?!1\b)\d+ (?:year|degree|repair|day|hour|mile)\b(?!-)",
    "a plural for one": r"(?<![\d.,/])1 (?:years|degrees|repairs|days|hours|miles)\b",
    "more digits than a gauge reads": r"\d\.\d{3,} (?:mm|km|kg|degrees|years)",
    "a power of ten": r"\de[+-]\d",
    "what is heard in no shop": "|".join(rf"\b{re.escape(phrase)}" for phrase in HEARD_IN_NO_SHOP),
}
_WRONG: Final = {name: re.compile(pattern, re.IGNORECASE) for name, pattern in WRONG.items()}
_OTHER_COUNTRY: Final = {
    "en-US": re.compile(rf"\b(?:{_BRITISH})\b", re.IGNORECASE),
    "en-GB": re.compile(rf"\b(?:{_AMERICAN})\b|\d in\b(?! a)", re.IGNORECASE),
}


def flaws_of(text: str, language: str) -> list[str]:
    """What is wrong with a text for people in the words of a country."""
    found = [f"{name}: {match.group()!r}" for name, pattern in _WRONG.items() if (match := pattern.search(text))]
    if match := _OTHER_COUNTRY[language].search(text):
        found.append(f"another country's word: {match.group()!r}")
    if not text[0].isupper() and not text[0].isdigit():
        found.append("no capital")
    if text[-1] not in ".?!":
        found.append("no full stop")
    found += [
        f"{len(sentence)} characters"
        for sentence in re.split(r"(?<=[.!?])\s", text)
        if len(sentence) > LONGEST_SENTENCE
    ]
    return found
