"""Where the stem of each repair is cut: outside where the channel comes out, inside where the patch is separate."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Final

import msgspec

from mendgauge.answers.base import rulebook_used
from mendgauge.answers.figure import span
from mendgauge.answers.finding import quantity
from mendgauge.case.case import Case
from mendgauge.case.stock import StockUnit
from mendgauge.core.interval import NO, Interval, point
from mendgauge.intake.intake import Intake, take_in
from mendgauge.judging.questions import Ask, ToEstablish, in_words, missing
from mendgauge.operations.repair_units import caution, units_for
from mendgauge.operations.repair_units.answer import Chosen, InjuryUnit, RepairUnits
from mendgauge.operations.repair_units.fit import Where, own_height, proud_height
from mendgauge.operations.repair_units.requirements import Requirements, requirements_of
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.repairability.offer import deciding_findings, offer_for
from mendgauge.operations.stem_trim.answer import InsideCut, OutsideCut, StemTrim, StemTrims
from mendgauge.wording import UnitWords, wording

_UNIT_MAKER: Final = "Instruction of the unit's maker, sent with the stock"


def trim_stems(case: Case, today: date | None = None) -> StemTrims:
    """Where the stem of each repair is cut, by the trade's habit or by the chosen unit's own instruction.

    `today` stands in for a missing `assessed_on`. Raises `CaseError` for a case that contradicts itself or names a
    rulebook that is not there.
    """
    intake, verdict = take_in(case, today), check_repairability(case, today)
    return trims_for(intake, verdict, units_for(intake, verdict))


def trims_for(intake: Intake, verdict: Repairability, units: RepairUnits) -> StemTrims:
    """The same, of a case that was taken in and judged and whose units were chosen."""
    words = wording(intake.edition.book.language)
    offer = offer_for(verdict)
    needs = (
        []
        if offer == "withheld"
        else [requirements for requirements in requirements_of(intake) if requirements.injury.through != NO]
    )
    chosen = {unit.injury: unit for unit in units.injuries}
    stock = {unit.code: unit for unit in intake.case.stock or ()}
    asked = [Ask(field, ("stem_trim",), 0, 0.0) for requirements in needs for field in _unknown(requirements)]
    return StemTrims(
        reference=verdict.reference,
        rulebook=rulebook_used(intake.edition),
        assessed_on=verdict.assessed_on,
        verdict=verdict.verdict,
        offer=offer,
        decided_by=deciding_findings(verdict),
        injuries=tuple(
            _trim(requirements, chosen[requirements.injury.index], stock, intake, words.units) for requirements in needs
        ),
        to_establish=_with(units.to_establish, tuple(in_words(ask, words) for ask in asked)),
        cautions=(*units.cautions, *((caution("never_stretched", words.units),) if needs else ())),
    )


def _unknown(requirements: Requirements) -> tuple[str, ...]:
    """The fields that the cut hangs on: where the channel comes out and, on a lug, how much tread is left."""
    lug = "lug" in requirements.injury.emerges and requirements.figures.trim["lug"].at_most_tread_left
    low = requirements.injury.tyre.tread_depth.low < requirements.figures.trim["lug"].proud_mm
    return missing(("emerges", *(("tread_depth",) if lug and low else ())), requirements.injury)


def _with(asked: tuple[ToEstablish, ...], more: tuple[ToEstablish, ...]) -> tuple[ToEstablish, ...]:
    """The questions with more to settle, or more of them; each field once."""
    settles = {one.field: one for one in more}
    told = [
        msgspec.structs.replace(one, settles=(*one.settles, *settles.pop(one.field).settles))
        if one.field in settles
        else one
        for one in asked
    ]
    return (*told, *settles.values())


def _trim(
    requirements: Requirements, unit: InjuryUnit, stock: dict[str, StockUnit], intake: Intake, words: UnitWords
) -> StemTrim:
    chosen = [choice.chosen for choice in unit.choices if choice.chosen is not None]
    stem = _stem_of(chosen[0]) if chosen else None
    own = None if stem is None else stock.get(stem)
    return StemTrim(
        injury=requirements.injury.index,
        unit=stem,
        outside=tuple(_outside(requirements, where, own, intake, words) for where in requirements.injury.emerges),
        inside=_inside(requirements, unit, stock, intake, words),
    )


def _stem_of(chosen: Chosen) -> str:
    """Code of the piece that has the stem."""
    return next(piece.code for piece in chosen.pieces if piece.kind != "patch")


def _outside(
    requirements: Requirements, where: Where, own: StockUnit | None, intake: Intake, words: UnitWords
) -> OutsideCut:
    rule = requirements.figures.trim[where]
    asked = proud_height(requirements, where, own)
    left = requirements.injury.tyre.tread_depth
    # A stem that stood farther proud than the tread is deep would carry the wheel.
    proud = Interval(min(asked, left.low), min(asked, left.high)) if rule.at_most_tread_left else point(asked)
    told = own_height(where, own)
    return OutsideCut(
        emerges_in=where,
        at="groove_base" if where == "groove" else "tread_surface",
        proud_mm=span(proud),
        asked_mm=asked,
        capped="no" if proud.low == asked else "yes" if proud.high < asked else "open",
        says=" ".join(_says(where, asked, proud, left, words)),
        basis=rule.basis if told is None else "house_rule",
        source=intake.edition.source(rule) if told is None else _UNIT_MAKER,
    )


def _says(where: Where, asked: float, proud: Interval, left: Interval, words: UnitWords) -> Iterator[str]:
    needs = quantity(asked, asked, "mm")
    if where == "groove":
        yield words.trim["groove" if asked == 0.0 else "groove_proud"].format(needs=needs)
    elif proud.high < asked:
        yield words.trim["capped"].format(has=quantity(left.low, left.high, "mm"), needs=needs)
    else:
        yield words.trim["lug" if asked > 0.0 else "lug_flush"].format(needs=needs)
        if proud.low < asked:
            yield words.trim["capped_open"].format(has=quantity(left.low, left.high, "mm"), needs=needs)


def _inside(
    requirements: Requirements, unit: InjuryUnit, stock: dict[str, StockUnit], intake: Intake, words: UnitWords
) -> InsideCut | None:
    kinds = {choice.kind if choice.chosen is None else choice.chosen.kind for choice in unit.choices}
    if "two_piece" not in kinds:
        return None
    stems = [_stem_of(choice.chosen) for choice in unit.choices if choice.chosen and choice.chosen.kind == "two_piece"]
    own = stock.get(stems[0]) if stems else None
    told = own_height("inside", own)
    rule = requirements.figures.trim["inside"]
    height = rule.proud_mm if told is None else told
    return InsideCut(
        applies="yes" if kinds == {"two_piece"} else "open",
        at="liner",
        proud_mm=span(point(height)),
        asked_mm=height,
        capped="no",
        says=words.trim["inside"].format(needs=quantity(height, height, "mm")),
        basis=rule.basis if told is None else "house_rule",
        source=intake.edition.source(rule) if told is None else _UNIT_MAKER,
    )
