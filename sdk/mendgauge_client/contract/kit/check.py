"""One check of the contract, and what may come of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple, TypeAlias

from mendgauge_client.contract.kit.deployment import Deployment

FAULTS_SHOWN = 12
"""Further faults of one check are counted, not listed: so many have one cause."""

Run: TypeAlias = Callable[[Deployment], str | None]
"""Tries one thing on a deployment; may return a remark. It raises `BrokenError` or `NotTriedError` otherwise."""


class Check(NamedTuple):
    """One thing that the contract promises.

    Attributes:
        group: What part of the contract it belongs to.
        name: What is promised, in a few words; with the group it is unique.
        run: Tries it.
    """

    group: str
    name: str
    run: Run


class BrokenError(Exception):
    """The deployment does not keep the contract; the message has a line for each fault."""

    def __init__(self, *faults: str) -> None:
        lines = list(faults[:FAULTS_SHOWN])
        if len(faults) > FAULTS_SHOWN:
            lines.append(f"… and {len(faults) - FAULTS_SHOWN} more")
        super().__init__("\n".join(lines))


class NotTriedError(Exception):
    """The promise does not apply to this deployment, or was not asked for; the message says why."""


def broken_if(faults: Iterable[str]) -> None:
    """Fail the check when there are any faults.

    Raises:
        BrokenError: There are.
    """
    if found := list(faults):
        raise BrokenError(*found)
