"""What could change a repair once its channel is prepared, each change worked out as a job of its own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal, TypeAlias

import msgspec

from mendgauge.case.house_rules import HouseRules
from mendgauge.core.interval import NO
from mendgauge.facts.injury import InjuryFacts
from mendgauge.judging.trial_answers import put
from mendgauge.operations.if_it_passes import if_it_passes
from mendgauge.operations.quotes.work import Work, work_of
from mendgauge.operations.workup import Workup
from mendgauge.wording.quantities import quantity

Change: TypeAlias = Literal[
    "next_size_up", "next_size_ends_it", "next_size_no_unit", "two_piece", "two_piece_ends_it", "two_piece_no_unit"
]


class Changed(msgspec.Struct, frozen=True):
    """A change, the job as it would then be, and the figures of its text."""

    code: Change
    work: Work
    figures: dict[str, str]


# What is held against the holes of a tyre: units of a stock, and repairs beside, of which one takes as long as four. A
# change is worked out like a case of its own, and one with more takes 20 ms.
_MOST_HELD: Final = 1_600


def too_much_to_change(workup: Workup) -> bool:
    """Return whether a case is so long that what could change it is not worked out."""
    tyre = workup.facts[0]
    holes = sum(injury.through != NO for injury in tyre.injuries)
    beside = len(tyre.injuries) + len(tyre.earlier)
    return holes * (2 * len(workup.case.stock or ()) + 4 * beside) > _MOST_HELD


def what_could_change(work: Work) -> Iterator[Changed]:
    """Yield the changes that preparation may bring; none of a case that is too long for it."""
    if too_much_to_change(work.workup):
        return
    yield from _next_size_up(work)
    yield from _two_piece(work)


def _next_size_up(work: Work) -> Iterator[Changed]:
    """Yield the case that every hole takes the next cutter: the one reckoned with did not clean it."""
    facts = if_it_passes(work.workup).facts[0]
    case, cutters = work.workup.case, []
    for injury in _to_be_cut(work):
        following = facts.assumed.next_cutter(injury.cutter.high)
        if following is None or case.injuries is None:
            return
        cutters.append((injury.cutter.high, following))
        case = put(case, f"/injuries/{injury.index}/diameter_mm", following)
        case = put(case, f"/injuries/{injury.index}/stage", "prepared")
        case = put(case, f"/injuries/{injury.index}/object_in_place", False)
    if cutters:
        then = work_of(work.workup.changed(case))
        language = work.workup.edition.book.language
        figures = {
            "cutter": " and ".join(dict.fromkeys(quantity(before, before, "mm", language) for before, _ in cutters)),
            "next": " and ".join(dict.fromkeys(quantity(after, after, "mm", language) for _, after in cutters)),
        }
        outcome: Change = "next_size_no_unit" if then.without_unit else "next_size_ends_it"
        yield Changed("next_size_up" if then.repairs else outcome, then, figures)


def _two_piece(work: Work) -> Iterator[Changed]:
    """Yield the case that stem and patch are set separately, as the channel leans too much for one piece."""
    if not any(chosen.kind == "one_piece" for chosen in work.chosen):
        return
    if not _to_be_cut(work) and all(len(unit.choices) == 1 for unit in work.units.injuries):
        return
    case = work.workup.case
    house = msgspec.structs.replace(case.house_rules or HouseRules(), two_piece_only=True)
    then = work_of(work.workup.changed(msgspec.structs.replace(case, house_rules=house)))
    outcome: Change = "two_piece_no_unit" if then.without_unit else "two_piece_ends_it"
    yield Changed("two_piece" if then.repairs else outcome, then, {})


def _to_be_cut(work: Work) -> list[InjuryFacts]:
    """Return the injuries that go through and may not be prepared yet."""
    return [
        injury
        for injury in if_it_passes(work.workup).facts[0].injuries
        if injury.through != NO and "found" in injury.stages
    ]
