"""The rows of a batch of checks: what many brief answers say alike stands once, in tables that the rows refer to.

Rows are sent as they are made, so the tables come behind them. They have room for so much and no more: whatever finds
none stays in its row.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import Annotated, Final, TypeVar

import msgspec
from msgspec import Meta
from msgspec.structs import replace

from mendgauge.answers.base import AnswerPart, RulebookUsed
from mendgauge.answers.caution import Caution
from mendgauge.answers.citation import Source, Sources
from mendgauge.answers.finding import Advice, Finding
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repairability.answer import InTables, Repairability, UntilThen

ROOM: Final = 200
"""Entries of a table: a thousand drawn cases under nine rulebooks come to 60 of a kind."""

_ROOM: Final = Meta(max_length=ROOM)

Said = TypeVar("Said", bound=Hashable)


class BatchTables(AnswerPart, frozen=True, kw_only=True):
    """What the brief rows of a batch say alike. A row's `in_tables` says which entries it takes, counted from 0."""

    rulebooks: Annotated[tuple[RulebookUsed, ...], _ROOM, Meta(description="Every edition used, with its digest.")] = ()
    sources: Sources = msgspec.field(default_factory=dict)
    cautions: Annotated[tuple[Caution, ...], _ROOM, Meta(description="Cautions.")] = ()
    to_establish: Annotated[tuple[ToEstablish, ...], _ROOM, Meta(description="Questions.")] = ()
    until_then: Annotated[tuple[UntilThen, ...], _ROOM, Meta(description="What to tell a driver.")] = ()
    findings: Annotated[tuple[Finding, ...], _ROOM, Meta(description="Findings of which nothing was measured.")] = ()
    advice: Annotated[tuple[Advice, ...], _ROOM, Meta(description="What to do about a finding.")] = ()


class Shared:
    """What the rows so far say alike."""

    def __init__(self) -> None:
        self._rulebooks: dict[tuple[str, str], RulebookUsed] = {}
        self._sources: dict[str, Source] = {}
        self._cautions: dict[Caution, int] = {}
        self._questions: dict[ToEstablish, int] = {}
        self._until_then: dict[UntilThen, int] = {}
        self._findings: dict[Finding, int] = {}
        self._advice: dict[Advice, int] = {}

    def row(self, answer: Repairability) -> Repairability:
        """Return a brief answer without what stands in the tables, and with where it stands there."""
        used = answer.rulebook
        self._rulebooks.setdefault((used.id, used.edition), used)
        self._sources.update(answer.sources)
        cautions = _places(self._cautions, answer.cautions)
        questions = _places(self._questions, answer.to_establish)
        until_then = None if answer.until_then is None else _place(self._until_then, answer.until_then)
        findings = [_place(self._findings, one) if one.observed is None else None for one in answer.findings]
        measured = [one for one, place in zip(answer.findings, findings, strict=True) if place is None]
        advice = [None if one.advice is None else _place(self._advice, one.advice) for one in measured]
        return replace(
            answer,
            reference=None,
            rulebook=RulebookUsed(id=used.id, edition=used.edition),
            findings=tuple(map(_without_advice, measured, advice)),
            until_then=answer.until_then if until_then is None else None,
            to_establish=answer.to_establish[len(questions) :],
            cautions=answer.cautions[len(cautions) :],
            sources={},
            in_tables=InTables(
                cautions=cautions,
                to_establish=questions,
                until_then=until_then,
                findings=_if_any(findings),
                advice=_if_any(advice),
            ),
        )

    def tables(self) -> BatchTables | None:
        """Return the tables; none where no row refers to them."""
        if not self._rulebooks:
            return None
        return BatchTables(
            rulebooks=tuple(self._rulebooks.values()),
            sources=self._sources,
            cautions=tuple(self._cautions),
            to_establish=tuple(self._questions),
            until_then=tuple(self._until_then),
            findings=tuple(self._findings),
            advice=tuple(self._advice),
        )


def _place(table: dict[Said, int], one: Said) -> int | None:
    """Return the place of something in a table, put there if need be; none where there is no room."""
    if len(table) == ROOM:
        return table.get(one)
    return table.setdefault(one, len(table))


def _places(table: dict[Said, int], several: Iterable[Said]) -> tuple[int, ...]:
    """Return the places of as many as a table has, up to the first that found no room."""
    places = []
    for one in several:
        place = _place(table, one)
        if place is None:
            break
        places.append(place)
    return tuple(places)


def _if_any(places: list[int | None]) -> tuple[int | None, ...]:
    """Return some places; none at all where nothing has one."""
    return tuple(places) if any(place is not None for place in places) else ()


def _without_advice(found: Finding, place: int | None) -> Finding:
    return found if place is None else replace(found, advice=None)
