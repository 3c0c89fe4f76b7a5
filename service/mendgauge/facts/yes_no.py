"""The yes-or-no facts of a tyre: what kind it is, what the bench saw of it, what its maker permits.

The same few answers come again from tyre to tyre, so they are read, and then judged, once.
"""

from __future__ import annotations

from functools import lru_cache
from operator import attrgetter
from typing import Final

from mendgauge.case.case import Inspection, MakerPolicy, Traits
from mendgauge.case.contract import Pointer
from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.core.vocabulary import BodyPly

TRAITS: Final = tuple(name for name in Traits.__struct_fields__ if name != "complete")
SIGNS: Final = tuple(name for name in Inspection.__struct_fields__ if name != "complete")
YES_NO_FACTS: Final = frozenset((*TRAITS, *SIGNS, "maker_permits", "steel_plies"))
"""The facts that a rule may look at and still be judged by yes-or-no facts alone."""

TRUTH: Final[dict[bool | None, Truth]] = {None: EITHER, True: YES, False: NO}
TRUTH_COMPLETE: Final[dict[bool | None, Truth]] = {None: NO, True: YES, False: NO}
"""The same where the section is complete, so that what is not given is absent."""


class YesNoFacts:
    """The yes-or-no facts of a tyre: its traits and the signs of its condition by name, its plies, its maker's consent.

    Tyres with the same facts share one, which is compared by identity. `reported` are the traits and signs that it has.
    """

    __slots__ = ("conditions", "fields_behind", "maker_permits", "reported", "steel_plies", "traits")

    index: Final = None
    """An injury has its place in the list here."""

    def __init__(
        self, traits: dict[str, Truth], conditions: dict[str, Truth], steel_plies: Truth, maker_permits: Truth
    ) -> None:
        self.traits = traits
        self.conditions = conditions
        self.steel_plies = steel_plies
        self.maker_permits = maker_permits
        # The fields of the case that leave a fact open, by the fact: `judging.missing` finds them when first asked.
        self.fields_behind: dict[str, tuple[Pointer, ...]] = {}
        self.reported = frozenset(name for name, holds in (*traits.items(), *conditions.items()) if holds == YES)

    def supposing(self, fact: str, holds: Truth) -> YesNoFacts:
        """Return the facts with another truth of one of them."""
        return YesNoFacts(
            {**self.traits, fact: holds} if fact in self.traits else self.traits,
            {**self.conditions, fact: holds} if fact in self.conditions else self.conditions,
            holds if fact == "steel_plies" else self.steel_plies,
            holds if fact == "maker_permits" else self.maker_permits,
        )

    @property
    def tyre(self) -> YesNoFacts:
        """Return self, so that rules can use `subject.tyre` for any subject."""
        return self


@lru_cache(maxsize=4096)
def yes_no_facts(
    traits: Traits | None,
    policy: MakerPolicy | None,
    inspection: Inspection | None,
    body_ply: BodyPly | None,
    implied: tuple[str, ...],
) -> YesNoFacts:
    """Return the yes-or-no facts of traits, maker policy, inspection and body plies.

    Traits in `implied` follow from the marking and override the case.
    """
    traits, inspection = traits or _NO_TRAITS, inspection or _NO_INSPECTION
    repair = None if policy is None else policy.repair
    of_tyre = {**_truths(TRAITS, _traits_given(traits), complete=traits.complete), **dict.fromkeys(implied, YES)}
    for one, other in _EITHER_OR:
        if of_tyre[one] == YES and of_tyre[other] == EITHER:
            of_tyre[other] = NO
    return YesNoFacts(
        of_tyre,
        _truths(SIGNS, _signs_given(inspection), complete=inspection.complete),
        EITHER if body_ply is None else (YES if body_ply == "steel" else NO),
        EITHER if repair is None else (YES if repair == "permitted" else NO),
    )


def _truths(names: tuple[str, ...], given: tuple[bool | None, ...], *, complete: bool) -> dict[str, Truth]:
    table = TRUTH_COMPLETE if complete else TRUTH
    return {name: table[value] for name, value in zip(names, given, strict=True)}


_traits_given = attrgetter(*TRAITS)
_signs_given = attrgetter(*SIGNS)

# A run-flat stands on its own sidewalls and holds its air without a tube (common practice).
_EITHER_OR: Final = (("tube_type", "run_flat"), ("run_flat", "tube_type"))
_NO_TRAITS: Final = Traits()
_NO_INSPECTION: Final = Inspection()
