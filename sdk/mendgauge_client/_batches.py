"""Any number of cases, asked about by the chunk: the order kept, few chunks under way, answers read one by one.

Generators decide what to send next; the two clients differ only in how they send and wait.
"""

from __future__ import annotations

from collections import deque
from collections.abc import AsyncIterable, AsyncIterator, Callable, Generator, Iterable, Iterator, Sized
from typing import Any, Generic, TypeAlias, TypeVar

import msgspec

from mendgauge_client._body import encode
from mendgauge_client._call import Call, Reply
from mendgauge_client._decoders import new_decoder
from mendgauge_client._detail import in_detail
from mendgauge_client._rows import whole
from mendgauge_client._transport import AsyncTransport, SyncTransport
from mendgauge_client.errors import BodyTooLargeError, NotFiniteError, UnreadableAnswerError
from mendgauge_client.models import BatchTables, Detail, FaultAt, Problem, Repairability, TyreCase

MOST_CASES = 1000
"""The service takes no more in one request."""
MOST_BYTES = 2_000_000
"""Under the size of request that a service takes unless it is set up otherwise."""
CHUNK = 200
"""Few enough for the answers of several chunks to fit in memory, whole repair plans included."""
CONCURRENCY = 2

A = TypeVar("A")


class CaseResult(msgspec.Struct, Generic[A], frozen=True, kw_only=True):
    """What became of one case of many. It has either an answer or a problem.

    Attributes:
        number: Place of the case among all cases, counted from 0.
        case: The case as it was given.
        answer: The answer; None where the service has a problem with the case.
        problem: The problem; None where there is an answer. Its pointers are into the case: `/tyre/marking`.
    """

    number: int
    case: TyreCase
    answer: A | None
    problem: Problem | None


class Progress(msgspec.Struct, frozen=True, kw_only=True):
    """How far the cases have come.

    Attributes:
        done: Cases that have their result.
        failed: Those of them that have a problem.
        total: All cases; None where that cannot be known beforehand.
    """

    done: int
    failed: int
    total: int | None


class BatchOptions(msgspec.Struct, Generic[A], frozen=True, kw_only=True):
    """How many cases are asked about.

    Attributes:
        path: The path of the batch operation.
        answer: What an item of its answer holds.
        chunk: The most cases to send at a time.
        concurrency: The most chunks under way at a time.
        progress: Called after each chunk with how far the cases have come.
        detail: How much each answer says; as its case has it when None.
        timeout: Seconds each try may take.
    """

    path: str
    answer: type[A]
    chunk: int
    concurrency: int
    progress: Callable[[Progress], object] | None
    detail: Detail | None
    timeout: float | None

    def check(self) -> None:
        """Refuse settings that cannot be kept.

        Raises:
            ValueError: A number is out of bounds.
        """
        if not 1 <= self.chunk <= MOST_CASES:
            raise ValueError(f"chunk={self.chunk}: from 1 to {MOST_CASES} cases can be sent at a time")
        if self.concurrency < 1:
            raise ValueError(f"concurrency={self.concurrency}: at least 1 chunk must be under way")


class RawItems(msgspec.Struct):
    """The answer to a batch, its items unread: decoded all at once they would take ten times the room."""

    items: list[msgspec.Raw]
    tables: BatchTables | None = None


class Chunk(msgspec.Struct, frozen=True):
    """Cases that go out together.

    Attributes:
        first: Number of the first of them.
        cases: The cases.
        written: Each as it is sent.
    """

    first: int
    cases: list[TyreCase]
    written: list[msgspec.Raw]

    def halves(self) -> tuple[Chunk, Chunk]:
        """Return the chunk as two."""
        half = len(self.cases) // 2
        return (
            Chunk(self.first, self.cases[:half], self.written[:half]),
            Chunk(self.first + half, self.cases[half:], self.written[half:]),
        )


Answered: TypeAlias = "tuple[Chunk, Reply[RawItems] | Problem]"
Sending: TypeAlias = "Generator[Call[RawItems], Reply[RawItems], list[Answered]]"


class Chunker:
    """Gathers cases into chunks."""

    def __init__(self, chunk: int, detail: Detail | None) -> None:
        self._most = chunk
        self._detail = detail
        self._numbered = 0
        self._start()

    def _start(self) -> None:
        self._cases: list[TyreCase] = []
        self._written: list[msgspec.Raw] = []
        self._bytes = 0

    def add(self, case: TyreCase) -> Chunk | None:
        """Take in one more case; return the chunk it no longer goes into, or that it makes full.

        Raises:
            NotFiniteError: A number in the case is not finite.
        """
        written = msgspec.Raw(encode(in_detail(case, self._detail)))
        size = len(memoryview(written)) + 1
        full = self.rest() if self._cases and self._bytes + size > MOST_BYTES else None
        self._cases.append(case)
        self._written.append(written)
        self._bytes += size
        if full is None and len(self._cases) == self._most:
            full = self.rest()
        return full

    def rest(self) -> Chunk | None:
        """Return what has been gathered, if anything."""
        if not self._cases:
            return None
        chunk = Chunk(self._numbered, self._cases, self._written)
        self._numbered += len(self._cases)
        self._start()
        return chunk


def sending(path: str, chunk: Chunk) -> Sending:
    """Yield what to send for a chunk: one request, or the halves of it where the service finds that too large."""
    body = {"items": chunk.written}
    try:
        reply = yield Call(method="POST", path=path, answer=RawItems, body=body)
    except BodyTooLargeError as error:
        if len(chunk.cases) == 1:
            if error.problem is None:
                raise
            return [(chunk, error.problem)]
        first, second = chunk.halves()
        return (yield from sending(path, first)) + (yield from sending(path, second))
    return [(chunk, reply)]


class Reader(Generic[A]):
    """Reads the items of answers one by one, and reports how far they have come."""

    def __init__(self, options: BatchOptions[A], cases: object) -> None:
        outcome = msgspec.defstruct(
            "Outcome", [("answer", options.answer | None), ("problem", Problem | None), ("reference", str | None, None)]
        )
        self._decoder: msgspec.json.Decoder[Any] = new_decoder(outcome)
        self._total = len(cases) if isinstance(cases, Sized) else None
        self._progress = options.progress
        self._done = self._failed = 0

    def results(self, answered: list[Answered]) -> Iterator[CaseResult[A]]:
        """Yield the result of each case of a chunk."""
        for chunk, came in answered:
            if isinstance(came, Problem):
                outcomes: Iterable[tuple[A | None, Problem | None]] = [(None, came)]
            else:
                outcomes = self._outcomes(chunk, came)
            for place, (case, (answer, problem)) in enumerate(zip(chunk.cases, outcomes, strict=True)):
                self._done += 1
                self._failed += problem is not None
                found = problem and _within_case(problem, place)
                yield CaseResult(number=chunk.first + place, case=case, answer=answer, problem=found)
        if self._progress:
            self._progress(Progress(done=self._done, failed=self._failed, total=self._total))

    def _outcomes(self, chunk: Chunk, reply: Reply[RawItems]) -> Iterator[tuple[A | None, Problem | None]]:
        items = reply.answer.items
        if len(items) != len(chunk.cases):
            raise self._unreadable(reply, f"{len(chunk.cases)} cases were sent, and {len(items)} came back")
        for item in items:
            try:
                outcome = self._decoder.decode(item)
            except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
                raise self._unreadable(reply, str(error)) from error
            if (outcome.answer is None) is (outcome.problem is None):
                raise self._unreadable(reply, "an item has not either an answer or a problem")
            found = outcome.answer
            if isinstance(found, Repairability):
                found = whole(found, reply.answer.tables or BatchTables(), outcome.reference, reply)
            yield found, outcome.problem

    def _unreadable(self, reply: Reply[RawItems], why: str) -> UnreadableAnswerError:
        return UnreadableAnswerError(
            f"Check that {reply.response.request.url} belongs to a Mendgauge service this client was made for: {why}",
            reply.request_id,
            reply.response,
        )


def _within_case(problem: Problem, place: int) -> Problem:
    """Return the problem with its pointers into the case, instead of into the request that the caller never saw."""
    root = f"/items/{place}"

    def within(pointer: str | None) -> str | None:
        return pointer[len(root) :] if pointer is not None and f"{pointer}/".startswith(f"{root}/") else pointer

    errors = [
        FaultAt(detail=fault.detail, parameter=fault.parameter, pointer=within(fault.pointer))
        for fault in problem.errors
    ]
    detail = problem.detail.replace(f"{root}/", "/").replace(f"{root}:", "the case:")
    return msgspec.structs.replace(problem, errors=errors, detail=detail)


class SyncBatches(SyncTransport):
    """Asks about any number of cases, by the chunk."""

    def _each(self, cases: Iterable[TyreCase], options: BatchOptions[A]) -> Iterator[CaseResult[A]]:
        options.check()
        return self._stream(cases, options)

    def _stream(self, cases: Iterable[TyreCase], options: BatchOptions[A]) -> Iterator[CaseResult[A]]:
        from concurrent.futures import Future, ThreadPoolExecutor

        chunker, reader = Chunker(options.chunk, options.detail), Reader(options, cases)
        pool = ThreadPoolExecutor(options.concurrency, thread_name_prefix="mendgauge")
        under_way: deque[Future[list[Answered]]] = deque()
        refused: NotFiniteError | None = None
        try:
            for case in cases:
                try:
                    chunk = chunker.add(case)
                except NotFiniteError as error:
                    refused = error  # those before it are answered first
                    break
                if chunk is not None:
                    under_way.append(pool.submit(self._send_chunk, chunk, options))
                    if len(under_way) == options.concurrency:
                        yield from reader.results(under_way.popleft().result())
            if (chunk := chunker.rest()) is not None:
                under_way.append(pool.submit(self._send_chunk, chunk, options))
            while under_way:
                yield from reader.results(under_way.popleft().result())
            if refused is not None:
                raise refused
        finally:
            pool.shutdown(cancel_futures=True)

    def _send_chunk(self, chunk: Chunk, options: BatchOptions[A]) -> list[Answered]:
        steps = sending(options.path, chunk)
        try:
            call = next(steps)
            while True:
                try:
                    reply = self.send(call, options.timeout)
                except BodyTooLargeError as error:
                    call = steps.throw(error)
                else:
                    call = steps.send(reply)
        except StopIteration as end:
            answered: list[Answered] = end.value
            return answered


class AsyncBatches(AsyncTransport):
    """Asks about any number of cases, by the chunk, under asyncio."""

    def _each(
        self, cases: Iterable[TyreCase] | AsyncIterable[TyreCase], options: BatchOptions[A]
    ) -> AsyncIterator[CaseResult[A]]:
        options.check()
        return self._stream(cases, options)

    async def _stream(
        self, cases: Iterable[TyreCase] | AsyncIterable[TyreCase], options: BatchOptions[A]
    ) -> AsyncIterator[CaseResult[A]]:
        import asyncio

        chunker, reader = Chunker(options.chunk, options.detail), Reader(options, cases)
        under_way: deque[asyncio.Task[list[Answered]]] = deque()
        refused: NotFiniteError | None = None
        try:
            async for case in cases if isinstance(cases, AsyncIterable) else _one_by_one(cases):
                try:
                    chunk = chunker.add(case)
                except NotFiniteError as error:
                    refused = error  # those before it are answered first
                    break
                if chunk is not None:
                    under_way.append(asyncio.create_task(self._send_chunk(chunk, options)))
                    if len(under_way) == options.concurrency:
                        for result in reader.results(await under_way.popleft()):
                            yield result
            if (chunk := chunker.rest()) is not None:
                under_way.append(asyncio.create_task(self._send_chunk(chunk, options)))
            while under_way:
                for result in reader.results(await under_way.popleft()):
                    yield result
            if refused is not None:
                raise refused
        finally:
            for task in under_way:
                task.cancel()
            await asyncio.gather(*under_way, return_exceptions=True)

    async def _send_chunk(self, chunk: Chunk, options: BatchOptions[A]) -> list[Answered]:
        steps = sending(options.path, chunk)
        try:
            call = next(steps)
            while True:
                try:
                    reply = await self.send(call, options.timeout)
                except BodyTooLargeError as error:
                    call = steps.throw(error)
                else:
                    call = steps.send(reply)
        except StopIteration as end:
            answered: list[Answered] = end.value
            return answered


async def _one_by_one(cases: Iterable[TyreCase]) -> AsyncIterator[TyreCase]:
    for case in cases:
        yield case
