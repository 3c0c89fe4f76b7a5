"""The best units for all channels of a tyre at once: none meets another's patch, none is taken twice.

Best is, in this order: the most channels served; the fewest unsettled questions; the fewest stems and patches apart
where one piece is allowed; the smallest patches, by their area in all; the fewest without a price; the lowest price;
the shortest stems; what stands first in the list. The search is exact: it tries every assignment but those that it can
prove no better than one already found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from decimal import Decimal
from heapq import heappop, heappush, merge
from itertools import accumulate, chain
from operator import attrgetter
from typing import Final, TypeAlias

import msgspec

from mendgauge.core.interval import EITHER, NO, Truth
from mendgauge.operations.repair_units.fit import Cost, Item, Miss
from mendgauge.operations.repair_units.patch_room import Patch

FREE: Final[Cost] = (0, 0, 0, 0, 0, Decimal(0), 0)
UNSERVED: Final[Cost] = (1, 0, 0, 0, 0, Decimal(0), 0)


class Candidate(msgspec.Struct, frozen=True, eq=False, gc=False):
    """A unit, a stem or a patch that fits a channel or may, with the questions that are not settled."""

    item: Item
    open: tuple[Miss, ...]
    cost: Cost


def candidate(item: Item, open_questions: tuple[Miss, ...]) -> Candidate:
    """Return a unit with what it adds to an assignment."""
    cost = item.cost
    if open_questions:
        cost = (0, len(open_questions), 0, cost[3], cost[4], cost[5], cost[6])
    return Candidate(item, open_questions, cost)


class Option(msgspec.Struct, frozen=True, eq=False, gc=False):
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


class Options:
    """Every option for one of several channels, of what is useful to it, the best first.

    A hundred stems with a hundred patches are ten thousand options, of which the search sees a few: each is made when
    it is come to.
    """

    def __init__(
        self,
        one_piece: Sequence[Candidate],
        stems: Sequence[Candidate],
        patches: Sequence[Candidate],
        *,
        one_piece_allowed: bool,
    ) -> None:
        self.one_piece, self.stems, self.patches = one_piece, stems, patches
        self._apart = int(one_piece_allowed)
        # What is left to be made holds nothing of this object, which would be a cycle.
        whole, pairs = map(_whole, one_piece), _pairs(stems, patches, self._apart)
        apart = bool(stems and patches)
        # With one sort of options there is nothing to merge, which takes as long as the rest of a plain choice.
        self._rest = merge(whole, pairs, key=attrgetter("cost")) if one_piece and apart else chain(whole, pairs)
        self._made: list[Option] = []

    def __bool__(self) -> bool:
        return bool(self.one_piece or (self.stems and self.patches))

    def __iter__(self) -> Iterator[Option]:
        made = self._made
        place = 0
        while place < len(made) or self._make_one():
            yield made[place]
            place += 1

    def _make_one(self) -> bool:
        one = next(self._rest, None)
        if one is not None:
            self._made.append(one)
        return one is not None

    def of(self, pieces: tuple[Candidate, ...]) -> Option:
        """Return a unit of one piece, or a stem and a patch, as an option."""
        if len(pieces) == 1:
            return _whole(pieces[0])
        stem, patch = pieces
        assert patch.item.patch is not None
        return Option(pieces, patch.item.patch, _cost_of_pair(stem, patch, self._apart))


def _whole(one_piece: Candidate) -> Option:
    assert one_piece.item.patch is not None
    return Option((one_piece,), one_piece.item.patch, one_piece.cost)


def _cost_of_pair(stem: Candidate, patch: Candidate, apart: int) -> Cost:
    one, other = stem.cost, patch.cost
    # Written out, as a hundred stems with a hundred patches come to it.
    return (
        one[0] + other[0],
        one[1] + other[1],
        apart,
        one[3] + other[3],
        one[4] + other[4],
        one[5] + other[5],
        one[6] + other[6],
    )


def _pairs(stems: Sequence[Candidate], patches: Sequence[Candidate], apart: int) -> Iterator[Option]:
    """Yield every stem with every patch, the best first."""
    ahead: list[tuple[Cost, int, int]] = []

    def see(row: int, place: int) -> None:
        heappush(ahead, (_cost_of_pair(stems[row], patches[place], apart), row, place))

    if stems and patches:
        see(0, 0)
    while ahead:
        cost, row, place = heappop(ahead)
        stem, patch = stems[row], patches[place]
        assert patch.item.patch is not None
        yield Option((stem, patch), patch.item.patch, cost)
        if place + 1 < len(patches):
            see(row, place + 1)
        if place == 0 and row + 1 < len(stems):
            # Both come in the order of their cost: no pair of the next stem's is better than its first, nor that
            # one better than the first of this stem's.
            see(row + 1, 0)


def useful(candidates: Iterable[Candidate], channels: int) -> tuple[Candidate, ...]:
    """Return the candidates that can be part of the best assignment for so many channels.

    A candidate is of no use when units enough for every channel stand before it, each no dearer in any respect and with
    a patch that lies inside its own: one of them is always left to take its place.
    """
    kept: list[Candidate] = []
    units, patches = 0.0, list[tuple[float, Patch, float]]()
    for one in sorted(candidates, key=attrgetter("cost")):
        patch, units_here = one.item.patch, min(one.item.on_hand, channels)
        # Two hundred patches are twenty thousand pairs for each channel: no call for each.
        if patch is None:
            ahead = units
        elif patch.is_round:
            ahead = sum([count for reach, _, count in patches if reach <= patch.half_across])
        else:
            across, along = patch.half_across, patch.half_along
            ahead = sum(
                [count for _, inner, count in patches if inner.half_across <= across and inner.half_along <= along]
            )
        if ahead < channels:
            kept.append(one)
            units += units_here
            if patch is not None:
                patches.append((patch.farthest, patch, units_here))
    return tuple(kept)


def assign(options: Sequence[Options], clear: Meets, most_steps: int) -> Assignment:
    """Return the best option for each channel; `clear` says whether two channels' patches stay clear of each other.

    After so many steps, patches held against each other, the best that was found is returned. Where none was found by
    then, each channel that is left gets the first option still free, as far as as many steps again lead.
    """
    if len(options) == 1:
        return Assignment((next(iter(options[0]), None),), proven=True)
    search = _Search(options, clear, most_steps)
    search.extend(0, FREE)
    return Assignment(tuple(search.best), search.steps <= most_steps)


class _Search:
    """Channel by channel, the cheapest option first, giving up where the rest can no longer make up for it."""

    def __init__(self, options: Sequence[Options], clear: Meets, most_steps: int) -> None:
        self.options = options
        self.most_steps = most_steps
        self.clear = clear
        self.chosen: list[Option | None] = []
        self.used: dict[int, int] = {}
        self.best: list[Option | None] = [None] * len(options)
        self.best_cost: Cost | None = None
        self.steps = 0
        firsts = [next(iter(each), None) for each in options]
        least = [UNSERVED if first is None else first.cost for first in firsts]
        self.rest = [*accumulate(reversed(least), _sum, initial=FREE)][::-1]

    def extend(self, channel: int, cost: Cost) -> None:
        """Try every option for a channel and those after it, what stands before it being chosen."""
        if channel == len(self.options):
            if self.best_cost is None or cost < self.best_cost:
                self.best, self.best_cost = list(self.chosen), cost
            return
        best, hopeful_below = self.best_cost, self._hopeful_below(channel, cost)
        for option in chain(self.options[channel], (None,)):
            own = UNSERVED if option is None else option.cost
            if self.steps > self.most_steps:
                self._settle(channel, cost)
                return
            if self.best_cost is not best:
                best, hopeful_below = self.best_cost, self._hopeful_below(channel, cost)
            if hopeful_below is not None and own >= hopeful_below:
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

    def _settle(self, channel: int, cost: Cost) -> None:
        """Take what is chosen so far where no assignment was reached in time, and go on with the first that is free."""
        if self.best_cost is not None:
            return
        channels, until = len(self.options), self.steps + self.most_steps
        for place in range(channel, channels):
            # Each has its share of the steps that are left: one for which all is in the way leaves the others theirs.
            option, own = self._first_free(place, self.steps + (until - self.steps) // (channels - place))
            self._place(option, 1)
            cost = _sum(cost, own)
        self.best, self.best_cost = list(self.chosen), cost
        for option in self.best[channel:]:
            self._place(option, -1)

    def _first_free(self, channel: int, until: int) -> tuple[Option | None, Cost]:
        """Return the first option for a channel that is not in the way of what is chosen, of those tried till then."""
        for option in self.options[channel]:
            self.steps += 1
            meeting = self._meeting(channel, option)
            if meeting is not None:
                cost = option.cost
                return option, (cost[0], cost[1] + meeting, *cost[2:])
            if self.steps >= until:
                break
        return None, UNSERVED

    def _hopeful_below(self, channel: int, cost: Cost) -> Cost | None:
        """Return the cost at which a channel's option can no longer lead to a better assignment; none if any can."""
        if self.best_cost is None:
            return None
        # Costs are exact, so that what is left of the best may be compared in place of sums.
        return _less(_less(self.best_cost, cost), self.rest[channel + 1])

    def _meeting(self, channel: int, option: Option) -> int | None:
        """Return how many patches the option's may meet; none if it surely meets one, or takes what is used up."""
        used = self.used
        for piece in option.pieces:
            if used.get(piece.item.index, 0) + 1 > piece.item.on_hand:
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


def _sum(one: Cost, other: Cost) -> Cost:
    # Written out, as a hard share-out comes to it thousands of times.
    return (
        one[0] + other[0],
        one[1] + other[1],
        one[2] + other[2],
        one[3] + other[3],
        one[4] + other[4],
        one[5] + other[5],
        one[6] + other[6],
    )


def _less(one: Cost, other: Cost) -> Cost:
    return (
        one[0] - other[0],
        one[1] - other[1],
        one[2] - other[2],
        one[3] - other[3],
        one[4] - other[4],
        one[5] - other[5],
        one[6] - other[6],
    )
