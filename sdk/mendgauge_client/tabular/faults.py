"""What may be wrong with a table: its header, a row, a cell."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from mendgauge_client.errors import MendgaugeError


class UnusableValueError(ValueError):
    """A value that a field does not take; the text says what it would take."""


class HeaderError(ValueError):
    """A header that cannot be used; the text has a line for each fault."""


class CellFault(msgspec.Struct, frozen=True):
    """What is wrong with a row, or looks wrong.

    Attributes:
        column: The column at fault; empty where it is the row as a whole.
        detail: What is wrong, and what would be right.
    """

    column: str
    detail: str

    def __str__(self) -> str:
        return f"column {self.column}: {self.detail}" if self.column else self.detail


class RowError(MendgaugeError, ValueError):
    """A row that makes no case.

    Attributes:
        faults: What is wrong with it, by column.
    """

    def __init__(self, faults: Sequence[CellFault]) -> None:
        super().__init__("; ".join(map(str, faults)))
        self.faults = list(faults)
