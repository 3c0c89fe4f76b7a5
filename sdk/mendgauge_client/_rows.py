"""Rows of a batch made whole: what many brief answers say alike is sent once, in tables behind them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeVar

from msgspec.structs import replace

from mendgauge_client._call import Reply
from mendgauge_client.errors import UnreadableAnswerError
from mendgauge_client.models import (
    BatchTables,
    Finding,
    InTables,
    Repairability,
    RepairabilityBatch,
    RulebookUsed,
)

Said = TypeVar("Said")


def whole_rows(reply: Reply[RepairabilityBatch]) -> RepairabilityBatch:
    """Return a batch whose answers stand whole in their rows, as each would be given alone.

    Raises:
        UnreadableAnswerError: A row refers to what the tables do not hold.
    """
    batch = reply.answer
    tables = batch.tables
    if tables is None:
        return batch
    items = [
        item if item.answer is None else replace(item, answer=whole(item.answer, tables, item.reference, reply))
        for item in batch.items
    ]
    return replace(batch, items=items, tables=None)


def whole(row: Repairability, tables: BatchTables, reference: str | None, reply: Reply[Any]) -> Repairability:
    """Return the answer that a row of a reply stands for; one that refers to no tables is whole already.

    Raises:
        UnreadableAnswerError: The row refers to what the tables do not hold.
    """
    if row.in_tables is None:
        return row
    try:
        return _whole(row, row.in_tables, tables, reference)
    except (LookupError, ValueError, StopIteration) as error:
        raise UnreadableAnswerError(
            f"A row of {reply.response.request.url} refers to what the tables of its batch do not hold",
            reply.request_id,
            reply.response,
        ) from error


def _whole(row: Repairability, places: InTables, tables: BatchTables, reference: str | None) -> Repairability:
    findings = _findings(row.findings, places, tables)
    keys = dict.fromkeys(found.cites for found in findings if found.cites is not None)
    return replace(
        row,
        reference=reference,
        rulebook=_rulebook(row.rulebook, tables.rulebooks),
        findings=findings,
        until_then=row.until_then if places.until_then is None else _entry(tables.until_then, places.until_then),
        to_establish=[*(_entry(tables.to_establish, place) for place in places.to_establish), *row.to_establish],
        cautions=[*(_entry(tables.cautions, place) for place in places.cautions), *row.cautions],
        sources={key: tables.sources[key] for key in keys if key in tables.sources},
        in_tables=None,
    )


def _findings(in_row: Sequence[Finding], places: InTables, tables: BatchTables) -> list[Finding]:
    advice = places.advice or [None] * len(in_row)
    measured = iter(
        [
            found if place is None else replace(found, advice=_entry(tables.advice, place))
            for found, place in zip(in_row, advice, strict=True)
        ]
    )
    order = places.findings or [None] * len(in_row)
    return [next(measured) if place is None else _entry(tables.findings, place) for place in order]


def _rulebook(used: RulebookUsed, known: Sequence[RulebookUsed]) -> RulebookUsed:
    return next(one for one in known if (one.id, one.edition) == (used.id, used.edition))


def _entry(table: Sequence[Said], place: int) -> Said:
    """Return the entry at a place counted from 0, never one counted from the end."""
    if place < 0:
        raise IndexError(place)
    return table[place]
