"""What was measured, as a table."""

from __future__ import annotations

from rich.console import Console
from rich.table import Table


class Report:
    """Rows of a comparison: what, how much, against what, and what is asked for."""

    def __init__(self) -> None:
        self._table = Table("", "measured", "against", "ratio", "asked for", title="mendgauge, one run on this machine")

    def add(self, what: str, measured: str, against: str = "", ratio: float | None = None, asked: str = "") -> None:
        """Put down one comparison."""
        self._table.add_row(what, measured, against, "" if ratio is None else f"{ratio:.2f}", asked)

    def show(self) -> None:
        """Print what was put down."""
        Console().print(self._table)
