"""The cuts of each stem, with their heights."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.caution import worded
from mendgauge.answers.citation import Citation, sources_of
from mendgauge.answers.figure import span
from mendgauge.answers.questions import first_of, with_more
from mendgauge.case.stock import StockUnit
from mendgauge.core.interval import NO, Interval, point
from mendgauge.judging.missing import missing
from mendgauge.judging.questions import ToEstablish
from mendgauge.operations.if_it_passes import if_it_passes
from mendgauge.operations.outline import asks_nothing_more
from mendgauge.operations.repair_units.answer import Chosen, InjuryUnit, RepairUnits
from mendgauge.operations.repair_units.fit import own_height
from mendgauge.operations.repair_units.requirements import Requirements, Where, requirements_of
from mendgauge.operations.repair_units.units import units_of
from mendgauge.operations.stem_trim.answer import InsideCut, OutsideCut, StemTrim, StemTrims
from mendgauge.operations.workup import Workup, part
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.schema.units import StemTrimRule
from mendgauge.wording import UnitWords
from mendgauge.wording.quantities import quantity

_UNIT_MAKER: Final = "Instruction of the unit's maker, sent with the stock"


@part
def trims_of(workup: Workup) -> StemTrims:
    """Return the cuts for every injury of a case that goes through."""
    units, bound = units_of(workup), workup.bound
    needs = (
        []
        if units.offer == "withheld"
        else [
            requirements for requirements in requirements_of(if_it_passes(workup)) if requirements.injury.through != NO
        ]
    )
    chosen = {unit.injury: unit for unit in units.injuries}
    stock = {unit.code: unit for unit in workup.case.stock or ()}
    cautions = (worded("never_stretched", bound.words.units.cautions["never_stretched"], bound),) if needs else ()
    return StemTrims(
        reference=units.reference,
        codes=units.codes,
        rulebook=units.rulebook,
        assessed_on=units.assessed_on,
        verdict=units.verdict,
        offer=units.offer,
        decided_by=units.decided_by,
        injuries=tuple(
            [_trim(requirements, chosen[requirements.injury.index], stock, bound) for requirements in needs]
        ),
        to_establish=units.to_establish if asks_nothing_more(workup) else _questions(units, needs, bound),
        cautions=(*units.cautions, *cautions),
        sources=sources_of(units.decided_by),
    )


def _questions(units: RepairUnits, needs: list[Requirements], bound: BoundEdition) -> tuple[ToEstablish, ...]:
    unknown = {field: ("stem_trim",) for requirements in needs for field in _unknown(requirements)}
    return first_of(with_more(units.to_establish, unknown, bound.words), bound)


def _unknown(requirements: Requirements) -> tuple[str, ...]:
    """Return the fields that the cut hangs on: where the channel comes out and, on a lug, how much tread is left."""
    lug = "lug" in requirements.injury.emerges and requirements.figures.trim["lug"].at_most_tread_left
    low = requirements.injury.tyre.tread_depth.low < requirements.figures.trim["lug"].proud_mm
    return missing(("emerges", *(("tread_depth",) if lug and low else ())), requirements.injury)


def _trim(requirements: Requirements, unit: InjuryUnit, stock: dict[str, StockUnit], bound: BoundEdition) -> StemTrim:
    chosen = [choice.chosen for choice in unit.choices if choice.chosen is not None]
    stem = _stem_of(chosen[0]) if chosen else None
    own = None if stem is None else stock.get(stem)
    return StemTrim(
        injury=requirements.injury.index,
        unit=stem,
        outside=tuple([_outside(requirements, where, own, bound) for where in requirements.injury.emerges]),
        inside=_inside(requirements, unit, stock, bound),
    )


def _stem_of(chosen: Chosen) -> str:
    """Return the code of the piece that has the stem."""
    return next(piece.code for piece in chosen.pieces if piece.kind != "patch")


def _outside(requirements: Requirements, where: Where, own: StockUnit | None, bound: BoundEdition) -> OutsideCut:
    rule = requirements.figures.trim[where]
    # A stem that stood farther proud than the tread is deep would carry the wheel.
    most = requirements.injury.tyre.tread_depth if rule.at_most_tread_left else None
    return _outside_cut(rule, where, own_height(where, own), most, bound)


@lru_cache(maxsize=1024)
def _outside_cut(
    rule: StemTrimRule, where: Where, instructed: float | None, most: Interval | None, bound: BoundEdition
) -> OutsideCut:
    """Return a cut to what the unit's maker instructs, or to the rule's height, and to no more than `most`."""
    asked = rule.proud_mm if instructed is None else instructed
    proud = point(asked) if most is None else Interval(min(asked, most.low), min(asked, most.high))
    provenance = _provenance(rule, instructed, bound)
    return OutsideCut(
        emerges_in=where,
        at="groove_base" if where == "groove" else "tread_surface",
        proud_mm=span(proud),
        asked_mm=asked,
        capped="no" if proud.low == asked else "yes" if proud.high < asked else "open",
        says=" ".join(_says(where, asked, proud, most, bound.words.units)),
        basis=provenance.basis,
        source=provenance.source,
    )


def _says(where: Where, asked: float, proud: Interval, left: Interval | None, words: UnitWords) -> Iterator[str]:
    needs = quantity(asked, asked, "mm", words.language)
    has = "" if left is None else quantity(left.low, left.high, "mm", words.language, tread=True)
    if where == "groove":
        yield words.trim["groove" if asked == 0.0 else "groove_proud"].format(needs=needs)
    elif proud.high < asked:
        yield words.trim["capped"].format(has=has, needs=needs)
    else:
        yield words.trim["lug" if asked > 0.0 else "lug_flush"].format(needs=needs)
        if proud.low < asked:
            yield words.trim["capped_open"].format(has=has, needs=needs)


def _inside(
    requirements: Requirements, unit: InjuryUnit, stock: dict[str, StockUnit], bound: BoundEdition
) -> InsideCut | None:
    kinds = {choice.kind if choice.chosen is None else choice.chosen.kind for choice in unit.choices}
    if "two_piece" not in kinds:
        return None
    stems = [_stem_of(choice.chosen) for choice in unit.choices if choice.chosen and choice.chosen.kind == "two_piece"]
    instructed = own_height("inside", stock.get(stems[0]) if stems else None)
    return _inside_cut(requirements.figures.trim["inside"], instructed, kinds == {"two_piece"}, bound)


@lru_cache(maxsize=256)
def _inside_cut(rule: StemTrimRule, instructed: float | None, surely: bool, bound: BoundEdition) -> InsideCut:
    """Return the cut of a stem that is surely, or only perhaps, apart from its patch."""
    height = rule.proud_mm if instructed is None else instructed
    provenance = _provenance(rule, instructed, bound)
    return InsideCut(
        applies="yes" if surely else "open",
        at="liner",
        proud_mm=span(point(height)),
        asked_mm=height,
        capped="no",
        says=bound.words.units.trim["inside"].format(needs=quantity(height, height, "mm", bound.words.language)),
        basis=provenance.basis,
        source=provenance.source,
    )


def _provenance(rule: Provision, instructed: float | None, bound: BoundEdition) -> Citation:
    return bound.provenance_of(rule) if instructed is None else bound.provenance("house_rule", _UNIT_MAKER)
