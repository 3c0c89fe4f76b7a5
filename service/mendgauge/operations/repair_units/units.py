"""The preparation of each injury, and the choices of units for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from typing import Final, TypeAlias

import msgspec

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.caution import Caution, worded
from mendgauge.answers.citation import sources_of
from mendgauge.answers.figure import tidy
from mendgauge.answers.questions import first_of
from mendgauge.core.interval import EITHER, NO
from mendgauge.operations.if_it_passes import allowed_of, if_it_passes, least_tread_mm
from mendgauge.operations.outline import asks_nothing_more
from mendgauge.operations.repair_units.alone import Alone, alone_of
from mendgauge.operations.repair_units.answer import Choice, Chosen, InjuryUnit, Reason, RepairUnits
from mendgauge.operations.repair_units.asking import Open, open_in, questions
from mendgauge.operations.repair_units.choice import Kind, nothing_fits, passed_over
from mendgauge.operations.repair_units.chosen import chosen_unit
from mendgauge.operations.repair_units.needed import needed_unit, reasons_for_kind, room_for_patch, when_of_kind
from mendgauge.operations.repair_units.preparation import channel_of, preparation_of, size_limit
from mendgauge.operations.repair_units.requirements import (
    Hole,
    Requirements,
    centres_around_of,
    holes_of,
    requirements_of,
)
from mendgauge.operations.repair_units.rounds import Round, rounds_of
from mendgauge.operations.repair_units.shelf import Shelf, shelf_of
from mendgauge.operations.repairability.offer import deciding_findings, offer_for
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup, part
from mendgauge.wording import UnitWords
from mendgauge.wording.quantities import quantity


@part
def units_of(workup: Workup) -> RepairUnits:
    """Return the preparation and the units for every injury of a case."""
    verdict, shelf = verdict_of(workup), shelf_of(workup)
    words, passing = workup.bound.words, if_it_passes(workup)
    offer, needs = offer_for(verdict), requirements_of(passing)
    alone = alone_of(passing) if offer != "withheld" else None
    rounds = rounds_of(passing) if offer != "withheld" and alone is None else ()
    offered = alone is not None or bool(rounds)
    explained = _MOST_EXPLAINED // max([1, sum(len(one.picked.shelf.items) for one in rounds)])
    holes: Sequence[Hole | Requirements] = needs if passing is workup else holes_of(workup)
    injuries = tuple(
        [
            _injury_unit(
                requirements,
                hole,
                alone.choices
                if alone is not None
                else _choices(requirements, rounds, workup, explain=workup.bound.full and place < explained),
                workup,
                offered=offered,
            )
            for place, (requirements, hole) in enumerate(zip(needs, holes, strict=True))
        ]
    )
    cut_short = [*_cut_short(shelf, rounds, len(injuries), explained, workup.bound)] if rounds else []
    decided_by = deciding_findings(verdict)
    cautions = (
        *verdict.cautions,
        *(_if(workup) if offered and offer == "conditional" else ()),
        *cut_short,
        *(_cautions(injuries, workup.bound, generic=shelf.generic) if offered else ()),
    )
    return RepairUnits(
        reference=verdict.reference,
        codes=verdict.codes,
        rulebook=verdict.rulebook,
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=offer,
        decided_by=decided_by,
        drawn_from="generic" if shelf.generic else "stock",
        injuries=injuries,
        proven=all(one.picked.assignment.proven and _all_tried(shelf, one) for one in rounds),
        to_establish=verdict.to_establish
        if asks_nothing_more(workup)
        else first_of(
            questions(verdict.to_establish, _open_of_fit(alone, rounds, needs), needs if offered else (), words),
            workup.bound,
        ),
        cautions=cautions,
        sources=sources_of(decided_by, [unit.limit for unit in injuries if unit.limit is not None]),
    )


def _open_of_fit(alone: Alone | None, rounds: tuple[Round, ...], needs: tuple[Requirements, ...]) -> Iterable[Open]:
    """Return the questions of fit that the units chosen leave open."""
    return open_in(rounds) if alone is None else [(question, needs[0].injury) for question in alone.open_questions]


# Units of which one full answer says why they were passed over: a stock of 200 for two injuries, or one of either kind.
_MOST_EXPLAINED: Final = 400


def _all_tried(shelf: Shelf, one: Round) -> bool:
    """Return whether a choice was made from every unit there is, and not from the first alone."""
    return shelf.generic or len(one.picked.shelf.items) == len(shelf.items)


def _cut_short(
    shelf: Shelf, rounds: tuple[Round, ...], injuries: int, explained: int, bound: BoundEdition
) -> Iterator[Caution]:
    """Yield what was left undone of a tyre with very many injuries, or with so long a stock."""
    cautions = bound.words.units.cautions
    if not _all_tried(shelf, rounds[0]):
        tried, of = len(rounds[0].picked.shelf.items), len(shelf.items)
        yield worded("not_all_tried", cautions["not_all_tried"], bound, tried=f"{tried}", of=f"{of}")
    if not all(one.picked.assignment.proven for one in rounds):
        yield worded("not_all_ways_tried", cautions["not_all_ways_tried"], bound)
    if bound.full and explained < injuries:
        yield worded("not_all_explained", cautions["not_all_explained"], bound, explained=f"{explained}")


def _injury_unit(
    requirements: Requirements, hole: Hole | Requirements, choices: tuple[Choice, ...], workup: Workup, *, offered: bool
) -> InjuryUnit:
    """Return what one injury takes; `hole` is what is known of it without supposing that it passes."""
    through, index = requirements.injury.through, requirements.injury.index
    if through == NO:
        return InjuryUnit(injury=index, goes_through="no", channel=None, limit=None, preparation=None, choices=())
    around = centres_around_of(if_it_passes(workup))[index] if workup.bound.full else None
    return InjuryUnit(
        injury=index,
        goes_through=CERTAIN[through],
        channel=channel_of(requirements, hole.injury.diameter, around, workup.bound),
        limit=size_limit(hole, workup.bound),
        preparation=preparation_of(requirements, workup.bound) if offered else None,
        choices=choices,
    )


def _choices(
    requirements: Requirements, rounds: tuple[Round, ...], workup: Workup, *, explain: bool
) -> tuple[Choice, ...]:
    """Return the choices for one injury; `explain` is whether it is said why each other unit was passed over."""
    if requirements.injury.through == NO:
        return ()
    of_kind = rounds if requirements.one_piece == EITHER else rounds[:1]
    return tuple([_choice(requirements, one, workup, explain=explain) for one in of_kind])


def _choice(requirements: Requirements, one: Round, workup: Workup, *, explain: bool) -> Choice:
    picked, place = one.picked, one.of_injury[requirements.injury.index]
    bound, words = workup.bound, workup.bound.words.units
    settled = one.needs[place]
    kind: Kind = "two_piece" if settled.one_piece == NO else "one_piece"
    chosen = chosen_unit(picked, place, settled, bound)
    generic = None if chosen is not None or one.generic is None else chosen_unit(one.generic, place, settled, bound)
    return Choice(
        kind=kind,
        when=when_of_kind(requirements, kind, words) if requirements.one_piece == EITHER else "",
        because=tuple(reasons_for_kind(requirements, words)) if bound.full else (),
        needed=needed_unit(settled, bound),
        room=room_for_patch(settled, words) if bound.full else None,
        chosen=chosen,
        nothing_fits=_with_generic(nothing_fits(picked, place, words), generic, words),
        generic_instead=generic,
        passed_over=tuple(passed_over(picked, place, words)) if explain else (),
    )


def _with_generic(reason: Reason | None, generic: Chosen | None, words: UnitWords) -> Reason | None:
    if reason is None or generic is None:
        return reason
    code = " + ".join(piece.code for piece in generic.pieces)
    return msgspec.structs.replace(reason, says=words.nothing_fits["generic"].format(says=reason.says, code=code))


def _if(workup: Workup) -> Iterator[Caution]:
    """Yield that all of it holds if the tyre turns out repairable, and what of its injuries that supposes."""
    yield _plain("if_it_passes", workup.bound)
    supposed: dict[_Supposed, None] = {}
    for injury, allowed in zip(workup.facts[0].injuries, allowed_of(workup), strict=True):
        if injury.through == NO:
            continue
        for code, span, most, unit in (
            ("hole", injury.diameter, allowed.hole_mm, "mm"),
            ("lean", injury.lean, allowed.lean_deg, "deg"),
            ("place", injury.across, allowed.off_centre_mm, "mm"),
        ):
            if most is not None and max(span.high, -span.low) > most:
                supposed[code, tidy(most), unit] = None
    least = least_tread_mm(workup)
    if least is not None and workup.facts[0].tread_depth.low < least:
        supposed["tread", least, "mm"] = None
    if supposed:
        yield _supposes(tuple(supposed), workup.bound)


_Supposed: TypeAlias = tuple[str, float, str]
"""What is supposed, by name, with the limit that it keeps to and the unit of that."""


@lru_cache(maxsize=1024)
def _supposes(supposed: tuple[_Supposed, ...], bound: BoundEdition) -> Caution:
    """Return what is supposed of a tyre, in words."""
    words = bound.words.units
    said = [
        words.supposes[code].format(limit=quantity(most, most, unit, words.language, tread=code == "tread"))
        for code, most, unit in supposed
    ]
    return worded("supposes", words.cautions["supposes"], bound, what=", ".join(dict.fromkeys(said)))


@lru_cache(maxsize=256)
def _plain(code: str, bound: BoundEdition) -> Caution:
    """Return a caution that says the same of every tyre."""
    return worded(code, bound.words.units.cautions[code], bound)


def _cautions(injuries: tuple[InjuryUnit, ...], bound: BoundEdition, *, generic: bool) -> tuple[Caution, ...]:
    reached = {
        choice.chosen.under_shoulder for unit in injuries for choice in unit.choices if choice.chosen is not None
    }
    shoulder = "under_shoulder" if "yes" in reached else "may_be_under_shoulder" if "open" in reached else None
    codes = (*(("generic_sizes",) if generic else ()), *((shoulder,) if shoulder else ()), "unit_maker")
    return tuple([_plain(code, bound) for code in codes])
