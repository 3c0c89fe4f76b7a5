"""What was tried, as a table: how often, how many failed, and the worst."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple


class Row(NamedTuple):
    """What was tried: each figure, the most it may be, and its unit; no figure where it failed outright."""

    name: str
    figures: Sequence[float | None]
    most: float
    unit: str

    @property
    def failed(self) -> int:
        return sum(figure is None or figure > self.most for figure in self.figures)

    def __str__(self) -> str:
        worst = "never" if None in self.figures else f"{max(filter(None, self.figures), default=0.0):.2f} {self.unit}"
        return f"{self.name:56} {len(self.figures):>7} {self.failed:>7} {worst:>10} {self.most:>8g} {self.unit}"


def show(rows: Iterable[Row]) -> int:
    """Print each row as it is done; return 1 if anything failed."""
    print(f"{'':56} {'tried':>7} {'failed':>7} {'worst':>10}   target")
    failed = 0
    for row in rows:
        print(row, flush=True)
        failed += row.failed
    return failed > 0
