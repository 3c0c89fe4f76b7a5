"""Why a unit was taken or passed over, in words."""

from __future__ import annotations

from mendgauge.answers.figure import tidy
from mendgauge.core.interval import NO, Interval
from mendgauge.facts.injury import DIAMETER, LEAN
from mendgauge.operations.repair_units.answer import Reason
from mendgauge.operations.repair_units.fit import Miss, OnePieceIf
from mendgauge.operations.repair_units.search import Candidate
from mendgauge.wording import ReasonWords, UnitWords
from mendgauge.wording.quantities import quantity


def reason_for(miss: Miss, words: UnitWords) -> Reason:
    """Word a question that a unit fails, or that is not settled."""
    by = None if miss.by is None or miss.by <= 0.0 or miss.answer != NO else tidy(miss.by)
    says = _template(miss, words.reasons[miss.code]).format(
        has=_in_words(miss.has, miss.unit, words),
        needs=_in_words(miss.needs, miss.unit, words),
        by="" if miss.by is None else quantity(tidy(miss.by), tidy(miss.by), miss.unit, words.language),
    )
    return Reason(code=miss.code, by=by, unit="" if by is None else miss.unit, says=says)


def _template(miss: Miss, texts: ReasonWords) -> str:
    if miss.answer == NO:
        return texts.no
    if miss.has is None:
        return texts.unknown
    return texts.unmeasured if texts.unmeasured and _unmeasured(miss.needs) else texts.open


def _unmeasured(needs: Interval | OnePieceIf | str | None) -> bool:
    """Return whether what a channel needs is only the widest that it can be, as nobody measured it."""
    return needs is None or (isinstance(needs, Interval) and (needs == LEAN or needs.high >= DIAMETER.high))


def _in_words(value: Interval | OnePieceIf | str | None, unit: str, words: UnitWords) -> str:
    if isinstance(value, Interval):
        return quantity(tidy(value.low), tidy(value.high), unit, words.language)
    if isinstance(value, OnePieceIf):
        return _one_piece_if(value, words)
    return value or ""


def _one_piece_if(value: OnePieceIf, words: UnitWords) -> str:
    lean = quantity(value.lean_deg, value.lean_deg, "deg", words.language)
    if value.crown_mm is None:
        return words.needs["lean"].format(lean=lean)
    crown = quantity(value.crown_mm, value.crown_mm, "mm", words.language)
    return words.needs["lean_and_crown"].format(lean=lean, crown=crown)


def reason(
    code: str, words: UnitWords, *, sure: bool = True, has: str = "", by: float | None = None, unit: str = ""
) -> Reason:
    """Word a reason that is no question of fit; without a `unit`, `by` is a price."""
    texts = words.reasons[code]
    off = "" if by is None else quantity(by, by, unit, words.language) if unit else f"{by:.2f}"
    return Reason(code=code, by=by, unit=unit, says=(texts.no if sure else texts.open).format(has=has, by=off))


def none_in_stock(kind: str, words: UnitWords) -> Reason:
    """Word that the shelf holds nothing of a kind."""
    return reason("none_in_stock", words, has=words.names[kind])


def worse_than(one: Candidate, chosen: Candidate, words: UnitWords) -> Reason:
    """Word why a candidate that does was not chosen, both being of the same kind."""
    sure = not one.open
    mine, its = one.cost, chosen.cost
    if mine[1] > its[1]:
        return reason("hangs_on_more", words)
    if mine[3] > its[3]:
        area = tidy((mine[3] - its[3]) / 100_000.0)
        return reason("larger_than_needed", words, sure=sure, by=area, unit="cm²")
    if mine[4] > its[4]:
        return reason("no_price", words, sure=sure)
    if mine[5] > its[5]:
        return reason("dearer", words, sure=sure, by=float(mine[5] - its[5]))
    if mine[6] > its[6]:
        return reason("longer", words, sure=sure, by=tidy((mine[6] - its[6]) / 1000.0), unit="mm")
    return reason("as_good", words, sure=sure)
