"""The questions of an answer that builds on another's: the same again, with what more they settle, then the rest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final, TypeVar

import msgspec

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.case.contract import Pointer
from mendgauge.judging.questions import PLACES, Ask, ToEstablish, ask_for, in_words
from mendgauge.wording import Wording

Question = TypeVar("Question", bound=Any)

_PLACE: Final[dict[str, int]] = {place: order for order, place in enumerate(PLACES)}

ASKED_IN_BRIEF: Final = 4
"""Questions that a brief answer has: as many as one call answers."""


def in_answer(asks: tuple[Ask, ...], bound: BoundEdition) -> tuple[ToEstablish, ...]:
    """Return questions in words: all, or the first of them in a brief answer."""
    return tuple(in_words(ask, bound.words) for ask in first_of(asks, bound))


def first_of(questions: tuple[Question, ...], bound: BoundEdition) -> tuple[Question, ...]:
    """Return all questions, or the first of them in a brief answer."""
    return questions if bound.full else questions[:ASKED_IN_BRIEF]


def with_more(
    asked: Sequence[ToEstablish], more: Mapping[Pointer, Sequence[str]], words: Wording
) -> tuple[ToEstablish, ...]:
    """Return the questions with what `more` each field settles, each field once.

    What was asked for keeps its order; a new question goes behind all that can be answered no later.
    """
    left = dict(more)
    fuller = [
        msgspec.structs.replace(one, settles=tuple(dict.fromkeys((*one.settles, *left.pop(one.field, ())))))
        for one in asked
    ]
    rest = sorted(left.items(), key=lambda entry: -len(entry[1]))
    new = [in_words(ask_for(field, tuple(names)), words) for field, names in rest]
    return tuple(sorted((*fuller, *new), key=lambda one: (one.asked_at == "bench", one.waits, _PLACE[one.asked_at])))
