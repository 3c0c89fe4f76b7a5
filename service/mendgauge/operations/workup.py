"""One case worked up: taken in once, and each part of its answers computed when it is first asked for.

What an operation answers is a part, and so is what several operations need, as the requirements of each channel are. A
part is a function of the workup under `@part`; asked again it returns what it computed.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cached_property, wraps
from types import TracebackType
from typing import Any, Self, TypeVar

import msgspec

from mendgauge.answers.bound_edition import bound_edition
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.facts.position import PositionFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.intake.intake import Intake, take_in
from mendgauge.judging.assessment import Assessment, assess_tyre
from mendgauge.rules.house import loosening

T = TypeVar("T")


class Workup:
    """A case fit to be judged, with all that was found of it so far.

    A context manager: its end frees the facts of the case at once, so take nothing that refers to them out of it.
    """

    def __init__(self, intake: Intake, made: list[TyreFacts] | None = None) -> None:
        self.case = intake.case
        self.edition = intake.edition
        self.on = intake.on
        self.uses = intake.uses
        self.bound = bound_edition(intake.edition)
        self._intake = intake
        self._parts: dict[Callable[[Workup], Any], Any] = {}
        # Shared with the workups of its changes, whose facts are freed with its own.
        self._made: list[TyreFacts] = [] if made is None else made

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        for tyre in self._made:
            tyre.release()

    @cached_property
    def facts(self) -> list[TyreFacts]:
        """The case as the rules see it, for each use the tyre may be in."""
        found = [TyreFacts(self.case, use, self.edition, self.on) for use in self.uses]
        self._made += found
        return found

    @cached_property
    def assessed(self) -> list[Assessment]:
        """The case judged by every rule on a repair, for each use the tyre may be in.

        Raises:
            CaseError: A house rule is looser than the book, whatever the vehicle turns out to be.
        """
        assessed = [assess_tyre(tyre, self.edition) for tyre in self.facts]
        house = self.case.house_rules
        if house is not None:
            looser = [
                list(loosening(house, one.facts, one.rules.tyre + one.rules.injury, self.edition.reference))
                for one in assessed
            ]
            always = tuple(flaw for flaw in looser[0] if all(flaw in others for others in looser[1:]))
            if always:
                raise CaseError(always)
        return assessed

    @cached_property
    def positions(self) -> list[PositionFacts]:
        """The tyre in the position it goes to, for each use it may be in."""
        found = [PositionFacts(self.case, use, self.edition, self.on) for use in self.uses]
        self._made += found
        return found

    def supposing(self, case: Case) -> Workup:
        """Return the workup of this case with a supposition, which need not be checked again."""
        return Workup(msgspec.structs.replace(self._intake, case=case), self._made)

    def changed(self, case: Case) -> Workup:
        """Return the workup of this case after a change, taken in anew as of the same day.

        Raises:
            CaseError: The changed case contradicts itself.
        """
        return Workup(take_in(case, self.on), self._made)

    def part(self, compute: Callable[[Workup], T]) -> T:
        """Return what `compute` makes of this case, computed when first asked."""
        if compute not in self._parts:
            self._parts[compute] = compute(self)
        found: T = self._parts[compute]
        return found


def part(compute: Callable[[Workup], T]) -> Callable[[Workup], T]:
    """Make a function of a workup one of its parts: computed when first asked, then kept."""

    @wraps(compute)
    def ask(workup: Workup) -> T:
        return workup.part(compute)

    return ask


def work_up(case: Case, today: date | None = None) -> Workup:
    """Take a case in. `today` stands in for a missing `assessed_on`.

    Raises:
        CaseError: The case contradicts itself, or names a rulebook that is not there.
    """
    return Workup(take_in(case, today))
