"""What a check came to: how many tyres of each verdict, by depot."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

VERDICTS = ("repairable", "specialist", "not_covered", "inspect", "not_repairable")
PROBLEM = "problem"
NO_DEPOT = "(no depot)"


class Tally:
    """Counts verdicts by depot, in the order in which the depots came."""

    def __init__(self) -> None:
        self._depots: dict[str, Counter[str]] = {}
        self.failed = 0

    def add(self, depot: str, verdict: str) -> None:
        """Count a tyre; an empty verdict is a problem."""
        self._depots.setdefault(depot, Counter())[verdict or PROBLEM] += 1
        self.failed += not verdict

    @property
    def total(self) -> int:
        """All tyres counted."""
        return sum(counter.total() for counter in self._depots.values())

    def table(self) -> str:
        """Return the counts as a table in plain text; a verdict that a newer service adds has a column as well."""
        met = dict.fromkeys(verdict for counter in self._depots.values() for verdict in counter)
        verdicts = [*VERDICTS, *(verdict for verdict in met if verdict not in VERDICTS)]
        rows = [["depot", *(verdict.replace("_", " ") for verdict in verdicts), "all"]]
        for depot, counter in self._depots.items():
            rows.append(_row(depot or NO_DEPOT, counter, verdicts))
        if len(self._depots) > 1:
            rows.append(_row("all", sum(self._depots.values(), Counter()), verdicts))
        return _aligned(rows)


def _row(name: str, counter: Counter[str], verdicts: Sequence[str]) -> list[str]:
    return [name, *(f"{counter[verdict]:,}" for verdict in verdicts), f"{counter.total():,}"]


def _aligned(rows: Sequence[Sequence[str]]) -> str:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return "\n".join(
        "  ".join(
            [row[0].ljust(widths[0]), *(cell.rjust(width) for cell, width in zip(row[1:], widths[1:], strict=True))]
        )
        for row in rows
    )
