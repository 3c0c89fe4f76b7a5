"""Which provisions hold for a tyre: those that surely do, and those that do if something not known turns out so."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from functools import lru_cache
from typing import Any, TypeAlias

from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.facts.position import PositionFacts
from mendgauge.rulebooks import Edition
from mendgauge.rules.engine import Condition, condition
from mendgauge.tyre.marking_facts import MarkingFacts
from mendgauge.tyre.tyre_class import Use

Holding: TypeAlias = Sequence[tuple[Any, Truth]]
"""Provisions of a heading, each with whether it surely holds."""


def holding(edition: Edition, heading: str, tyre: PositionFacts, on: date) -> Holding:
    """Return the provisions under `heading` that may apply on `on`; per topic, up to the first that certainly applies.

    The workshop's stand behind the book's, on topics that the book leaves open for this class of tyre.
    """
    tested = _tested(edition, heading, tyre.use, tyre.marking_facts, on)
    found: list[tuple[Any, Truth]] = []
    settled: set[str] = set()
    for provision, about, test in tested:
        if about in settled:
            continue
        holds = test if isinstance(test, int) else test(tyre)
        if holds == NO:
            continue
        found.append((provision, holds))
        if holds == YES:
            settled.add(about)
    return found


@lru_cache(maxsize=4096)
def _tested(
    edition: Edition, heading: str, use: Use, marking_facts: MarkingFacts, on: date
) -> tuple[tuple[Any, str, Condition], ...]:
    """Return what may hold for a use of a tyre, with its topic and what is still to be tested."""
    of_class = [
        [entry for entry in getattr(file, heading, ()) if use.tyre_class in entry.classes and entry.in_force(on)]
        for file in (edition.book, edition.workshop)
    ]
    own, shared = of_class
    covered = {entry.about for entry in own}
    every = [*own, *(entry for entry in shared if entry.about not in covered)]
    tested = ((entry, entry.about, condition(entry, use.kind, marking_facts)[0]) for entry in every)
    return tuple(one for one in tested if one[2] != NO)


def over_all(found: Sequence[Holding]) -> Holding:
    """Return what holds over every use the tyre may be in: surely what does in each of them, perhaps the rest."""
    if len(found) == 1:
        return found[0]
    provisions: dict[int, Any] = {}
    sure: dict[int, int] = {}
    for of_use in found:
        for provision, holds in of_use:
            provisions[id(provision)] = provision
            sure[id(provision)] = sure.get(id(provision), 0) + (holds == YES)
    return [(provision, YES if sure[key] == len(found) else EITHER) for key, provision in provisions.items()]
