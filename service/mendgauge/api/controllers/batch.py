"""Many cases in one request: each is read, judged and answered by itself, as its own operation would.

The items stay raw until their turn: what is wrong with one is reported of that one, by its place, and costs no other.
"""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Iterable, Iterator
from typing import Annotated, TypeVar

import msgspec
import structlog
from msgspec import Meta

from mendgauge.answers.base import open_words
from mendgauge.api.body import decode
from mendgauge.api.problems import (
    FAILURE,
    TOO_MANY_ITEMS,
    Problem,
    Refusal,
    problem,
    refusal_below,
    refusal_of,
)
from mendgauge.api.schemas import ref
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.core.vocabulary import RequestModel

ITEMS_MAX = 1000
"""More items than this are refused, so that a batch is answered in a few seconds."""

IN_ONE_GO = 16
"""So many items are answered before other requests get their turn."""

OK = Meta(description="How many items have their answer.", examples=[1])
FAILED = Meta(description="How many items have a problem instead.", examples=[0])

_log = structlog.get_logger()

Outcome = TypeVar("Outcome")
Batch = TypeVar("Batch")


class CaseBatch(RequestModel, frozen=True, kw_only=True):
    """Cases to be answered one by one."""

    items: Annotated[
        tuple[Annotated[msgspec.Raw, Meta(extra_json_schema=ref(Case))], ...],
        Meta(
            description="The cases. Each is judged as if it had been sent alone.",
            extra_json_schema={"maxItems": ITEMS_MAX},
        ),
    ]


class ItemOutcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of one item: its answer, or the problem that it would have been refused with."""

    status: Annotated[
        str,
        Meta(
            description="`ok`: it has its answer; `failed`: it has a problem instead.",
            examples=["ok"],
            extra_json_schema=open_words("ok", "failed"),
        ),
    ]
    reference: Annotated[
        str | None, Meta(description="The caller's own name for the case, if it had one that could be read.")
    ]
    problem: Annotated[
        Problem | None,
        Meta(
            description="Why it failed; its pointers are into the whole request: `/items/731/tyre/marking`. Else null."
        ),
    ]


def outcomes(
    batch: CaseBatch, answer: Callable[[Case], object], outcome: Callable[..., Outcome], request_id: str
) -> Iterator[Outcome]:
    """Yield the outcome of every item, in the order of the items.

    Raises:
        Refusal: 413 when there are more items than are taken at a time.
    """
    if len(batch.items) > ITEMS_MAX:
        raise Refusal(
            TOO_MANY_ITEMS,
            f"there are {len(batch.items)} items, and at most {ITEMS_MAX} are taken at a time; send the rest in a "
            "further request",
        )
    for index, item in enumerate(batch.items):
        try:
            case: Case = decode(item, Case, "the item")
            yield outcome(status="ok", reference=case.reference, answer=answer(case), problem=None)
        except Exception as error:  # whatever one item comes to, the others have their answers
            refused = problem(_refusal(error, f"/items/{index}"), request_id)
            yield outcome(status="failed", reference=_reference(item), answer=None, problem=refused)


async def in_turns(each: Iterable[Outcome]) -> tuple[Outcome, ...]:
    """Return all outcomes, while other requests get their turn now and then."""
    found = []
    for outcome in each:
        found.append(outcome)
        if len(found) % IN_ONE_GO == 0:
            await asyncio.sleep(0)
    return tuple(found)


def counted(batch: Callable[..., Batch], found: Iterable[ItemOutcome]) -> Batch:
    """Return the batch of some outcomes, with the number of each kind."""
    items = tuple(found)
    failed = sum(one.problem is not None for one in items)
    return batch(ok=len(items) - failed, failed=failed, items=items)


def _refusal(error: Exception, place: str) -> Refusal:
    if isinstance(error, Refusal):
        return refusal_below(place, error)
    if isinstance(error, CaseError):
        return refusal_of(error.below(place))
    _log.error("item failed", exc_info=error, place=place)
    return FAILURE


def _reference(item: msgspec.Raw) -> str | None:
    """Return the reference of an item that cannot be read as a case, if there is one."""
    try:
        given = msgspec.json.decode(item)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None
    reference = given.get("reference") if isinstance(given, dict) else None
    return reference if isinstance(reference, str) else None
