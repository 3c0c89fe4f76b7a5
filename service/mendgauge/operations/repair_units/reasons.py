"""Why a unit was taken or passed over, in words."""

from __future__ import annotations

from mendgauge.answers.figure import tidy
from mendgauge.answers.finding import quantity
from mendgauge.core.interval import NO, Interval
from mendgauge.operations.repair_units.answer import Reason
from mendgauge.operations.repair_units.fit import Miss
from mendgauge.operations.repair_units.search import Candidate
from mendgauge.wording import UnitWords

_NAMES = {"one_piece": "unit of one piece", "stem": "stem", "patch": "patch"}


def reason_for(miss: Miss, words: UnitWords) -> Reason:
    """Word a question that a unit fails, or that is not settled."""
    texts = words.reasons[miss.code]
    by = None if miss.by is None or miss.by <= 0.0 or miss.answer != NO else tidy(miss.by)
    says = (texts.no if miss.answer == NO else texts.open).format(
        has=_in_words(miss.has, miss.unit),
        needs=_in_words(miss.needs, miss.unit),
        by="" if miss.by is None else quantity(tidy(miss.by), tidy(miss.by), miss.unit),
    )
    return Reason(code=miss.code, by=by, unit="" if by is None else miss.unit, says=says)


def _in_words(value: Interval | str, unit: str) -> str:
    return value if isinstance(value, str) else quantity(tidy(value.low), tidy(value.high), unit)


def reason(
    code: str, words: UnitWords, *, sure: bool = True, has: str = "", by: float | None = None, unit: str = ""
) -> Reason:
    """Word a reason that is no question of fit."""
    texts = words.reasons[code]
    off = "" if by is None else quantity(by, by, unit).strip()
    return Reason(code=code, by=by, unit=unit, says=(texts.no if sure else texts.open).format(has=has, by=off))


def none_in_stock(kind: str, words: UnitWords) -> Reason:
    """Word that the shelf holds nothing of a kind."""
    return reason("none_in_stock", words, has=_NAMES[kind])


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
