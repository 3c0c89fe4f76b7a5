"""Which provisions hold for a tyre: those that surely do, and those that do if something not known turns out so."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TypeVar

from mendgauge.fitted import FittedTyre
from mendgauge.quantity import EITHER, NO, YES, Truth
from mendgauge.rulebooks.provision import Provision
from mendgauge.rules.rule import condition

P = TypeVar("P", bound=Provision)


def holding(provisions: Iterable[P], tyre: FittedTyre, on: date) -> list[tuple[P, Truth]]:
    """The provisions that may hold for a tyre on a day, on each matter up to the first that surely does."""
    found: list[tuple[P, Truth]] = []
    settled: set[str] = set()
    for provision in provisions:
        if provision.about in settled or tyre.tyre_class not in provision.classes or not provision.in_force(on):
            continue
        test, _ = condition(provision, tyre.kind, tyre.frame)
        holds = test if isinstance(test, int) else test(tyre)
        if holds == NO:
            continue
        found.append((provision, holds))
        if holds == YES:
            settled.add(provision.about)
    return found


def own_or_shared(own: tuple[P, ...], shared: tuple[P, ...], tyre: FittedTyre) -> tuple[P, ...]:
    """A book's provisions, and those of the workshop on what the book has no word on for this class of tyre."""
    told = {entry.about for entry in own if tyre.tyre_class in entry.classes}
    return (*own, *(entry for entry in shared if entry.about not in told))


def over_all(found: list[list[tuple[P, Truth]]]) -> list[tuple[P, Truth]]:
    """Over everything the tyre may be in use as: what surely holds in every use surely holds, the rest may."""
    provisions: dict[int, P] = {}
    sure: dict[int, int] = {}
    for of_use in found:
        for provision, holds in of_use:
            provisions[id(provision)] = provision
            sure[id(provision)] = sure.get(id(provision), 0) + (holds == YES)
    return [(provision, YES if sure[key] == len(found) else EITHER) for key, provision in provisions.items()]
