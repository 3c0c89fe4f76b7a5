"""What a tyre is still worth, what a repair of it gains against a new one, and what would have to change to turn that.

The formulas that fleets reckon with, on `Decimal` and free of units: depths in any one unit of length, money in any one
currency. Two are written together throughout: the tyre at hand, and others of its axle that a new tyre would not match
and that would be replaced with it.
"""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, Literal, TypeAlias

import msgspec

_NOTHING: Final = Decimal(0)
_EXACT: Final = Decimal("1e-12")
_BEYOND_REASON: Final = Decimal("1e9")
"""No input of anyone's is as large."""

Input: TypeAlias = Literal[
    "repair",
    "remaining",
    "price",
    "casing",
    "new",
    "pull",
    "failure_share",
    "failure_cost",
    "downtime",
]


class Stake(msgspec.Struct, frozen=True, kw_only=True):
    """What is at stake between a repair and a replacement.

    `price` of a new tyre, fitted, and the `casing` value of a worn one; tread depth when `new`, at the `pull` point and
    `remaining`; what the `repair` costs, the share of repairs that fail and the cost of such a failure, and what
    `downtime` costs more for a repair than for a replacement. `mates`: tread left on each tyre replaced with this one.
    """

    price: Decimal
    casing: Decimal
    new: Decimal
    pull: Decimal
    remaining: Decimal
    repair: Decimal
    failure_share: Decimal = _NOTHING
    failure_cost: Decimal = _NOTHING
    downtime: Decimal = _NOTHING
    mates: tuple[Decimal, ...] = ()


class Turn(msgspec.Struct, frozen=True):
    """An input, and the value of it at which repair and replacement come out even, all others unchanged."""

    input: Input
    now: Decimal
    turns_at: Decimal

    @property
    def share(self) -> Decimal | None:
        """How much it would have to change, as a share of what it is; none where it is nothing now."""
        return abs(self.turns_at - self.now) / abs(self.now) if self.now else None


def value_per_depth(stake: Stake) -> Decimal:
    """Return what a unit of tread depth costs: a new tyre less its casing, over the tread that is run off.

    >>> worn_down = Stake(price=Decimal(150), casing=Decimal(35), new=Decimal(14), pull=Decimal(0),
    ...                   remaining=Decimal(0), repair=Decimal(0))
    >>> round(value_per_depth(worn_down), 2)
    Decimal('8.21')
    """
    return (stake.price - stake.casing) / (stake.new - stake.pull)


def tread_value(stake: Stake) -> Decimal:
    """Return what the tread left is worth."""
    return value_per_depth(stake) * _above(stake.remaining, stake.pull)


def value_left(stake: Stake) -> Decimal:
    """Return what the tyre is worth as it is, repaired: its tread and its casing."""
    return tread_value(stake) + stake.casing


def lost_on_mates(stake: Stake) -> Decimal:
    """Return what the tread is worth that is thrown away on tyres replaced to match."""
    return value_per_depth(stake) * sum((_above(mate, stake.pull) for mate in stake.mates), _NOTHING)


def beside_repair(stake: Stake) -> Decimal:
    """Return what a repair costs beyond its price: the failures to be expected, and the vehicle's downtime."""
    return stake.failure_share * stake.failure_cost + stake.downtime


def worth_paying(stake: Stake) -> Decimal:
    """Return the price of a repair at which it comes out even with a replacement."""
    return value_left(stake) + lost_on_mates(stake) - beside_repair(stake)


def gain(stake: Stake) -> Decimal:
    """Return what a repair gains against a replacement; negative where the replacement is cheaper."""
    return worth_paying(stake) - stake.repair


def break_even_depth(stake: Stake) -> Decimal:
    """Return the tread left at which a repair comes out even; the pull point where it pays down to that."""
    owed = stake.repair + beside_repair(stake) - stake.casing - lost_on_mates(stake)
    return stake.pull + max(owed, _NOTHING) / value_per_depth(stake)


def share_worn(new: Decimal, remaining: Decimal, worn_out: Decimal) -> Decimal:
    """Return the share of the tread that is gone, of what is there to be run off; all of it where none ever was."""
    return (new - remaining) / (new - worn_out) if new > worn_out else Decimal(1)


def cost_per_distance_new(stake: Stake, distance_per_depth: Decimal) -> Decimal:
    """Return what a new tyre costs for each unit of distance, its casing credited."""
    return value_per_depth(stake) / distance_per_depth


def cost_per_distance_repaired(stake: Stake, distance_per_depth: Decimal) -> Decimal | None:
    """Return what the repaired tyre costs for each unit of distance left, its casing credited; none at its end."""
    left = _above(stake.remaining, stake.pull) * distance_per_depth
    if not left:
        return None
    return (stake.repair + beside_repair(stake) - stake.casing) / left


def turns(stake: Stake) -> list[Turn]:
    """Return the inputs of which one alone could turn the result, that with the least change by its share first."""
    found = [
        Turn(name, getattr(stake, name), at)
        for name, at in _candidates(stake)
        if _possible(stake, name, at) and abs(gain(msgspec.structs.replace(stake, **{name: at}))) < _EXACT
    ]
    return sorted(found, key=lambda turn: (turn.share is None, turn.share or _NOTHING))


def _candidates(stake: Stake) -> Iterator[tuple[Input, Decimal]]:
    """Yield the value of each input at which the gain is nothing, in closed form while depths exceed the pull point."""
    over, per_depth = gain(stake), value_per_depth(stake)
    deeper = [depth for depth in (stake.remaining, *stake.mates) if depth > stake.pull]
    tread = stake.price - stake.casing
    run_off = stake.new - stake.pull
    left = sum((depth - stake.pull for depth in deeper), _NOTHING)
    owed = stake.repair + beside_repair(stake) - stake.casing
    before_failure = over + stake.failure_share * stake.failure_cost
    yield "repair", stake.repair + over
    yield "downtime", stake.downtime + over
    if stake.failure_cost:
        yield "failure_share", before_failure / stake.failure_cost
    if stake.failure_share:
        yield "failure_cost", before_failure / stake.failure_share
    if per_depth:
        yield "remaining", max(stake.remaining, stake.pull) - over / per_depth
    if left:
        yield "price", stake.casing + owed * run_off / left
    if left != run_off:
        yield "casing", stake.casing - over / (1 - left / run_off)
    if owed > 0:
        yield "new", stake.pull + tread * left / owed
    slope = owed - len(deeper) * tread
    if slope:
        yield "pull", (owed * stake.new - tread * sum(deeper, _NOTHING)) / slope


def _possible(stake: Stake, name: Input, at: Decimal) -> bool:
    """Return whether an input may have a value at all."""
    if abs(at) > _BEYOND_REASON:
        return False
    if name == "downtime":
        return True
    if at < 0:
        return False
    match name:
        case "remaining":
            return stake.pull <= at <= stake.new
        case "new":
            return at >= max(stake.remaining, *stake.mates, stake.pull) and at > stake.pull
        case "pull":
            return at < stake.new
        case "failure_share":
            return at <= 1
        case "casing":
            return at <= stake.price
        case "price":
            return at >= stake.casing
    return True


def _above(depth: Decimal, pull: Decimal) -> Decimal:
    return max(depth - pull, _NOTHING)
