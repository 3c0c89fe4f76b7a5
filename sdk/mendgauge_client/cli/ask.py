"""`mendgauge-client ask`: an interview about one tyre, one question at a time, until the verdict stands."""

from __future__ import annotations

import argparse
import copy
import re
import sys
from collections.abc import Container, Iterable, Sequence
from typing import Any

import msgspec

from mendgauge_client.cli.fault import AT_FAULT, DONE, UsageError, sentence
from mendgauge_client.cli.service import chosen_service
from mendgauge_client.client import Mendgauge
from mendgauge_client.errors import InvalidRequestError
from mendgauge_client.models import Repairability, ToEstablish
from mendgauge_client.questions import Where, questions_at
from mendgauge_client.tabular import fields, values
from mendgauge_client.tabular.columns import MARKING, RULEBOOK
from mendgauge_client.tabular.faults import UnusableValueError

STOP = frozenset({"q", "quit", "stop"})
HELP = "Enter alone: not known.  ?: how to find out.  q: stop here."
COMPLETE = "/complete"
"""How the pointer of a question ends that is about a whole section."""
ALL_AT_ONCE = "Write none, or those that there are, with commas between."
LEFT_OF = {
    "/position/axle": (
        "/position/steered",
        "Does that axle steer?",
        "Look whether its wheels turn with the steering wheel, or by themselves in a bend.",
    )
}
"""A question about two things at once, by the field it names: what is left of it once that field is known."""
LINES_SHOWN = 5
ROAD = "/history/"
"""How the pointer of a question begins that is about what happened on the road."""


class _StoppedError(Exception):
    """Whoever is asked wants no more questions."""


def ask(options: argparse.Namespace) -> int:
    """Interview a person about a tyre, and print the verdict and what to do.

    Raises:
        UsageError: What was given cannot be used.
        CallError: The service gave no answer.
    """
    with chosen_service(options) as service:
        interview = _Interview(service, options.where)
        try:
            interview.begin({MARKING: options.marking, RULEBOOK: options.rulebook, "/vehicle/kind": options.vehicle})
            interview.go_on()
        except _StoppedError:
            pass
        if interview.answer is None:
            _say("Without the marking and the rulebook nothing can be said.")
            return AT_FAULT
        _conclude(interview.answer)
    return DONE


class _Interview:
    """What is known so far, and what the service says of it."""

    def __init__(self, service: Mendgauge, where: Where) -> None:
        self.answer: Repairability | None = None
        self._service = service
        self._where = where
        self._tree: dict[str, Any] = {}
        self._asked: set[str] = set()
        self._books: frozenset[str] = frozenset()

    def begin(self, given: dict[str, str | None]) -> None:
        """Ask for what no case can be without, unless it is given."""
        _say(HELP)
        rulebooks = self._service.list_rulebooks().rulebooks
        self._books = frozenset(name for book in rulebooks for name in (book.id, book.reference))
        books = ", ".join(dict.fromkeys(book.id for book in rulebooks))
        questions = {
            MARKING: ("What does the sidewall say?", "size and service description, such as 205/55R16 91V"),
            RULEBOOK: ("Under which rulebook?", f"one of {books}"),
        }
        for pointer, value in given.items():
            if value is not None:
                self._put(pointer, value)
        for pointer, (asks, how) in questions.items():
            while given[pointer] is None and not self._answered(pointer, asks, how):
                _say("  This one is needed.")
        while True:
            try:
                self.answer = self._judged(self._tree)
                break
            except InvalidRequestError as error:
                at_fault = [pointer for pointer in questions if any(fault.pointer == pointer for fault in error.faults)]
                _say_faults(error)
                if not at_fault:
                    raise _StoppedError from None
                for pointer in at_fault:
                    while not self._answered(pointer, *questions[pointer]):
                        _say("  This one is needed.")
        _say(_standing(self.answer))

    def _put(self, pointer: str, value: str) -> None:
        try:
            fields.put(self._tree, pointer, values.read(pointer, value))
        except UnusableValueError as error:
            raise UsageError(sentence(error)) from None

    def _answered(self, pointer: str, asks: str, how: str) -> bool:
        _say(f"\n{asks}")
        text = _heard("Nothing can be said without it.", how)
        while text and pointer == RULEBOOK and text.casefold() not in self._books:
            _say(f"  {text!r} is not {how}.")
            text = _heard("Nothing can be said without it.", how)
        if text:
            fields.put(self._tree, pointer, text.casefold() if pointer == RULEBOOK else text)
        return bool(text)

    def _judged(self, tree: dict[str, Any]) -> Repairability:
        case = fields.case_of(tree)
        case.detail = "full"  # which rules an answer settled is seen from all that are open
        return self._service.check_repairability(case)

    def go_on(self) -> None:
        """Ask until nothing is left to ask."""
        while (question := self._next()) is not None:
            self._ask(question)

    def _next(self) -> ToEstablish | None:
        assert self.answer is not None
        open_questions = [_left_of(question, self._asked) for question in self.answer.to_establish]
        left = [
            question
            for question in open_questions
            if question.field not in self._asked and fields.exists(question.field)
        ]
        if self._where == "phone" and self.answer.next_step != "ask_first":
            # It is clear what to do. Whether to drive meanwhile hangs on what happened on the road.
            left = [question for question in left if question.field.startswith(ROAD)]
        here = questions_at(self._where, left)
        if self._where == "vehicle" and left and not here:
            _say("\nWhat is left shows only with the tyre off its rim. Is it off?")
            if not _agreed():
                return None
            self._where = "bench"
            here = left
        return next(iter(here), None)

    def _ask(self, question: ToEstablish) -> None:
        assert self.answer is not None
        _say(f"\n{question.asks}{_which(question.field)}")
        self._asked.add(question.field)
        names = self._names_below(question.field)
        wanted = f"none, or which of: {', '.join(map(_plain, names))}" if names else values.takes(question.field)
        how = f"{question.how} {ALL_AT_ONCE}" if names else question.how
        while True:
            text = _heard(how, wanted)
            if not text:
                return
            try:
                tree = copy.deepcopy(self._tree)
                given = [
                    (pointer, value) for pointer, value in _values(question.field, text, names) if value is not None
                ]
                if not given:
                    return
                for pointer, value in given:
                    fields.put(tree, pointer, value)
                answer = self._judged(tree)
            except UnusableValueError as error:
                _say(f"  {sentence(error)}")
            except InvalidRequestError as error:
                _say_faults(error)
            else:
                _say(_effect(self.answer, answer))
                self._tree, self.answer = tree, answer
                return

    def _names_below(self, pointer: str) -> list[str]:
        """Return what a question about a whole section asks for: all of it but what is asked for by itself."""
        assert self.answer is not None
        if not pointer.endswith(COMPLETE):
            return []
        section = pointer.removesuffix(COMPLETE)
        by_itself = {question.field for question in self.answer.to_establish} | self._asked
        return [name for name in fields.yes_or_no_below(section) if f"{section}/{name}" not in by_itself]


def _left_of(question: ToEstablish, asked: Container[str]) -> ToEstablish:
    """Return the question, or what is left of it where its field has been asked for and is still open."""
    if question.field not in asked or question.field not in LEFT_OF:
        return question
    pointer, asks, how = LEFT_OF[question.field]
    return msgspec.structs.replace(question, field=pointer, asks=asks, how=how)


def _values(pointer: str, text: str, names: Sequence[str]) -> Iterable[tuple[str, Any]]:
    """Return what an answer says: one value, or which `names` of a section hold, and that they are all that do."""
    if not names:
        return [(pointer, values.read(pointer, text))]
    section = pointer.removesuffix(COMPLETE)
    found = [] if text.casefold() in values.NONE else [part.strip() for part in re.split("[;,]", text) if part.strip()]
    plain = [re.sub(r"[\s-]+", "_", name.casefold()) for name in found]
    for name in plain:
        if name not in names:
            raise UnusableValueError(
                f"{_plain(name)!r} is none of {', '.join(map(_plain, names))}{_plain(fields.meant(name, names))}"
            )
    return [(pointer, True), *((f"{section}/{name}", True) for name in plain)]


def _which(pointer: str) -> str:
    """Return which injury or repair is meant, where there is more than the first."""
    found = re.match(r"/(injuries|earlier_repairs)/([1-9][0-9]*)/", pointer)
    if found is None:
        return ""
    return f" ({'injury' if found[1] == 'injuries' else 'earlier repair'} {int(found[2]) + 1})"


def _heard(how: str, wanted: str) -> str:
    """Return what a person answers; empty where it is not known.

    Raises:
        _StoppedError: No more answers are to be had.
    """
    while True:
        try:
            text = input(f"  [{wanted}] > ").strip()
        except EOFError:
            _say("")
            raise _StoppedError from None
        if text.casefold() in STOP:
            raise _StoppedError
        if text != "?":
            return text
        _say(f"  {how}")


def _agreed() -> bool:
    while True:
        text = _heard("Once the tyre is demounted, the rest can be looked at.", "yes or no")
        try:
            return bool(text) and bool(values.read("/inspection/bulge", text))
        except UnusableValueError as error:
            _say(f"  {sentence(error)}")


def _open_rules(answer: Repairability) -> dict[tuple[str, int | None], str]:
    return {(found.rule, found.injury): found.says for found in answer.findings if found.outcome == "open"}


def _effect(before: Repairability, after: Repairability) -> str:
    """Return what an answer did."""
    was_open, still_open = _open_rules(before), _open_rules(after)
    broken = [found for found in after.findings if found.outcome == "broken"]
    known = {(found.rule, found.injury) for found in before.findings if found.outcome == "broken"}
    settled = dict.fromkeys(_plain(rule) for rule, injury in was_open if (rule, injury) not in still_open)
    lines = [f"  ! {found.says}" for found in broken if (found.rule, found.injury) not in known]
    if settled:
        lines.append(f"  That settles: {', '.join(settled)}.")
    if (after.verdict, after.possible_verdicts) != (before.verdict, before.possible_verdicts) or not lines:
        lines.append(_standing(after))
    return "\n".join(lines)


def _standing(answer: Repairability) -> str:
    if answer.verdict != "inspect":
        return f"  The verdict stands: {_plain(answer.verdict)}."
    left = len(_open_rules(answer))
    possible = " or ".join(map(_plain, answer.possible_verdicts))
    return f"  Still possible: {possible}; {left} {'rule is' if left == 1 else 'rules are'} open."


def _conclude(answer: Repairability) -> None:
    _say(f"\nVerdict: {_plain(answer.verdict)} ({answer.rulebook.id} {answer.rulebook.edition}, {answer.assessed_on})")
    if len(answer.possible_verdicts) > 1:
        _say(f"  It may still become {' or '.join(map(_plain, answer.possible_verdicts))}.")
    for found in answer.findings:
        if found.outcome == "broken":
            _say(f"  - {found.says} [{found.source}; {_plain(found.basis or '')}]")
    otherwise = (
        "" if str(answer.otherwise) == str(answer.next_step) else f"; if nobody can say: {_plain(answer.otherwise)}"
    )
    _say(f"Next step: {_plain(answer.next_step)}{otherwise}")
    for advice in () if answer.until_then is None else answer.until_then.says:
        _say(f"  Tell the driver: {advice.says} [{advice.source}; {_plain(advice.basis or '')}]")
    for missing in answer.to_establish[:LINES_SHOWN]:
        _say(f"  - to establish: {missing.asks}")
    for caution in answer.cautions[:LINES_SHOWN]:
        _say(f"  Mind: {caution.says}")


def _say_faults(error: InvalidRequestError) -> None:
    for fault in error.faults:
        _say(f"  {fault.detail}")


def _plain(word: str) -> str:
    return word.replace("_", " ")


def _say(text: str) -> None:
    sys.stdout.write(text + "\n")
    sys.stdout.flush()
