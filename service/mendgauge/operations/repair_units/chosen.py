"""The unit that was chosen for a channel."""

from __future__ import annotations

from decimal import Decimal
from functools import lru_cache

from mendgauge.answers.base import CERTAIN
from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.figure import tidy
from mendgauge.core.interval import Truth, negate
from mendgauge.operations.repair_units.answer import Chosen, Piece
from mendgauge.operations.repair_units.choice import Picked, meeting
from mendgauge.operations.repair_units.fit import Miss
from mendgauge.operations.repair_units.patch_room import inside, reach_past
from mendgauge.operations.repair_units.preparation import outline
from mendgauge.operations.repair_units.reasons import reason_for
from mendgauge.operations.repair_units.requirements import AskedOfUnit
from mendgauge.operations.repair_units.search import Option


def chosen_unit(picked: Picked, place: int, option: Option, bound: BoundEdition) -> Chosen:
    """Return the unit that was chosen for a channel, with its patch and the areas round it."""
    requirements = picked.channels.needs[place]
    under_shoulder = negate(inside(option.patch, requirements.off_centre, requirements.shoulder))
    meets = tuple(meeting(picked, place, option))
    chosen = _chosen_of_nominal if picked.shelf.nominal else _chosen
    return chosen(option, requirements.of_unit, meets, under_shoulder, bound)


def _chosen(
    option: Option, asked: AskedOfUnit, meets: tuple[Miss, ...], under_shoulder: Truth, bound: BoundEdition
) -> Chosen:
    words, figures = bound.words.units, asked.figures
    open_misses = [miss for piece in option.pieces for miss in piece.open]
    hangs_on = (*open_misses, *meets)
    prices = [piece.item.price for piece in option.pieces]
    return Chosen(
        kind="one_piece" if len(option.pieces) == 1 else "two_piece",
        certain=not hangs_on,
        hangs_on=tuple(reason_for(miss, words) for miss in hangs_on),
        pieces=tuple(
            Piece(
                code=piece.item.unit.code,
                kind=piece.item.unit.kind,
                generic=piece.item.generic,
                stem_mm=piece.item.unit.stem_mm,
                stem_length_mm=piece.item.unit.stem_length_mm,
                price=piece.item.unit.price,
            )
            for piece in option.pieces
        ),
        price=None if None in prices else f"{sum((price for price in prices if price), Decimal(0))}",
        patch=outline(option.patch),
        buffed=outline(option.patch.grown(figures.unit.buffed_margin_mm)),
        cleaned=outline(option.patch.grown(figures.cleaned.margin_high_mm)) if bound.full else None,
        reach_mm=tidy(reach_past(option.patch, asked.mouth_long.high, asked.mouth_across.high, asked.mouth_along.high)),
        arrows=words.arrows[asked.carcass or "not_known"],
        under_shoulder=CERTAIN[under_shoulder],
    )


@lru_cache(maxsize=2048)
def _chosen_of_nominal(
    option: Option, asked: AskedOfUnit, meets: tuple[Miss, ...], under_shoulder: Truth, bound: BoundEdition
) -> Chosen:
    """Return the same of nominal sizes: kept, as their options are."""
    return _chosen(option, asked, meets, under_shoulder, bound)
