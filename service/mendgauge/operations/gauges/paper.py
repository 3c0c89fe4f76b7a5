"""Sheets of paper, and how much of them a printer reaches. Source: ISO 216 (A4) and ANSI/ASME Y14.1 (Letter, A)."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import msgspec

Paper: TypeAlias = Literal["a4", "letter"]

MARGIN_MM: Final = 10.0
"""What printers leave white at the edge, with room to spare."""


class Sheet(msgspec.Struct, frozen=True):
    """A sheet upright, mm."""

    width: float
    height: float

    @property
    def room(self) -> float:
        """Width that is printed on, mm."""
        return self.width - 2.0 * MARGIN_MM


SHEETS: Final[dict[Paper, Sheet]] = {"a4": Sheet(210.0, 297.0), "letter": Sheet(215.9, 279.4)}
