"""The best units for all channels of a tyre at once: none meets another's patch, none is taken twice.

Best is, in this order: the most channels served; the fewest unsettled questions; the fewest stems and patches apart
where one piece is allowed; the smallest patches, by their area in all; the fewest without a price; the lowest price;
the shortest stems; what stands first in the list. The search is exact: it tries every assignment but those that it can
prove no better than one already found.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from decimal import Decimal
from itertools import accumulate
from operator import add
from typing import Final, TypeAlias

import msgspec

from mendgauge.core.interval import EITHER, NO, Truth
from mendgauge.operations.repair_units.fit import Cost, Item, Miss
from mendgauge.operations.repair_units.patch_room import Patch

FREE: Final[Cost] = (0, 0, 0, 0, 0, Decimal(0), 0)
UNSERVED: Final[Cost] = (1, 0, 0, 0, 0, Decimal(0), 0)

# Many times what a bench's case takes; a list made to be hard must not hold up the service.
# Counted in patches held against each other: about 5 ms.
_MOST_STEPS: Final = 5_000


class Candidate(msgspec.Struct, frozen=True, eq=False):
    """A unit, a stem or a patch that fits a channel or may, with the questions that are not settled."""

    item: Item
    open: tuple[Miss, ...]
    cost: Cost


def candidate(item: Item, open_questions: tuple[Miss, ...]) -> Candidate:
    """Return a unit with what it adds to an assignment."""
    cost = item.cost
    return Candidate(item, open_questions, (0, len(open_questions), *cost[2:]) if open_questions else cost)


class Option(msgspec.Struct, frozen=True, eq=False):
    """What would repair one channel: a unit of one piece, or a stem and a patch."""

    pieces: tuple[Candidate, ...]
    patch: Patch
    cost: Cost


class Assignment(msgspec.Struct, frozen=True, eq=False):
    """An option for each channel, or none; `proven` when nothing better exists."""

    options: tuple[Option | None, ...]
    proven: bool


Meets: TypeAlias = Callable[[int, Patch, int, Patch], Truth]
"""Whether the patches of two channels stay clear of each other."""


def options(
    one_piece: Sequence[Candidate],
    stems: Sequence[Candidate],
    patches: Sequence[Candidate],
    channels: int,
    *,
    one_piece_allowed: bool,
) -> tuple[Option, ...]:
    """Return every option for one of several channels that can be part of the best assignment, the best first."""
    found = [_option((unit,), 0) for unit in useful(one_piece, channels)] if one_piece_allowed else []
    apart = int(one_piece_allowed)
    pairs = [(stem, patch) for stem in useful(stems, channels) for patch in useful(patches, channels)]
    found += [_option(pair, apart) for pair in pairs]
    found.sort(key=lambda option: option.cost)
    return tuple(found)


def _option(pieces: tuple[Candidate, ...], apart: int) -> Option:
    cost = _sum(*(piece.cost for piece in pieces))
    patch = next(piece.item.patch for piece in pieces if piece.item.patch is not None)
    return Option(pieces, patch, (*cost[:2], apart, *cost[3:]))


def useful(candidates: Sequence[Candidate], channels: int) -> list[Candidate]:
    """Return the candidates that can be part of the best assignment for so many channels.

    A candidate is of no use when units enough for every channel stand before it, each no dearer in any respect and with
    a patch that lies inside its own: one of them is always left to take its place.
    """
    kept: list[Candidate] = []
    for one in sorted(candidates, key=lambda candidate: candidate.cost):
        ahead = sum(min(other.item.on_hand, channels) for other in kept if _within(other.item.patch, one.item.patch))
        if ahead < channels:
            kept.append(one)
    return kept


def _within(inner: Patch | None, outer: Patch | None) -> bool:
    return inner is None or outer is None or inner.within(outer)


def assign(options: Sequence[tuple[Option, ...]], clear: Meets) -> Assignment:
    """Return the best option for each channel; `clear` says whether two channels' patches stay clear of each other."""
    search = _Search(options, clear)
    search.extend(0, FREE)
    return Assignment(tuple(search.best), search.steps <= _MOST_STEPS)


class _Search:
    """Channel by channel, the cheapest option first, giving up where the rest can no longer make up for it."""

    def __init__(self, options: Sequence[tuple[Option, ...]], clear: Meets) -> None:
        self.options = options
        self.clear = clear
        self.chosen: list[Option | None] = []
        self.used: dict[int, int] = {}
        self.best: list[Option | None] = [None] * len(options)
        self.best_cost: Cost | None = None
        self.steps = 0
        least = [each[0].cost if each else UNSERVED for each in options]
        self.rest = [*accumulate(reversed(least), _sum, initial=FREE)][::-1]

    def extend(self, channel: int, cost: Cost) -> None:
        """Try every option for a channel and those after it, what stands before it being chosen."""
        if channel == len(self.options):
            if self.best_cost is None or cost < self.best_cost:
                self.best, self.best_cost = list(self.chosen), cost
            return
        for option in (*self.options[channel], None):
            own = UNSERVED if option is None else option.cost
            if not self._hopeful(cost, own, channel) or self.steps > _MOST_STEPS:
                # Options stand in the order of their cost: none that follows is any more hopeful.
                return
            self.steps += 1
            meeting = 0 if option is None else self._meeting(channel, option)
            if meeting is None:
                continue
            total = _sum(cost, own)
            self._place(option, 1)
            self.extend(channel + 1, (total[0], total[1] + meeting, *total[2:]))
            self._place(option, -1)

    def _hopeful(self, cost: Cost, own: Cost, channel: int) -> bool:
        return self.best_cost is None or _sum(cost, own, self.rest[channel + 1]) < self.best_cost

    def _meeting(self, channel: int, option: Option) -> int | None:
        """Return how many patches the option's may meet; none if it surely meets one, or takes what is used up."""
        if any(self.used.get(piece.item.index, 0) + 1 > piece.item.on_hand for piece in option.pieces):
            return None
        meeting = 0
        self.steps += len(self.chosen)
        for other, chosen in enumerate(self.chosen):
            if chosen is None:
                continue
            answer = self.clear(channel, option.patch, other, chosen.patch)
            if answer == NO:
                return None
            meeting += answer == EITHER
        return meeting

    def _place(self, option: Option | None, times: int) -> None:
        if times > 0:
            self.chosen.append(option)
        else:
            self.chosen.pop()
        for piece in () if option is None else option.pieces:
            self.used[piece.item.index] = self.used.get(piece.item.index, 0) + times


def _sum(*costs: Cost) -> Cost:
    total = costs[0]
    for cost in costs[1:]:
        total = tuple(map(add, total, cost))
    return total
