"""How a channel is cut clean and its liner buffed, and what the limit on size makes of the cutter."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

import msgspec

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import Figure, figure, span, tidy
from mendgauge.core.interval import EITHER, YES, Interval, Truth, at_most, both, point
from mendgauge.facts.injury import DIAMETER
from mendgauge.operations.repair_units.answer import Channel, Outline, Passes, Preparation, SizeLimit
from mendgauge.operations.repair_units.patch_room import Patch
from mendgauge.operations.repair_units.requirements import Figures, Hole, Requirements
from mendgauge.rulebooks.schema.repair import InjurySize
from mendgauge.wording import UnitWords
from mendgauge.wording.quantities import quantity

_CM2 = 100.0


def channel_of(requirements: Requirements, hole: Interval, around: Interval | None, bound: BoundEdition) -> Channel:
    """Return the channel once it is cut, and its mouth at the liner.

    `hole` is the diameter as it was measured, `around` where along the tread the mouth lies, both in mm.
    """
    return Channel(
        hole_mm=None if hole == DIAMETER or requirements.injury.stages == ("prepared",) else span(hole),
        cutter_mm=span(requirements.channel),
        lean_deg=span(requirements.lean),
        length_mm=span(requirements.length),
        mouth_length_mm=span(requirements.mouth_long),
        mouth_across_mm=span(requirements.mouth_across) if bound.full else None,
        mouth_around_mm=span(requirements.mouth_along) if bound.full else None,
        centre_across_mm=span(requirements.across) if bound.full else None,
        centre_around_mm=None if around is None else span(around),
    )


def preparation_of(requirements: Requirements, bound: BoundEdition) -> Preparation:
    """Return how the channel is cut and the liner buffed; a channel that is cut already takes no more passes."""
    return _preparation(requirements.figures, requirements.channel, requirements.injury.stages != ("prepared",), bound)


@lru_cache(maxsize=1024)
def _preparation(known: Figures, cut: Interval, to_cut: bool, bound: BoundEdition) -> Preparation:
    tools, passes, cleaned = known.tools, known.passes, known.cleaned
    sides = (passes.first, "outside" if passes.first == "inside" else "inside")
    times = figure(bound, passes, passes.passes_low, passes.passes_high, "passes")
    margin = known.unit.buffed_margin_mm
    preparation = Preparation(
        cutter=figure(bound, known.cutters, tidy(cut.low), tidy(cut.high), "mm"),
        passes=tuple(Passes(side=side, times=times) for side in sides) if to_cut else (),
        drill_to=figure(bound, tools, tools.drill_to_rpm, tools.drill_to_rpm, "rpm"),
        buffer_to=figure(bound, tools, tools.buffer_to_rpm, tools.buffer_to_rpm, "rpm"),
        texture=figure(bound, tools, tools.texture_low, tools.texture_high, "texture"),
        cleaned_margin=figure(bound, cleaned, cleaned.margin_low_mm, cleaned.margin_high_mm, "mm"),
        buffed_margin=figure(bound, known.unit, margin, margin, "mm"),
        says=(),
    )
    says = tuple(_says(preparation, cut, bound.words.units))
    if not bound.full:
        return Preparation(cutter=preparation.cutter, says=says)
    return msgspec.structs.replace(preparation, says=says)


def _says(preparation: Preparation, cut: Interval, words: UnitWords) -> Iterator[str]:
    texts = words.preparation

    def of(one: Figure | None) -> str:
        return "" if one is None else quantity(one.low, one.high, one.unit, words.language)

    if preparation.passes:
        first, times = preparation.passes[0].side, _bare(preparation.passes[0].times)
        if cut.high < DIAMETER.high:
            yield texts["cut"].format(cutter=of(preparation.cutter), first=first, times=times)
        else:
            yield texts["cut_unknown"].format(first=first, times=times)
        yield texts["drill"].format(needs=of(preparation.drill_to))
    yield texts["clean"].format(needs=of(preparation.cleaned_margin))
    yield texts["buff"].format(
        margin=of(preparation.buffed_margin),
        texture=_bare(preparation.texture, " or "),
        needs=of(preparation.buffer_to),
    )


def _bare(one: Figure | None, joint: str = " to ") -> str:
    if one is None:
        return ""
    return f"{one.low:g}" if one.low == one.high else f"{one.low:g}{joint}{one.high:g}"


def outline(patch: Patch) -> Outline:
    """Return a patch, or the area round it, as an answer gives it."""
    return Outline(
        shape="round" if patch.is_round else "rectangular",
        width_mm=tidy(2.0 * patch.half_across),
        length_mm=tidy(2.0 * patch.half_along),
        area_cm2=tidy(patch.area / _CM2),
    )


def size_limit(hole: Hole | Requirements, bound: BoundEdition) -> SizeLimit | None:
    """Return the limit on size as the hole keeps it and as the cutter does; none where the book has no limit.

    A house's limit stands beside the book's: it speaks of the hole, and its cutter may break it all the same.
    """
    book, injury = hole.size, hole.injury
    if book is None:
        return None
    prepared = "prepared" in injury.stages
    return _size_limit(book, hole.house.max_injury_mm, injury.diameter, prepared, hole.channel, hole.mouth_long, bound)


@lru_cache(maxsize=2048)
def _size_limit(
    book: InjurySize,
    house: float | None,
    diameter: Interval,
    prepared: bool,
    channel: Interval,
    mouth_long: Interval,
    bound: BoundEdition,
) -> SizeLimit:
    """Return the limit on a hole that may be `prepared`, cut already, for which it is not known how it was found."""
    hole_to = book.found_to_mm if house is None else min(house, book.found_to_mm)
    cutter_to = book.prepared_to_mm if house is None else min(house, book.prepared_to_mm)
    hole_keeps = at_most(diameter, hole_to, inclusive=book.inclusive)
    if prepared and hole_keeps != YES:
        hole_keeps = EITHER
    cutter_keeps = at_most(channel, cutter_to, inclusive=book.inclusive)
    says = bound.words.units.limit["unknown" if diameter == DIAMETER else _which(hole_keeps, cutter_keeps)]

    def in_words(of: Interval) -> str:
        return quantity(of.low, of.high, "mm", bound.words.language)

    citation = bound.cite_provision(book)
    return SizeLimit(
        hole_to_mm=hole_to,
        cutter_to_mm=cutter_to,
        means="cutter" if bound.full else None,
        hole_keeps=CERTAIN[hole_keeps],
        cutter_keeps=CERTAIN[cutter_keeps],
        says=says.format(
            limit=in_words(point(cutter_to)),
            hole=in_words(diameter),
            cutter=in_words(channel),
            mouth=in_words(mouth_long),
        ),
        clause=book.clause,
        basis=citation.basis,
        source=citation.source,
        cites=citation.cites,
    )


def _which(hole: Truth, cutter: Truth) -> str:
    if both(hole, cutter) == YES:
        return "keeps"
    if hole == EITHER or cutter == EITHER:
        return "open"
    return "breaks" if hole == YES else "both_break"
