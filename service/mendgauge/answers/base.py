"""What every answer is made of: open word lists, and the rulebook it rests on."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Final

import msgspec
from msgspec import Meta

from mendgauge.core.interval import EITHER, NO, YES, Truth


def open_words(*words: str) -> dict[str, object]:
    """Return the schema of a word of an answer: those there are now, to which a later version may add."""
    return {"x-extensible-enum": list(words)}


CERTAINTY: Final = open_words("yes", "no", "open")
CERTAIN: Final[dict[Truth, str]] = {YES: "yes", NO: "no", EITHER: "open"}
"""A truth as an answer gives it."""
VERDICTS: Final = open_words("repairable", "specialist", "not_covered", "not_repairable", "inspect")


class AnswerPart(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Base of everything in an answer. A field at its default is left out: null, none, or only in a full answer."""


class RulebookUsed(AnswerPart, frozen=True, kw_only=True):
    """The rulebook edition an answer rests on."""

    id: Annotated[str, Meta(description="The rulebook.", examples=["gb"])]
    edition: Annotated[str, Meta(description="Its edition.", examples=["2026.1"])]
    digest: Annotated[
        str | None,
        Meta(description="Digest of the edition's content; once in a brief answer.", examples=["sha256:0f3a"]),
    ] = None


class Answer(AnswerPart, frozen=True, kw_only=True):
    """Base of the answers to a case: which case, under which edition, as of which day."""

    reference: Annotated[str | None, Meta(description="The caller's own name for the case.")] = None
    codes: Annotated[
        dict[str, str],
        Meta(max_length=50, description="The caller's own codes, as they came; left out if none."),
    ] = msgspec.field(default_factory=dict)
    rulebook: RulebookUsed
    assessed_on: Annotated[date, Meta(description="The day the case was judged on.")]
