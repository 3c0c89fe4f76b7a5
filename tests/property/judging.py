"""A case as a caller sends it, judged; and verdicts in their order."""

from __future__ import annotations

from typing import Any, Final, TypeAlias

import msgspec
from hypothesis import note

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability

Json: TypeAlias = dict[str, Any]

VERDICTS: Final = ("repairable", "specialist", "not_covered", "not_repairable")
"""Best first."""


def judge(case: Json) -> Repairability:
    """The answer to a case that keeps to the contract; a property that fails shows the case."""
    answer = check_repairability(msgspec.convert(case, Case))
    note(f"{msgspec.json.encode(case).decode()}\n    {answer.possible_verdicts}")
    return answer


def possible(case: Json) -> set[str]:
    return set(judge(case).possible_verdicts)


def ranks(verdicts: set[str]) -> tuple[int, int]:
    """The best and the worst of some verdicts; the larger the number, the worse."""
    found = [VERDICTS.index(verdict) for verdict in verdicts]
    return min(found), max(found)


def never_better(worse: Json, case: Json) -> bool:
    """Whether neither the best nor the worst that may become of one case is better than of the other."""
    (best, worst), (best_before, worst_before) = ranks(possible(worse)), ranks(possible(case))
    return best >= best_before and worst >= worst_before
