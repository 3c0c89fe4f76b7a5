"""Many cases in one request: each is read, judged and answered by itself, as its own operation would.

The items stay raw until their turn, and what is wrong with one is said of that one, by its place, and costs no other.
Outcomes are encoded as they are made and sent while the next are worked out, so a batch never holds its whole answer;
between two of them other requests get their turn.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterable
from time import perf_counter
from typing import Annotated, Any, Generic, NamedTuple, Self, TypeAlias, TypeVar

import msgspec
import structlog
from litestar import Request, Response
from litestar.response import Stream
from msgspec import UNSET, Meta, Raw

from mendgauge.answers.base import open_words
from mendgauge.api.body import CASE_BYTES_MAX, decode, size_of
from mendgauge.api.long_cases import beside_the_loop, is_long
from mendgauge.api.metrics import Tally
from mendgauge.api.problems import (
    BODY_TOO_LARGE,
    CONTRACT_BROKEN,
    FAILURE,
    TOO_MANY_ITEMS,
    FaultAt,
    Problem,
    Refusal,
    problem,
    refusal_below,
    refusal_of,
)
from mendgauge.api.schemas import ref
from mendgauge.api.under_way import TURN_SECONDS
from mendgauge.case.case import REFERENCE_MAX, Case
from mendgauge.core.errors import CaseError
from mendgauge.core.vocabulary import RequestModel

ITEMS_MAX = 1000
"""More items than this are refused, so that a batch is answered in a few seconds."""

PART_BYTES = 32_768
"""Bytes of outcomes that are sent together, where they are made within one turn."""

OK = Meta(description="How many items have their answer.", examples=[1])
FAILED = Meta(description="How many items have a problem instead.", examples=[0])

_log = structlog.get_logger()
_encode = msgspec.json.Encoder().encode

_Items: Any = msgspec.defstruct(
    "_Items", [(f"item_{index}", Raw, UNSET) for index in range(ITEMS_MAX)], array_like=True, forbid_unknown_fields=True
)
"""A list of so many raw items at most: msgspec stops at the first too many, where it would read all of a tuple."""


class CaseBatch(RequestModel, frozen=True, kw_only=True):
    """Cases to be answered one by one."""

    items: Annotated[
        Raw,
        Meta(
            description="The cases. Each is judged as if it had been sent alone.",
            extra_json_schema={"type": "array", "items": ref(Case), "maxItems": ITEMS_MAX},
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


Outcome = TypeVar("Outcome", bound=ItemOutcome)
Batch = TypeVar("Batch")
Row: TypeAlias = Callable[[Any], object]
"""What of a brief answer stands in its row."""


def _whole(answer: object) -> object:
    return answer


class Outcomes(Generic[Outcome]):
    """The outcome of every item, in the order of the items, each worked out when it is asked for.

    Of a brief answer its `row` stands there, which is all of it unless the batch has tables for the rest.
    """

    def __init__(
        self,
        items: Iterable[Raw],
        answer: Callable[[Case], object],
        outcome: Callable[..., Outcome],
        request_id: str,
        row: Row,
    ) -> None:
        self._rest = enumerate(items)
        self._answer, self._outcome, self._request_id, self._row = answer, outcome, request_id, row
        self._read: _Read | None = None
        self.tally = Tally()

    def __iter__(self) -> Self:
        return self

    def __next__(self) -> Outcome:
        read, self._read = self._read or self._read_next(), None
        if read is None:
            raise StopIteration
        try:
            if isinstance(read.case, Exception):
                raise read.case
            found = self._answer(read.case)
            self.tally.add(found)
            shown = found if read.case.detail == "full" else self._row(found)
            return self._outcome(status="ok", reference=read.case.reference, answer=shown, problem=None)
        except Exception as error:  # whatever it comes to, the others have their answers
            refused = problem(_refusal(error, f"/items/{read.place}"), self._request_id)
            return self._outcome(status="failed", reference=_reference(read.item), answer=None, problem=refused)

    def long_next(self) -> bool:
        """Return whether there is an item whose outcome comes next and may hold others up."""
        self._read = self._read or self._read_next()
        return self._read is not None and isinstance(self._read.case, Case) and is_long(self._read.case)

    def _read_next(self) -> _Read | None:
        place, item = next(self._rest, (0, None))
        if item is None:
            return None
        try:
            if size_of(item) > CASE_BYTES_MAX:
                raise Refusal(BODY_TOO_LARGE, f"the item has more than the {CASE_BYTES_MAX} bytes that a case may have")
            return _Read(place, item, decode(item, Case, "the item"))
        except Exception as error:
            return _Read(place, item, error)


class _Read(NamedTuple):
    """An item, and the case that it is or why it is none."""

    place: int
    item: Raw
    case: Case | Exception


def outcomes(
    batch: CaseBatch,
    answer: Callable[[Case], object],
    outcome: Callable[..., Outcome],
    request_id: str,
    row: Row = _whole,
) -> Outcomes[Outcome]:
    """Return the outcome of every item.

    Raises:
        Refusal: 413 when there are more items than are taken at a time, 422 when there is no list of them.
    """
    return Outcomes(_split(batch.items), answer, outcome, request_id, row)


def _no_tables() -> None:
    return None


def streamed(
    each: Outcomes[Outcome], request: Request[Any, Any, Any], tables: Callable[[], object | None] = _no_tables
) -> Response[Any]:
    """Return the answer to a batch, sent as it is made; behind its rows the `tables` that they refer to, if any."""
    return Stream(_parts(each, request.scope["state"]["turn"], tables), media_type="application/json")


async def _parts(
    each: Outcomes[Outcome], turn: asyncio.Lock, tables: Callable[[], object | None]
) -> AsyncIterator[bytes]:
    """Yield the answer's JSON in parts. One batch at a time has its turn: others wait for one turn, not for many.

    A long item is worked out beside the loop, for which a batch needs no turn.
    """
    part, ok, failed, going = bytearray(b'{"items":['), 0, 0, True

    def add(outcome: Outcome) -> None:
        nonlocal part, ok, failed
        if ok + failed:
            part += b","
        part += _encode(outcome)
        ok, failed = ok + (outcome.problem is None), failed + (outcome.problem is not None)

    while going:
        async with turn:
            until = perf_counter() + TURN_SECONDS
            going = False
            while not (going := each.long_next()) and (outcome := next(each, None)) is not None:
                add(outcome)
                if len(part) >= PART_BYTES or perf_counter() >= until:
                    going = True
                    break
            await asyncio.sleep(0)  # within the turn, so that no other batch has its own before the rest had theirs
        if each.long_next():
            add(await beside_the_loop(next, each))
        each.tally.count()  # before a part is sent: its caller may be gone by then
        if going:
            yield bytes(part)
            part.clear()
    said = tables()
    part += b'],"ok":%d,"failed":%d' % (ok, failed)
    yield bytes(part) + (b"}" if said is None else b',"tables":%b}' % _encode(said))


def counted(batch: Callable[..., Batch], found: Iterable[ItemOutcome]) -> Batch:
    """Return the batch of some outcomes, with the number of each kind."""
    items = tuple(found)
    failed = sum(one.problem is not None for one in items)
    return batch(ok=len(items) - failed, failed=failed, items=items)


def _split(items: Raw) -> list[Raw]:
    try:
        return [item for item in msgspec.structs.astuple(msgspec.json.decode(items, type=_Items)) if item is not UNSET]
    except msgspec.ValidationError as error:
        if bytes(memoryview(items)[:1]) == b"[":
            raise Refusal(
                TOO_MANY_ITEMS,
                f"there are more than the {ITEMS_MAX:,} items that are taken at a time; send the rest in a "
                "further request",
            ) from error
        fault = FaultAt(pointer="/items", detail=f"expected a list of at most {ITEMS_MAX:,} cases")
        raise Refusal(CONTRACT_BROKEN, "the body is JSON, but not what this operation takes", (fault,)) from error


def _refusal(error: Exception, place: str) -> Refusal:
    if isinstance(error, Refusal):
        return refusal_below(place, error)
    if isinstance(error, CaseError):
        return refusal_of(error.below(place))
    _log.error("item failed", exc_info=error, place=place)
    return FAILURE


class _Named(msgspec.Struct):
    """An item of which nothing but its reference is read."""

    reference: Annotated[str, Meta(max_length=REFERENCE_MAX)] | None = None


def _reference(item: Raw) -> str | None:
    """Return the reference of an item that cannot be read as a case, if it has one that could be a case's."""
    try:
        return msgspec.json.decode(item, type=_Named).reference
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None
