"""What was measured, as tables."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table

_WIDTH = 140
"""Columns where the report goes to a file."""


class Report:
    """Rows of a comparison: what, how much, against what, and what is asked for."""

    def __init__(self) -> None:
        self._table = Table("", "measured", "against", "ratio", "asked for", title="mendgauge, one run on this machine")
        self._beside: list[Table] = []

    def add(self, what: str, measured: str, against: str = "", ratio: float | None = None, asked: str = "") -> None:
        """Put down one comparison."""
        self._table.add_row(what, measured, against, "" if ratio is None else f"{ratio:.2f}", asked)

    def beside(self, *tables: Table) -> None:
        """Put down whole tables, which stand behind the comparisons."""
        self._beside += tables

    def show(self) -> None:
        """Print what was put down."""
        console = Console()
        if not console.is_terminal:
            console.width = _WIDTH
        console.print(self._table, *self._beside)
