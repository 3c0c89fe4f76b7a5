"""Money: decimal text outside, `Decimal` inside, rounded to what its currency can be paid in (ISO 4217)."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import ROUND_FLOOR, ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from functools import lru_cache
from typing import Annotated, Final, Literal, TypeAlias

import iso4217
import msgspec
from msgspec import Meta

PRICE: Final = r"^[0-9]{1,9}(\.[0-9]{1,4})?\Z"
PERCENT: Final = r"^[0-9]{1,2}(\.[0-9]{1,4})?\Z"

Price: TypeAlias = Annotated[str, Meta(pattern=PRICE, max_length=14, examples=["29.00"])]
"""An amount of money as a caller sends it: no sign, no thousands separator, up to four decimal places."""

Percent: TypeAlias = Annotated[str, Meta(pattern=PERCENT, max_length=7, examples=["20"])]
"""A share as a caller sends it, percent, under 100."""

Half: TypeAlias = Literal["up", "even"]
"""What becomes of an exact half: away from zero, or to the even neighbour."""

_MINOR_UNITS: Final = tuple(Decimal(1).scaleb(-digits) for digits in range(5))
_ROUNDING: Final = {"up": ROUND_HALF_UP, "even": ROUND_HALF_EVEN}


class Currency(msgspec.Struct, frozen=True):
    """A currency that can be paid in, and how many decimal places its smallest unit has."""

    code: str
    digits: int

    @property
    def minor_unit(self) -> Decimal:
        """The smallest amount there is."""
        return _MINOR_UNITS[self.digits]

    def rounded(self, amount: Decimal, half: Half = "up") -> Decimal:
        """Return an amount to the nearest minor unit; never minus zero."""
        return amount.quantize(self.minor_unit, _ROUNDING[half]) + 0

    def holds(self, amount: Decimal) -> bool:
        """Return whether an amount can be paid to the last place."""
        return amount == amount.quantize(self.minor_unit, ROUND_HALF_UP)

    def format(self, amount: Decimal) -> str:
        """Return an amount as text: every decimal place of the currency, and finer ones only where it has them.

        >>> Currency("GBP", 2).format(Decimal("2.5"))
        '2.50'
        >>> Currency("JPY", 0).format(Decimal("12.50"))
        '12.5'
        """
        payable = amount.quantize(self.minor_unit, ROUND_HALF_UP)
        if payable == amount:
            return format(payable + 0, "f")
        return format(amount.normalize(), "f")

    def settle(self, total: Decimal, exact: Sequence[Decimal]) -> list[Decimal]:
        """Round parts so that they sum to a total which the currency holds and from which their sum is rounded.

        Each is rounded down; what is left over goes, a minor unit each, to those that lost most, the first on a tie.
        """
        parts = [part.quantize(self.minor_unit, ROUND_FLOOR) for part in exact]
        left = int((total - sum(parts, Decimal(0))) / self.minor_unit)
        by_loss = sorted(range(len(parts)), key=lambda index: parts[index] - exact[index])
        for index in by_loss[:left]:
            parts[index] += self.minor_unit
        return [part + 0 for part in parts]

    def spread(self, total: Decimal, weights: Sequence[Decimal]) -> list[Decimal]:
        """Divide a total, which the currency holds, in proportion to weights that are zero or more.

        >>> [str(part) for part in Currency("EUR", 2).spread(Decimal("1.00"), [Decimal(1)] * 3)]
        ['0.34', '0.33', '0.33']
        """
        whole = sum(weights, Decimal(0))
        return self.settle(total, [total * weight / whole if whole else Decimal(0) for weight in weights])


@lru_cache(maxsize=256)
def find_currency(code: str) -> Currency | None:
    """Return a currency by its ISO 4217 code; none where the code is unknown, or of something that has no minor unit.

    >>> find_currency("JPY").digits, find_currency("XAU")
    (0, None)
    """
    try:
        digits = iso4217.Currency(code).exponent
    except ValueError:
        return None
    return None if digits is None else Currency(code, digits)


def to_nearest(amount: Decimal, step: Decimal) -> Decimal:
    """Return an amount to the nearest multiple of a step, a half upward: what is paid where small coins are gone.

    >>> to_nearest(Decimal("27.83"), Decimal("0.05"))
    Decimal('27.85')
    """
    return (amount / step).quantize(Decimal(1), ROUND_HALF_UP) * step
