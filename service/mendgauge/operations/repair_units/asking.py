"""Which missing fields decide the unit, beside those that decide the verdict."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Final, TypeAlias

from mendgauge.answers.questions import with_more
from mendgauge.core.interval import EITHER, NO, at_most
from mendgauge.facts.injury import InjuryFacts
from mendgauge.judging.missing import missing
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.repair_units.choice import meeting
from mendgauge.operations.repair_units.requirements import Requirements
from mendgauge.operations.repair_units.rounds import Round
from mendgauge.wording import Wording

Open: TypeAlias = tuple[str, InjuryFacts]
"""A question that is open of a channel, by its name."""

_PLACE: Final = (
    "across",
    "around",
    "lean",
    "toward",
    "sides",
    "emerges",
    "crown_thickness",
    "tread_depth",
)
_DEPENDS_ON: Final[dict[str, tuple[str, ...]]] = {
    "one_piece_lean": ("lean",),
    "one_piece_crown": ("crown_thickness",),
    "stem_diameter": ("diameter", "stages"),
    "stem_length": ("crown_thickness", "tread_depth", "emerges", "lean"),
    "largest_injury": ("diameter", "stages"),
    "largest_lean": ("lean",),
    "not_reinforced": ("diameter", "stages"),
    "patch_too_small": ("diameter", "stages", "lean", "toward"),
    "meets_earlier_repair": (*_PLACE, "earlier_known", "neighbours"),
    "meets_injury": (*_PLACE, "neighbours"),
}
"""The facts behind each question of fit; what is not named hangs on the unit alone."""


def questions(
    asked: Sequence[ToEstablish], of_fit: Iterable[Open], needs: Sequence[Requirements], words: Wording
) -> tuple[ToEstablish, ...]:
    """Return the verdict's questions, then those that decide the unit alone, the one that settles most first.

    `of_fit` are the questions of fit that the units chosen leave open.
    """
    settles: dict[str, dict[str, None]] = {}
    # Many units leave the same question open.
    open_ones = {(question, injury.index): injury for question, injury in chain(of_fit, _of_kind(needs))}
    for (question, _), injury in open_ones.items():
        for field in missing(_DEPENDS_ON.get(question, ()), injury):
            settles.setdefault(field, {})[question] = None
    return with_more(asked, {field: tuple(names) for field, names in settles.items()}, words)


def open_in(rounds: tuple[Round, ...]) -> Iterator[Open]:
    """Yield the questions of fit that the units of some rounds leave open."""
    for one in rounds:
        for place, (option, requirements) in enumerate(zip(one.picked.assignment.options, one.needs, strict=True)):
            if option is not None:
                misses = chain(*[piece.open for piece in option.pieces], meeting(one.picked, place, option))
                yield from ((miss.code, requirements.injury) for miss in misses)


def _of_kind(needs: Sequence[Requirements]) -> Iterator[Open]:
    """Yield what is open between units of one piece and of two."""
    for requirements in needs:
        if requirements.injury.through == NO or requirements.one_piece != EITHER:
            continue
        if at_most(requirements.lean, requirements.one_piece_to_deg) == EITHER:
            yield "one_piece_lean", requirements.injury
        if requirements.house.max_one_piece_crown_mm is not None:
            yield "one_piece_crown", requirements.injury
