"""The circumstances that the steps of a job hang on, as far as the case settles them.

The conditions are all that the choice of steps depends on, so equal conditions get the same steps.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from operator import or_
from typing import Final, get_args

import msgspec

from mendgauge.case.shop import Bench
from mendgauge.core.interval import EITHER, NO, YES, Truth, both, negate, truth
from mendgauge.core.vocabulary import Fitment, HeatCuredFill, VehicleKind
from mendgauge.facts.injury import InjuryFacts
from mendgauge.facts.tyre import TyreFacts
from mendgauge.facts.yes_no import YesNoFacts
from mendgauge.judging.missing import fields_of_use, missing
from mendgauge.operations.repair_units.answer import Choice
from mendgauge.operations.work_plans.book_figures import run_low_percent
from mendgauge.operations.work_plans.drying import Climate
from mendgauge.rulebooks import Edition
from mendgauge.rulebooks.resolver import provisions_for
from mendgauge.rulebooks.schema.procedure import Circumstance, OfInjury, OfTyre
from mendgauge.rules.repair.history import run_low
from mendgauge.tyre.tyre_class import TyreClass, Use

OF_TYRE: Final[tuple[OfTyre, ...]] = get_args(OfTyre)
OF_INJURY: Final[tuple[OfInjury, ...]] = get_args(OfInjury)
NO_BENCH: Final = Bench()
USE: Final = "use"
"""What stands for the vehicle and the class of tyre among the circumstances."""


class InjuryConditions(msgspec.Struct, frozen=True):
    """The circumstances of one injury that is worked on: it may go through, or, where none does, is probed."""

    index: int
    worked_on: Truth
    truths: tuple[Truth, ...]

    def as_named(self, named: Named) -> InjuryConditions:
        """Return the circumstances that are named; any other is open."""
        return InjuryConditions(self.index, self.worked_on, _as_named(self.truths, named.of_injury))


class Named(msgspec.Struct, frozen=True):
    """The circumstances that something can hang on: `EITHER` stands in the place of each that it does not name.

    Its bits upon those of what was found leave that open.
    """

    of_tyre: tuple[int, ...]
    of_injury: tuple[int, ...]
    per_injury: bool


def named(names: Collection[str], *, per_injury: bool) -> Named:
    """Return some circumstances by name; `per_injury` with those of each injury."""
    return Named(_unnamed(OF_TYRE, names), _unnamed(OF_INJURY, names), per_injury)


def _unnamed(every: tuple[str, ...], names: Collection[str]) -> tuple[int, ...]:
    return tuple([0 if one in names else EITHER for one in every])


def _as_named(found: tuple[Truth, ...], unnamed: tuple[int, ...]) -> tuple[Truth, ...]:
    return tuple(map(or_, found, unnamed))


class JobConditions(msgspec.Struct, frozen=True):
    """The circumstances of a job: what the tyre may be in use as, then each circumstance in the procedure's order."""

    uses: tuple[Use, ...]
    fill: HeatCuredFill | None
    truths: tuple[Truth, ...]
    injuries: tuple[InjuryConditions, ...]

    @property
    def classes(self) -> tuple[TyreClass, ...]:
        """The classes of limits that may apply, each once."""
        return tuple(dict.fromkeys(use.tyre_class for use in self.uses))

    @property
    def surely_worked_on(self) -> frozenset[int]:
        """The injuries that are surely worked on."""
        return frozenset([injury.index for injury in self.injuries if injury.worked_on == YES])

    def holds(self, name: Circumstance, at: Iterable[InjuryConditions]) -> Truth:
        """Return whether a circumstance holds; of an injury's own, at each of some: `EITHER` where they differ."""
        if name in OF_TYRE:
            return self.truths[OF_TYRE.index(name)]
        found = 0
        for injury in at:
            found |= injury.truths[OF_INJURY.index(name)]
        return YES if found == YES else NO if found == NO else EITHER

    def as_named(self, named: Named) -> JobConditions:
        """Return all that something can hang on that names some circumstances: any other is open."""
        return JobConditions(
            self.uses,
            self.fill,
            _as_named(self.truths, named.of_tyre),
            tuple([one.as_named(named) for one in self.injuries]) if named.per_injury else (),
        )

    def applies_to(self, classes: tuple[TyreClass, ...], kinds: tuple[VehicleKind, ...] | None) -> Truth:
        """Return whether what is said for some classes and vehicles is said for this tyre."""
        said = [use.tyre_class in classes and (kinds is None or use.kind in kinds) for use in self.uses]
        if all(said):
            return YES
        return EITHER if any(said) else NO


def conditions_of(
    uses: tuple[Use, ...],
    facts: TyreFacts,
    edition: Edition,
    climate: Climate,
    chosen: Mapping[int, tuple[Choice, ...]],
) -> JobConditions:
    """Return the conditions of a job. `chosen` are the choices of units for each injury that may go through."""
    bench = facts.case.bench or NO_BENCH
    heat = truth(bench.heat_cured_fill is not None)
    through = [injury for injury in facts.injuries if injury.through != NO]
    low = run_low(facts.pressure, facts.driven_flat, run_low_percent(edition, facts.tyre_class))
    return JobConditions(
        uses,
        bench.heat_cured_fill,
        _of_tyre(
            bench,
            facts.position.fitment,
            low,
            facts.sealant,
            facts.yes_no,
            _several(through),
            climate.slow,
            _marked(edition, uses),
        ),
        tuple(
            [
                InjuryConditions(
                    injury.index,
                    injury.through if through else YES,
                    _of_injury(injury, chosen.get(injury.index, ()), heat),
                )
                for injury in through or facts.injuries
            ]
        ),
    )


@lru_cache(maxsize=4096)
def _of_tyre(
    bench: Bench,
    fitment: Fitment | None,
    low: Truth,
    sealant: Truth,
    known: YesNoFacts,
    several: Truth,
    slow_drying: Truth,
    marked: Truth,
) -> tuple[Truth, ...]:
    """Return the circumstances of a tyre: those of its bench, its place, its history and its kind."""
    heat = truth(bench.heat_cured_fill is not None)
    found: dict[OfTyre, Truth] = {
        "on_vehicle": EITHER if bench.wheel is None else truth(bench.wheel == "on_vehicle"),
        "loose": EITHER if bench.wheel is None else truth(bench.wheel == "loose"),
        "dual_inner": EITHER if fitment in (None, "dual") else truth(fitment == "dual_inner"),
        "dual": EITHER if fitment is None else truth(fitment != "single"),
        "run_low": low,
        "pressure_kept": negate(low),
        "sealant": sealant,
        "foam_lined": known.traits["foam_lined"],
        "self_sealing": known.traits["self_sealing"],
        "tube_type": known.traits["tube_type"],
        "sensor": truth(bench.pressure_sensor),
        "several": several,
        "slow_drying": slow_drying,
        "stem": negate(heat),
        "heat_cured": heat,
        "marked": marked,
    }
    return tuple(map(found.__getitem__, OF_TYRE))


def worked_on(facts: TyreFacts) -> list[InjuryFacts]:
    """Return the injuries that may go through; every one where none does, as they are probed."""
    return [injury for injury in facts.injuries if injury.through != NO] or facts.injuries


@lru_cache(maxsize=256)
def _marked(edition: Edition, uses: tuple[Use, ...]) -> Truth:
    """Return whether the book has a repair marked, in every use that the tyre may be in."""
    asked = {bool(provisions_for(edition, "repair_mark", use.tyre_class)) for use in uses}
    return EITHER if len(asked) > 1 else truth(asked == {True})


def _several(through: list[InjuryFacts]) -> Truth:
    if len(through) < 2:
        return NO
    return YES if sum(injury.through == YES for injury in through) > 1 else EITHER


def _of_injury(injury: InjuryFacts, choices: tuple[Choice, ...], heat: Truth) -> tuple[Truth, ...]:
    kinds = {choice.kind if choice.chosen is None else choice.chosen.kind for choice in choices}
    one_piece = EITHER if len(kinds) != 1 else truth("one_piece" in kinds)
    in_groove = EITHER if len(injury.emerges) > 1 else truth(injury.emerges == ("groove",))
    asked = {choice.needed.reinforced for choice in choices if choice.needed is not None}
    reinforced = EITHER if asked != {"yes"} and asked != {"no"} else truth(asked == {"yes"})
    # A fill that is cured by heat is not pulled in with the patch.
    one_piece = both(one_piece, negate(heat))
    found: dict[OfInjury, Truth] = {
        "object_in": injury.object_in,
        "uncut": EITHER if len(injury.stages) > 1 else truth(injury.stages == ("found",)),
        "one_piece": one_piece,
        "two_piece": negate(one_piece),
        "plain": negate(reinforced),
        "reinforced": reinforced,
        "in_groove": in_groove,
        "on_lug": negate(in_groove),
    }
    return tuple(map(found.__getitem__, OF_INJURY))


def unknown_behind(name: str, uses: tuple[Use, ...], facts: TyreFacts, climate: Climate) -> tuple[str, ...]:
    """Return the fields of the case that leave a circumstance open, or what the tyre is in use as."""
    if name in (USE, "marked"):
        return tuple(fields_of_use(uses))
    if name == "slow_drying":
        return tuple(climate.missing())
    if name in ("one_piece", "two_piece"):
        return tuple(_fields_of_unit(facts))
    depends_on = _DEPENDS_ON.get(name)
    if depends_on is None:
        return _ASKED_OF[name]
    subjects: list[TyreFacts | InjuryFacts] = [facts, *worked_on(facts)]
    return tuple(dict.fromkeys(field for subject in subjects for field in missing(depends_on, subject)))


def _fields_of_unit(facts: TyreFacts) -> Iterator[str]:
    """Yield what decides between a unit of one piece and one of two: the lean, or the crown where a house rule does."""
    house = facts.case.house_rules
    for injury in facts.injuries:
        if injury.through != NO and not injury.lean.known:
            yield f"/injuries/{injury.index}/lean_deg"
    if house is not None and house.max_one_piece_crown_mm is not None and not facts.crown_thickness.known:
        yield "/tyre/crown_thickness_mm"


_DEPENDS_ON: Final[dict[str, tuple[str, ...]]] = {
    "run_low": ("pressure", "driven_flat"),
    "pressure_kept": ("pressure", "driven_flat"),
    "sealant": ("sealant",),
    "foam_lined": ("foam_lined",),
    "self_sealing": ("self_sealing",),
    "tube_type": ("tube_type",),
    "several": ("injuries.through",),
    "uncut": ("stages",),
    "plain": ("diameter", "stages"),
    "reinforced": ("diameter", "stages"),
    "in_groove": ("emerges",),
    "on_lug": ("emerges",),
}
_ASKED_OF: Final[dict[str, tuple[str, ...]]] = {
    # Whoever stands at the tyre sees it.
    "object_in": (),
    "on_vehicle": ("/bench/wheel",),
    "loose": ("/bench/wheel",),
    "sensor": ("/bench/pressure_sensor",),
    "dual_inner": ("/position/fitment",),
    "dual": ("/position/fitment",),
}
