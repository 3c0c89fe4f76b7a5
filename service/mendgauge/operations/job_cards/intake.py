"""The intake sheet: what is known, and the questions that settle the rest, in order, with room to answer."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.case.fields import pattern_of
from mendgauge.judging.questions import PLACES, ToEstablish
from mendgauge.operations.job_cards.blocks import Beside, Block, Fields, Notes, Question, Questions
from mendgauge.operations.job_cards.facts import drawings, reasons, tyre_facts
from mendgauge.operations.repairability.offer import deciding_findings
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup
from mendgauge.wording import Wording


def intake_blocks(workup: Workup) -> Iterator[Block | Beside]:
    """Yield what stands on the intake sheet: the questions by where they are answered, papers first, bench last."""
    words, answer = workup.bound.words.cards, verdict_of(workup)
    yield Notes("", (words.says["intake"],))
    yield tyre_facts(workup)
    if broken := tuple(one for one in deciding_findings(answer) if one.outcome == "broken"):
        yield reasons(workup, broken)
    for place in PLACES:
        questions = (one for one in answer.to_establish if one.asked_at == place)
        asked = tuple(question for one in questions for question in _with_room(one, workup.bound.words))
        if asked:
            yield Questions(words.asked_at[place], asked)
    yield from drawings(workup)
    yield Fields(words.headings["to_fill"], tuple(words.fields[name] for name in ("technician", "date", "odometer")))


def _with_room(one: ToEstablish, words: Wording) -> Iterator[Question]:
    """Yield a question; of a whole section each part of it, for paper has to leave room for every answer."""
    if not one.parts:
        yield Question(one.asks, one.how)
    for part in one.parts:
        question = words.questions[pattern_of(part)]
        yield Question(question.asks, question.how)
