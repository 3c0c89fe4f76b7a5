"""Repairability of all rows of a record batch, each as `POST /v1/repairability` would answer it."""

from __future__ import annotations

import logging
from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Final

import msgspec
import pyarrow as pa

from mendgauge.api.body import CASE_BYTES_MAX, decode
from mendgauge.api.problems import BODY_TOO_LARGE, CONTRACT_BROKEN, FAILURE, FaultAt, Refusal, problem, refusal_of
from mendgauge.bulk.columns import NotFiniteNumberError, bodies
from mendgauge.bulk.schemas import ANSWERS
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability

_encode: Final = msgspec.json.Encoder().encode
_log: Final = logging.getLogger(__name__)


def check(batch: pa.RecordBatch, *, keep: Sequence[str] = ()) -> pa.RecordBatch:
    """Return the answers to the cases of a record batch, a row for each, in their order.

    Args:
        batch: The cases, in columns as `CASES` has them, or as JSON in one column, `case`.
        keep: Columns that are no part of a case; they stand before the answers as they came.

    Raises:
        ColumnError: A column is no part of a case. A row that cannot be judged costs no other: it has its problem.
    """
    rows = [_row(body) for body in bodies(batch, keep)]
    answers = pa.RecordBatch.from_pylist(rows, ANSWERS)
    return pa.RecordBatch.from_arrays(
        [*(batch.column(name) for name in keep), *answers.columns],
        schema=pa.schema([*(batch.schema.field(name) for name in keep), *ANSWERS]),
    )


def check_each(batches: Iterable[pa.RecordBatch], *, keep: Sequence[str] = ()) -> Iterator[pa.RecordBatch]:
    """Yield the answers to each record batch of a stream, as `check` gives them: what `mapInArrow` of Spark calls."""
    for batch in batches:
        yield check(batch, keep=keep)


def _row(body: bytes | NotFiniteNumberError) -> dict[str, Any]:
    """Return the answer to one case, or the problem with it, by the names of `ANSWERS`."""
    try:
        case = _case(body)
        answer = check_repairability(case)
    except Exception as error:
        refused = problem(_refusal(error), "")
        return {"status": "failed", "problem": _encode(refused).decode()}
    return {"reference": case.reference, "status": "ok", "answer": _encode(answer).decode()} | _parts(answer)


def _parts(answer: Repairability) -> dict[str, Any]:
    broken = [one.rule for one in answer.findings if one.outcome == "broken"]
    return {
        "verdict": answer.verdict,
        "possible_verdicts": answer.possible_verdicts,
        "next_step": answer.next_step,
        "decided_by": [*dict.fromkeys(broken)],
        "ask_first": answer.to_establish[0].field if answer.to_establish else None,
        "rulebook": f"{answer.rulebook.id}@{answer.rulebook.edition}",
        "assessed_on": answer.assessed_on,
    }


def _case(body: bytes | NotFiniteNumberError) -> Case:
    if isinstance(body, NotFiniteNumberError):
        fault = FaultAt(pointer=body.pointer, detail=str(body))
        raise Refusal(CONTRACT_BROKEN, "the row is not what a case may be", (fault,))
    if len(body) > CASE_BYTES_MAX:
        raise Refusal(BODY_TOO_LARGE, f"the row has more than the {CASE_BYTES_MAX} bytes that a case may have")
    case: Case = decode(body, Case, "the row")
    return case


def _refusal(error: Exception) -> Refusal:
    if isinstance(error, Refusal):
        return error
    if isinstance(error, CaseError):
        return refusal_of(error)
    _log.error("a row failed", exc_info=error)
    return FAILURE
