"""One case worked up: taken in once, and each part of its answers computed when it is first asked for.

What an operation answers is a part, and so is what several operations need, as the requirements of each channel are. A
part is a function of the workup under `@part`; asked again it returns what it computed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import wraps
from types import TracebackType
from typing import Any, Final, Self, TypeAlias, TypeVar

import msgspec

from mendgauge.answers.bound_edition import bound_edition
from mendgauge.case.case import Case
from mendgauge.core.interval import Interval
from mendgauge.facts.neighbours import share_liners
from mendgauge.facts.tyre import TyreFacts
from mendgauge.intake.intake import Intake, take_in

T = TypeVar("T")
Parts: TypeAlias = dict[Callable[["Workup"], Any], Any]


_ANYWHERE: Final[Mapping[int, Interval]] = {}


class Workup:
    """A case fit to be judged, with all that was found of it so far.

    `facts` are the case as the rules see it, for each use the tyre may be in; `parts` what was computed, by the
    function that computes it; `opens_within` where across the liner a channel is supposed to open, by its injury, mm.

    A context manager: its end breaks the reference cycles of facts and parts, so that they are freed at once and leave
    nothing to the garbage collector. Take nothing that refers to them out of it.
    """

    # Slots, as attributes of the plain kind and `cached_property` cost a decision a tenth of its time.
    __slots__ = (
        "_computed",
        "_intake",
        "_made",
        "bound",
        "case",
        "edition",
        "facts",
        "on",
        "opens_within",
        "parts",
        "uses",
    )

    def __init__(
        self,
        intake: Intake,
        made: list[TyreFacts] | None = None,
        opens_within: Mapping[int, Interval] = _ANYWHERE,
        computed: list[Parts] | None = None,
        facts: list[TyreFacts] | None = None,
        *,
        outline: bool = False,
    ) -> None:
        self._intake = intake
        # Shared with the workups of its changes, whose facts and parts are freed with its own.
        self._made: list[TyreFacts] = [] if made is None else made
        self._computed: list[Parts] = [] if computed is None else computed
        self.case = intake.case
        self.edition = intake.edition
        self.on = intake.on
        self.uses = intake.uses
        self.bound = bound_edition(intake.edition, intake.case.detail, outline=outline)
        self.opens_within = opens_within
        self.parts: Parts = {}
        self._computed.append(self.parts)
        self.facts = [intake.facts(use) for use in intake.uses] if facts is None else facts
        self._made += self.facts
        if len(self.facts) > 1:
            share_liners(self.facts)

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        for tyre in self._made:
            tyre.release()
        for parts in self._computed:
            parts.clear()

    def supposing(self, case: Case, opens_within: Mapping[int, Interval]) -> Workup:
        """Return the workup of this case with a supposition on injuries or tread, which need not be checked again.

        `opens_within` is where across the liner each channel is supposed to open, mm.
        """
        intake = msgspec.structs.replace(self._intake, case=case)
        facts = [tyre.supposing(case) for tyre in self.facts]
        return Workup(intake, self._made, opens_within, self._computed, facts, outline=self.bound.outline)

    def hold(self, tyres: list[TyreFacts]) -> None:
        """Free some facts that were made of this case's with its own."""
        self._made += tyres

    def changed(self, case: Case) -> Workup:
        """Return the workup of this case after a change, taken in anew as of the same day, to be reckoned with alone.

        Raises:
            CaseError: The changed case contradicts itself.
        """
        intake = take_in(msgspec.structs.replace(case, detail="brief"), self.on)
        return Workup(intake, self._made, computed=self._computed, outline=True)


def part(compute: Callable[[Workup], T]) -> Callable[[Workup], T]:
    """Make a function of a workup one of its parts: computed when first asked, then kept."""

    @wraps(compute)
    def ask(workup: Workup) -> T:
        parts = workup.parts
        if compute not in parts:
            parts[compute] = compute(workup)
        found: T = parts[compute]
        return found

    return ask


def work_up(case: Case, today: date | None = None, *, as_plan: bool = False) -> Workup:
    """Take a case in. `today` stands in for a missing `assessed_on`; `as_plan` a brief case is worked up in outline.

    Raises:
        CaseError: The case contradicts itself, or names a rulebook that is not there.
    """
    return Workup(take_in(case, today), outline=as_plan and case.detail == "brief")
