"""The clients, sync and async. Made by sdk/generate.py from openapi/openapi.json: change those, not this."""

from __future__ import annotations

from collections.abc import AsyncIterable, AsyncIterator, Callable, Iterable, Iterator, Mapping
from datetime import date
from functools import cached_property
from typing import Literal

from mendgauge_client._batches import CHUNK, CONCURRENCY, AsyncBatches, BatchOptions, CaseResult, Progress, SyncBatches
from mendgauge_client._call import Call, Media, Reply, segment
from mendgauge_client._detail import in_detail
from mendgauge_client._rows import whole_rows
from mendgauge_client._transport import AsyncTransport, SyncTransport
from mendgauge_client.models import (
    CaseBatch,
    Detail,
    GenericUnits,
    Live,
    ProblemType,
    Quote,
    Ready,
    Repairability,
    RepairabilityBatch,
    RepairPlan,
    RepairPlanBatch,
    RepairUnits,
    Rulebook,
    RulebookList,
    ServiceLimits,
    StemTrims,
    TyreCase,
    TyreMarking,
    WorkPlan,
)


class Mendgauge(SyncBatches):
    """The service. May be shared between threads. Close it when done, or use it in `with`."""

    @cached_property
    def raw(self) -> RawMendgauge:
        """The same methods, each giving its answer together with the HTTP response it came in."""
        return RawMendgauge(self)

    def check_repairability(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Repairability:
        """May this tyre be repaired?

        Judges a case by a rulebook: a verdict that holds for every completion of what is unknown, the rules that
        decide it with their sources, what to establish, in the order in which it can be asked, and what to do now.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Repairability: Whether the tyre may be repaired under the rulebook, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.check_repairability(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def check_repairability_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairabilityBatch:
        """Which of these tyres may be repaired?

        Judges up to 1,000 cases, each as `check_repairability` judges it alone. An item that is at fault has its own
        problem, with pointers into the request, and costs the others nothing; the answer is 200 all the same. What
        many brief answers say alike stands once, in `tables` behind them; a full answer stands whole in its place.

        Args:
            case_batch: Cases to be answered one by one.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairabilityBatch: The outcome of every case of a batch, in the order of the cases.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.check_repairability_in_batch(
            case_batch, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return whole_rows(reply)

    def check_repairability_of_each(
        self,
        cases: Iterable[TyreCase],
        *,
        chunk: int = CHUNK,
        concurrency: int = CONCURRENCY,
        progress: Callable[[Progress], object] | None = None,
        detail: Detail | None = None,
        timeout: float | None = None,
    ) -> Iterator[CaseResult[Repairability]]:
        """Which of these tyres may be repaired?

        As `check_repairability_in_batch`, for any number of cases: they go out by the chunk, and their results come
        in the order of the cases, a few chunks at a time in memory. Each chunk is tried again like any call. Where
        one brings no answer, the results before it have been given, and the error ends them.

        Args:
            cases: The cases, from whatever yields them.
            chunk: The most cases to send at a time, up to 1,000; less where they are large.
            concurrency: The most chunks to have under way at a time.
            progress: Called after each chunk with how far the cases have come.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.

        Yields:
            CaseResult: For each case its answer, or what the service finds wrong with it.

        Raises:
            ValueError: `chunk` or `concurrency` is out of bounds.
            NotFiniteError: A number in a case is NaN or infinite; the cases before it have been answered.
            CallError: A chunk brought no answer; `mendgauge_client.errors` has the tree.
        """
        options = BatchOptions(
            path="/v1/repairability/batch",
            answer=Repairability,
            chunk=chunk,
            concurrency=concurrency,
            progress=progress,
            detail=detail,
            timeout=timeout,
        )
        return self._each(cases, options)

    def choose_repair_units(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairUnits:
        """How is each injury prepared, and with which unit is it repaired?

        Per injury: cutter and preparation, what a unit must be, and the smallest one that does, cheapest on a tie,
        chosen from `stock` or from generic sizes; why each other unit was passed over. Patches of several injuries
        stay clear of each other. Nothing is chosen for a tyre that may not be repaired.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairUnits: How each injury is prepared, which repair unit it asks for, and which was chosen.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.choose_repair_units(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def trim_stems(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> StemTrims:
        """Where is each stem cut?

        Per injury: where the stem is cut outside, in a groove or on a lug, and inside where stem and patch are two
        pieces; never farther proud than there is tread left. The chosen unit's own instruction comes first.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            StemTrims: Where the stem of each repair is cut, outside and, of two pieces, inside.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.trim_stems(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def find_service_limits(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> ServiceLimits:
        """What may this tyre do after its repair?

        Return how fast the tyre may go after its repair and the source of that, whether it carries the axle's load
        and may run in its position, what to print for counter, driver and job file, and what to look at again.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            ServiceLimits: What the tyre may do after its repair, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.find_service_limits(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def plan_work(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> WorkPlan:
        """What work does it take, step by step?

        The whole job from finding the leak to checking the wheel nuts again, as far as the verdict lets it go: what
        to do, the figures to work to with their sources, where to stop, cautions, minutes, what it uses up. What
        hangs on a fact that is missing says so and asks for it. The shop's own times and quantities take the trade's
        place.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            WorkPlan: The work on one tyre, from finding the leak to checking the wheel nuts again.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.plan_work(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def quote_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Quote:
        """What does the job cost, and does a repair pay against a new tyre?

        Prices the work, the units and the consumables of a case by its `price_book`, line by line with taxes, and
        what preparation could still change. A tyre that may not be repaired is priced as a replacement or an
        inspection, never as a repair. With `replacement`, a repair is held against a new tyre. What has no price is
        an error that names it.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Quote: What the job costs by the caller's price book, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.quote_repair(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def plan_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairPlan:
        """What is there to know of this tyre, from the verdict to the price?

        Verdict, units, trim, service limits, work plan and, with a `price_book`, quote of one case in one answer.
        Each part of a full plan is what its own operation answers, to the byte; a brief one says nothing twice. A
        part that does not apply is null, and `absent` says why.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairPlan: All that is said of one tyre. Each part is what its own operation answers to the same case; a
                brief plan says everything once, and leaves what a bench works by to `choose_repair_units` and
                `plan_work`.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.plan_repair(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def plan_repairs_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairPlanBatch:
        """What is there to know of each of these tyres?

        Plans up to 1,000 cases, each as `plan_repair` plans it alone. An item that is at fault has its own problem,
        with pointers into the request, and costs the others nothing; the answer is 200 all the same.

        Args:
            case_batch: Cases to be answered one by one.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairPlanBatch: The outcome of every case of a batch, in the order of the cases.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.plan_repairs_in_batch(
            case_batch, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def plan_repairs_of_each(
        self,
        cases: Iterable[TyreCase],
        *,
        chunk: int = CHUNK,
        concurrency: int = CONCURRENCY,
        progress: Callable[[Progress], object] | None = None,
        detail: Detail | None = None,
        timeout: float | None = None,
    ) -> Iterator[CaseResult[RepairPlan]]:
        """What is there to know of each of these tyres?

        As `plan_repairs_in_batch`, for any number of cases: they go out by the chunk, and their results come in the
        order of the cases, a few chunks at a time in memory. Each chunk is tried again like any call. Where one
        brings no answer, the results before it have been given, and the error ends them.

        Args:
            cases: The cases, from whatever yields them.
            chunk: The most cases to send at a time, up to 1,000; less where they are large.
            concurrency: The most chunks to have under way at a time.
            progress: Called after each chunk with how far the cases have come.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.

        Yields:
            CaseResult: For each case its answer, or what the service finds wrong with it.

        Raises:
            ValueError: `chunk` or `concurrency` is out of bounds.
            NotFiniteError: A number in a case is NaN or infinite; the cases before it have been answered.
            CallError: A chunk brought no answer; `mendgauge_client.errors` has the tree.
        """
        options = BatchOptions(
            path="/v1/repair-plans/batch",
            answer=RepairPlan,
            chunk=chunk,
            concurrency=concurrency,
            progress=progress,
            detail=detail,
            timeout=timeout,
        )
        return self._each(cases, options)

    def draw_tyre(
        self,
        case: TyreCase,
        *,
        view: Literal["crown_section", "liner_plan", "sheet"] | None = None,
        media_type: Literal["image/svg+xml", "application/pdf", "image/png"] = "image/svg+xml",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What does it look like, to scale?

        The section through the crown with every channel at its lean, stem and patch, and the liner unrolled with
        band, mouths, patches and earlier repairs. What is a range is hatched where its edge may lie. Rules that are
        broken or open are marked where they are, with the reason. Drawn for every verdict, in black and white; lines
        by ISO 128, dimensions by ISO 129, in millimetres or, under the American rulebook, in inches.

        Args:
            case: A punctured tyre, as far as it is known.
            view: `sheet` has everything; `crown_section` and `liner_plan` are one view alone, without head and
                notes.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The drawing at its true size, with a title and a description in words.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.draw_tyre(
            case, view=view, media_type=media_type, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def print_job_card(
        self,
        case: TyreCase,
        *,
        paper: Literal["a4", "letter"] | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What is printed of this tyre?

        A tyre that may be repaired gets a job card, with its figures and drawings on the front and the steps with
        their hold points on the back, and a slip for the driver to sign. One that may not gets a slip for the
        customer: what was found, which rule, what to do. While that is open there is an intake sheet with the
        questions in order. The same case gives the same bytes.

        Args:
            case: A punctured tyre, as far as it is known.
            paper: The paper it is printed on.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The sheets, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.print_job_card(
            case, paper=paper, media_type=media_type, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def read_tyre_marking(
        self,
        marking: str,
        *,
        date_code: str | None = None,
        assessed_on: date | None = None,
        vehicle_max_speed_kmh: float | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> TyreMarking:
        """What does the sidewall say?

        Read a marking, and a date code if there is one: dimensions, load, speed and age, and what looks odd.

        Args:
            marking: Size and service description as moulded on the sidewall.
            date_code: The date code (week and year), or the whole tyre identification number that ends in it.
            assessed_on: The day on which the age is taken; today (UTC) when left out.
            vehicle_max_speed_kmh: Top speed of the vehicle, km/h: the answer then gives the load at that speed.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            TyreMarking: What the sidewall says and what follows from it; null is what it does not say. Dimensions
                are of the new tyre.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.read_tyre_marking(
            marking,
            date_code=date_code,
            assessed_on=assessed_on,
            vehicle_max_speed_kmh=vehicle_max_speed_kmh,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    def print_gauge(
        self,
        marking: str,
        rulebook: str,
        vehicle_kind: Literal["bus", "car", "motorcycle", "trailer", "truck", "van"],
        *,
        paper: Literal["a4", "letter"] | None = None,
        tread_width_mm: float | None = None,
        assessed_on: date | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What does the rulebook allow on this tyre, at full size on paper?

        A sheet to print at 100 %, cut out and lay on the tread: the repairable band with its edges and centre line,
        an angle fan with the largest lean for one piece, holes and cutters up to the limit, patches, tread depths,
        and two lines to check the print by. A band wider than the paper comes in two halves with register marks.

        Args:
            marking: Size and service description as moulded on the sidewall.
            rulebook: The rulebook that applies, by its id; `gb@2026.1` pins an edition.
            vehicle_kind: What the vehicle is. Decides which limits apply.
            paper: The paper it is printed on.
            tread_width_mm: Width of the tread, edge to edge, mm, where the band hangs on it. Without it the sheet
                has a strip to lay at the edge of the tread.
            assessed_on: The day whose rules hold; today (UTC) when left out.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The gauge, a page or two, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.print_gauge(
            marking,
            rulebook,
            vehicle_kind,
            paper=paper,
            tread_width_mm=tread_width_mm,
            assessed_on=assessed_on,
            media_type=media_type,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    def list_generic_units(
        self,
        rulebook: str,
        *,
        tyre_class: Literal["bus", "car", "motorcycle", "truck", "van"] | None = None,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> GenericUnits:
        """Which codes does a price book need?

        List the generic sizes and the consumables by the codes that `price_book` has prices for.

        Args:
            rulebook: The rulebook of the cases to be priced: `gb`, or `gb@2026.1` for a certain edition.
            tyre_class: The class of tyre. Left out: all. Trailers run on tyres of class `truck` or `van`.
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            GenericUnits: What a till sets prices for before the first quote, by the codes that answers use.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.list_generic_units(
            rulebook,
            tyre_class=tyre_class,
            if_none_match=if_none_match,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    def get_rulebook(
        self,
        rulebook_id: str,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Rulebook:
        """What does a rulebook say?

        Show every limit of a rulebook with its value, unit, source, clause and basis.

        Args:
            rulebook_id: A rulebook's id, for its newest edition; `gb@2026.1` for a certain one.
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Rulebook: One edition of a rulebook, whole, with the workshop practice it stands on.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            NotFoundError: 404, `/problems/not-found`: There is nothing here.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.get_rulebook(
            rulebook_id, if_none_match=if_none_match, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def list_rulebooks(
        self,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RulebookList:
        """Which rulebooks are there?

        List every edition of every rulebook, with the digest that answers name.

        Args:
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RulebookList: Every edition of every rulebook.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.list_rulebooks(
            if_none_match=if_none_match, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def check_live(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Live:
        """Does the process run?

        Answers as soon as the process runs, and looks at nothing. If it does not answer, start the process anew.

        Args:
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Live: The process runs.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.check_live(timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def check_ready(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Ready:
        """May it be sent work?

        503 until the rulebooks are loaded and have passed their self-test, and again once the service is to stop.

        Args:
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Ready: The service takes requests.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.check_ready(timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    def explain_problem(
        self,
        slug: str,
        *,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> ProblemType:
        """What a kind of problem means

        Explain what a kind of problem means and what to do about it: the page behind a problem's `type`. Who prefers
        HTML, as a browser does, is given a page with an example.

        Args:
            slug: The last part of a problem's `type`.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            ProblemType: A kind of problem, and what to do about it.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            NotFoundError: 404, `/problems/not-found`: There is nothing here.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = self.raw.explain_problem(slug, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer


class RawMendgauge:
    """The methods of `Mendgauge`, each giving its answer together with the HTTP response it came in."""

    def __init__(self, client: SyncTransport) -> None:
        self._client = client

    def check_repairability(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Repairability]:
        """As `Mendgauge.check_repairability`."""
        call = Call(method="POST", path="/v1/repairability", answer=Repairability, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def check_repairability_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairabilityBatch]:
        """As `Mendgauge.check_repairability_in_batch`."""
        call = Call(
            method="POST", path="/v1/repairability/batch", answer=RepairabilityBatch, body=in_detail(case_batch, detail)
        )
        return self._client.send(call, timeout, request_id, headers)

    def choose_repair_units(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairUnits]:
        """As `Mendgauge.choose_repair_units`."""
        call = Call(method="POST", path="/v1/repair-units", answer=RepairUnits, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def trim_stems(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[StemTrims]:
        """As `Mendgauge.trim_stems`."""
        call = Call(method="POST", path="/v1/stem-trim", answer=StemTrims, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def find_service_limits(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[ServiceLimits]:
        """As `Mendgauge.find_service_limits`."""
        call = Call(method="POST", path="/v1/service-limits", answer=ServiceLimits, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def plan_work(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[WorkPlan]:
        """As `Mendgauge.plan_work`."""
        call = Call(method="POST", path="/v1/work-plans", answer=WorkPlan, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def quote_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Quote]:
        """As `Mendgauge.quote_repair`."""
        call = Call(method="POST", path="/v1/quotes", answer=Quote, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def plan_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairPlan]:
        """As `Mendgauge.plan_repair`."""
        call = Call(method="POST", path="/v1/repair-plans", answer=RepairPlan, body=in_detail(case, detail))
        return self._client.send(call, timeout, request_id, headers)

    def plan_repairs_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairPlanBatch]:
        """As `Mendgauge.plan_repairs_in_batch`."""
        call = Call(
            method="POST", path="/v1/repair-plans/batch", answer=RepairPlanBatch, body=in_detail(case_batch, detail)
        )
        return self._client.send(call, timeout, request_id, headers)

    def draw_tyre(
        self,
        case: TyreCase,
        *,
        view: Literal["crown_section", "liner_plan", "sheet"] | None = None,
        media_type: Literal["image/svg+xml", "application/pdf", "image/png"] = "image/svg+xml",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `Mendgauge.draw_tyre`."""
        call = Call(
            method="POST",
            path="/v1/drawings",
            answer=Media,
            params={"view": view},
            headers={"Accept": media_type},
            body=case,
        )
        return self._client.send(call, timeout, request_id, headers)

    def print_job_card(
        self,
        case: TyreCase,
        *,
        paper: Literal["a4", "letter"] | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `Mendgauge.print_job_card`."""
        call = Call(
            method="POST",
            path="/v1/job-cards",
            answer=Media,
            params={"paper": paper},
            headers={"Accept": media_type},
            body=case,
        )
        return self._client.send(call, timeout, request_id, headers)

    def read_tyre_marking(
        self,
        marking: str,
        *,
        date_code: str | None = None,
        assessed_on: date | None = None,
        vehicle_max_speed_kmh: float | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[TyreMarking]:
        """As `Mendgauge.read_tyre_marking`."""
        call = Call(
            method="GET",
            path="/v1/tyre-markings",
            answer=TyreMarking,
            params={
                "marking": marking,
                "date_code": date_code,
                "assessed_on": assessed_on,
                "vehicle_max_speed_kmh": vehicle_max_speed_kmh,
            },
        )
        return self._client.send(call, timeout, request_id, headers)

    def print_gauge(
        self,
        marking: str,
        rulebook: str,
        vehicle_kind: Literal["bus", "car", "motorcycle", "trailer", "truck", "van"],
        *,
        paper: Literal["a4", "letter"] | None = None,
        tread_width_mm: float | None = None,
        assessed_on: date | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `Mendgauge.print_gauge`."""
        call = Call(
            method="GET",
            path="/v1/gauges",
            answer=Media,
            params={
                "marking": marking,
                "rulebook": rulebook,
                "vehicle_kind": vehicle_kind,
                "paper": paper,
                "tread_width_mm": tread_width_mm,
                "assessed_on": assessed_on,
            },
            headers={"Accept": media_type},
        )
        return self._client.send(call, timeout, request_id, headers)

    def list_generic_units(
        self,
        rulebook: str,
        *,
        tyre_class: Literal["bus", "car", "motorcycle", "truck", "van"] | None = None,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[GenericUnits]:
        """As `Mendgauge.list_generic_units`."""
        call = Call(
            method="GET",
            path="/v1/generic-units",
            answer=GenericUnits,
            params={"rulebook": rulebook, "tyre_class": tyre_class},
            headers={"If-None-Match": if_none_match},
        )
        return self._client.send(call, timeout, request_id, headers)

    def get_rulebook(
        self,
        rulebook_id: str,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Rulebook]:
        """As `Mendgauge.get_rulebook`."""
        call = Call(
            method="GET",
            path=f"/v1/rulebooks/{segment(rulebook_id)}",
            answer=Rulebook,
            headers={"If-None-Match": if_none_match},
        )
        return self._client.send(call, timeout, request_id, headers)

    def list_rulebooks(
        self,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RulebookList]:
        """As `Mendgauge.list_rulebooks`."""
        call = Call(method="GET", path="/v1/rulebooks", answer=RulebookList, headers={"If-None-Match": if_none_match})
        return self._client.send(call, timeout, request_id, headers)

    def check_live(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Reply[Live]:
        """As `Mendgauge.check_live`."""
        call = Call(method="GET", path="/health/live", answer=Live)
        return self._client.send(call, timeout, request_id, headers)

    def check_ready(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Reply[Ready]:
        """As `Mendgauge.check_ready`."""
        call = Call(method="GET", path="/health/ready", answer=Ready)
        return self._client.send(call, timeout, request_id, headers)

    def explain_problem(
        self,
        slug: str,
        *,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[ProblemType]:
        """As `Mendgauge.explain_problem`."""
        call = Call(method="GET", path=f"/problems/{segment(slug)}", answer=ProblemType)
        return self._client.send(call, timeout, request_id, headers)


class AsyncMendgauge(AsyncBatches):
    """The service, asked under asyncio. Close it when done, or use it in `async with`."""

    @cached_property
    def raw(self) -> RawAsyncMendgauge:
        """The same methods, each giving its answer together with the HTTP response it came in."""
        return RawAsyncMendgauge(self)

    async def check_repairability(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Repairability:
        """May this tyre be repaired?

        Judges a case by a rulebook: a verdict that holds for every completion of what is unknown, the rules that
        decide it with their sources, what to establish, in the order in which it can be asked, and what to do now.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Repairability: Whether the tyre may be repaired under the rulebook, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.check_repairability(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def check_repairability_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairabilityBatch:
        """Which of these tyres may be repaired?

        Judges up to 1,000 cases, each as `check_repairability` judges it alone. An item that is at fault has its own
        problem, with pointers into the request, and costs the others nothing; the answer is 200 all the same. What
        many brief answers say alike stands once, in `tables` behind them; a full answer stands whole in its place.

        Args:
            case_batch: Cases to be answered one by one.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairabilityBatch: The outcome of every case of a batch, in the order of the cases.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.check_repairability_in_batch(
            case_batch, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return whole_rows(reply)

    def check_repairability_of_each(
        self,
        cases: Iterable[TyreCase] | AsyncIterable[TyreCase],
        *,
        chunk: int = CHUNK,
        concurrency: int = CONCURRENCY,
        progress: Callable[[Progress], object] | None = None,
        detail: Detail | None = None,
        timeout: float | None = None,
    ) -> AsyncIterator[CaseResult[Repairability]]:
        """Which of these tyres may be repaired?

        As `check_repairability_in_batch`, for any number of cases: they go out by the chunk, and their results come
        in the order of the cases, a few chunks at a time in memory. Each chunk is tried again like any call. Where
        one brings no answer, the results before it have been given, and the error ends them.

        Args:
            cases: The cases, from whatever yields them.
            chunk: The most cases to send at a time, up to 1,000; less where they are large.
            concurrency: The most chunks to have under way at a time.
            progress: Called after each chunk with how far the cases have come.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.

        Yields:
            CaseResult: For each case its answer, or what the service finds wrong with it.

        Raises:
            ValueError: `chunk` or `concurrency` is out of bounds.
            NotFiniteError: A number in a case is NaN or infinite; the cases before it have been answered.
            CallError: A chunk brought no answer; `mendgauge_client.errors` has the tree.
        """
        options = BatchOptions(
            path="/v1/repairability/batch",
            answer=Repairability,
            chunk=chunk,
            concurrency=concurrency,
            progress=progress,
            detail=detail,
            timeout=timeout,
        )
        return self._each(cases, options)

    async def choose_repair_units(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairUnits:
        """How is each injury prepared, and with which unit is it repaired?

        Per injury: cutter and preparation, what a unit must be, and the smallest one that does, cheapest on a tie,
        chosen from `stock` or from generic sizes; why each other unit was passed over. Patches of several injuries
        stay clear of each other. Nothing is chosen for a tyre that may not be repaired.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairUnits: How each injury is prepared, which repair unit it asks for, and which was chosen.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.choose_repair_units(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def trim_stems(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> StemTrims:
        """Where is each stem cut?

        Per injury: where the stem is cut outside, in a groove or on a lug, and inside where stem and patch are two
        pieces; never farther proud than there is tread left. The chosen unit's own instruction comes first.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            StemTrims: Where the stem of each repair is cut, outside and, of two pieces, inside.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.trim_stems(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    async def find_service_limits(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> ServiceLimits:
        """What may this tyre do after its repair?

        Return how fast the tyre may go after its repair and the source of that, whether it carries the axle's load
        and may run in its position, what to print for counter, driver and job file, and what to look at again.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            ServiceLimits: What the tyre may do after its repair, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.find_service_limits(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def plan_work(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> WorkPlan:
        """What work does it take, step by step?

        The whole job from finding the leak to checking the wheel nuts again, as far as the verdict lets it go: what
        to do, the figures to work to with their sources, where to stop, cautions, minutes, what it uses up. What
        hangs on a fact that is missing says so and asks for it. The shop's own times and quantities take the trade's
        place.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            WorkPlan: The work on one tyre, from finding the leak to checking the wheel nuts again.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.plan_work(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    async def quote_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Quote:
        """What does the job cost, and does a repair pay against a new tyre?

        Prices the work, the units and the consumables of a case by its `price_book`, line by line with taxes, and
        what preparation could still change. A tyre that may not be repaired is priced as a replacement or an
        inspection, never as a repair. With `replacement`, a repair is held against a new tyre. What has no price is
        an error that names it.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Quote: What the job costs by the caller's price book, as far as the case is known.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.quote_repair(
            case, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def plan_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairPlan:
        """What is there to know of this tyre, from the verdict to the price?

        Verdict, units, trim, service limits, work plan and, with a `price_book`, quote of one case in one answer.
        Each part of a full plan is what its own operation answers, to the byte; a brief one says nothing twice. A
        part that does not apply is null, and `absent` says why.

        Args:
            case: A punctured tyre, as far as it is known.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairPlan: All that is said of one tyre. Each part is what its own operation answers to the same case; a
                brief plan says everything once, and leaves what a bench works by to `choose_repair_units` and
                `plan_work`.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.plan_repair(case, detail=detail, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    async def plan_repairs_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RepairPlanBatch:
        """What is there to know of each of these tyres?

        Plans up to 1,000 cases, each as `plan_repair` plans it alone. An item that is at fault has its own problem,
        with pointers into the request, and costs the others nothing; the answer is 200 all the same.

        Args:
            case_batch: Cases to be answered one by one.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RepairPlanBatch: The outcome of every case of a batch, in the order of the cases.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.plan_repairs_in_batch(
            case_batch, detail=detail, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    def plan_repairs_of_each(
        self,
        cases: Iterable[TyreCase] | AsyncIterable[TyreCase],
        *,
        chunk: int = CHUNK,
        concurrency: int = CONCURRENCY,
        progress: Callable[[Progress], object] | None = None,
        detail: Detail | None = None,
        timeout: float | None = None,
    ) -> AsyncIterator[CaseResult[RepairPlan]]:
        """What is there to know of each of these tyres?

        As `plan_repairs_in_batch`, for any number of cases: they go out by the chunk, and their results come in the
        order of the cases, a few chunks at a time in memory. Each chunk is tried again like any call. Where one
        brings no answer, the results before it have been given, and the error ends them.

        Args:
            cases: The cases, from whatever yields them.
            chunk: The most cases to send at a time, up to 1,000; less where they are large.
            concurrency: The most chunks to have under way at a time.
            progress: Called after each chunk with how far the cases have come.
            detail: How much the answer says, `brief` or `full`; as the case has it when left out.
            timeout: Seconds each try may take; the client's own when left out.

        Yields:
            CaseResult: For each case its answer, or what the service finds wrong with it.

        Raises:
            ValueError: `chunk` or `concurrency` is out of bounds.
            NotFiniteError: A number in a case is NaN or infinite; the cases before it have been answered.
            CallError: A chunk brought no answer; `mendgauge_client.errors` has the tree.
        """
        options = BatchOptions(
            path="/v1/repair-plans/batch",
            answer=RepairPlan,
            chunk=chunk,
            concurrency=concurrency,
            progress=progress,
            detail=detail,
            timeout=timeout,
        )
        return self._each(cases, options)

    async def draw_tyre(
        self,
        case: TyreCase,
        *,
        view: Literal["crown_section", "liner_plan", "sheet"] | None = None,
        media_type: Literal["image/svg+xml", "application/pdf", "image/png"] = "image/svg+xml",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What does it look like, to scale?

        The section through the crown with every channel at its lean, stem and patch, and the liner unrolled with
        band, mouths, patches and earlier repairs. What is a range is hatched where its edge may lie. Rules that are
        broken or open are marked where they are, with the reason. Drawn for every verdict, in black and white; lines
        by ISO 128, dimensions by ISO 129, in millimetres or, under the American rulebook, in inches.

        Args:
            case: A punctured tyre, as far as it is known.
            view: `sheet` has everything; `crown_section` and `liner_plan` are one view alone, without head and
                notes.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The drawing at its true size, with a title and a description in words.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.draw_tyre(
            case, view=view, media_type=media_type, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def print_job_card(
        self,
        case: TyreCase,
        *,
        paper: Literal["a4", "letter"] | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What is printed of this tyre?

        A tyre that may be repaired gets a job card, with its figures and drawings on the front and the steps with
        their hold points on the back, and a slip for the driver to sign. One that may not gets a slip for the
        customer: what was found, which rule, what to do. While that is open there is an intake sheet with the
        questions in order. The same case gives the same bytes.

        Args:
            case: A punctured tyre, as far as it is known.
            paper: The paper it is printed on.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The sheets, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            RequestTimeoutError: 408, `/problems/request-timeout`: The request took too long to arrive.
            BodyTooLargeError: 413, `/problems/body-too-large`: The body is too large. `/problems/too-many-items`:
                The batch has too many items.
            MediaTypeError: 415, `/problems/unsupported-media-type`: The body is in a form that is not taken.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.print_job_card(
            case, paper=paper, media_type=media_type, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def read_tyre_marking(
        self,
        marking: str,
        *,
        date_code: str | None = None,
        assessed_on: date | None = None,
        vehicle_max_speed_kmh: float | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> TyreMarking:
        """What does the sidewall say?

        Read a marking, and a date code if there is one: dimensions, load, speed and age, and what looks odd.

        Args:
            marking: Size and service description as moulded on the sidewall.
            date_code: The date code (week and year), or the whole tyre identification number that ends in it.
            assessed_on: The day on which the age is taken; today (UTC) when left out.
            vehicle_max_speed_kmh: Top speed of the vehicle, km/h: the answer then gives the load at that speed.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            TyreMarking: What the sidewall says and what follows from it; null is what it does not say. Dimensions
                are of the new tyre.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.read_tyre_marking(
            marking,
            date_code=date_code,
            assessed_on=assessed_on,
            vehicle_max_speed_kmh=vehicle_max_speed_kmh,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    async def print_gauge(
        self,
        marking: str,
        rulebook: str,
        vehicle_kind: Literal["bus", "car", "motorcycle", "trailer", "truck", "van"],
        *,
        paper: Literal["a4", "letter"] | None = None,
        tread_width_mm: float | None = None,
        assessed_on: date | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Media:
        """What does the rulebook allow on this tyre, at full size on paper?

        A sheet to print at 100 %, cut out and lay on the tread: the repairable band with its edges and centre line,
        an angle fan with the largest lean for one piece, holes and cutters up to the limit, patches, tread depths,
        and two lines to check the print by. A band wider than the paper comes in two halves with register marks.

        Args:
            marking: Size and service description as moulded on the sidewall.
            rulebook: The rulebook that applies, by its id; `gb@2026.1` pins an edition.
            vehicle_kind: What the vehicle is. Decides which limits apply.
            paper: The paper it is printed on.
            tread_width_mm: Width of the tread, edge to edge, mm, where the band hangs on it. Without it the sheet
                has a strip to lay at the edge of the tread.
            assessed_on: The day whose rules hold; today (UTC) when left out.
            media_type: The form to answer in.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Media: The gauge, a page or two, accessible (PDF/UA-1) and fit to be kept (PDF/A-2a).

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            StatusError: 406, `/problems/not-acceptable`: The answer has no such form.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            ServerError: 501, `/problems/not-installed`: This deployment cannot print.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.print_gauge(
            marking,
            rulebook,
            vehicle_kind,
            paper=paper,
            tread_width_mm=tread_width_mm,
            assessed_on=assessed_on,
            media_type=media_type,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    async def list_generic_units(
        self,
        rulebook: str,
        *,
        tyre_class: Literal["bus", "car", "motorcycle", "truck", "van"] | None = None,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> GenericUnits:
        """Which codes does a price book need?

        List the generic sizes and the consumables by the codes that `price_book` has prices for.

        Args:
            rulebook: The rulebook of the cases to be priced: `gb`, or `gb@2026.1` for a certain edition.
            tyre_class: The class of tyre. Left out: all. Trailers run on tyres of class `truck` or `van`.
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            GenericUnits: What a till sets prices for before the first quote, by the codes that answers use.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            InvalidRequestError: 422, `/problems/contract-broken`: The request does not fit the contract.
                `/problems/impossible-case`: The request cannot be answered as it is. `/problems/not-priced`:
                Something on the bill has no price.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.list_generic_units(
            rulebook,
            tyre_class=tyre_class,
            if_none_match=if_none_match,
            timeout=timeout,
            request_id=request_id,
            headers=headers,
        )
        return reply.answer

    async def get_rulebook(
        self,
        rulebook_id: str,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Rulebook:
        """What does a rulebook say?

        Show every limit of a rulebook with its value, unit, source, clause and basis.

        Args:
            rulebook_id: A rulebook's id, for its newest edition; `gb@2026.1` for a certain one.
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Rulebook: One edition of a rulebook, whole, with the workshop practice it stands on.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            NotFoundError: 404, `/problems/not-found`: There is nothing here.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.get_rulebook(
            rulebook_id, if_none_match=if_none_match, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def list_rulebooks(
        self,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> RulebookList:
        """Which rulebooks are there?

        List every edition of every rulebook, with the digest that answers name.

        Args:
            if_none_match: The `ETag` of a copy at hand. While the copy is good, the answer is 304 without a body.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            RulebookList: Every edition of every rulebook.

        Raises:
            NotChangedError: 304, The copy at hand is good.
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            AuthenticationError: 401, `/problems/key-refused`: An API key is needed.
            TooManyRequestsError: 429, `/problems/too-many-requests`: Too many requests.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.list_rulebooks(
            if_none_match=if_none_match, timeout=timeout, request_id=request_id, headers=headers
        )
        return reply.answer

    async def check_live(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Live:
        """Does the process run?

        Answers as soon as the process runs, and looks at nothing. If it does not answer, start the process anew.

        Args:
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Live: The process runs.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.check_live(timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    async def check_ready(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Ready:
        """May it be sent work?

        503 until the rulebooks are loaded and have passed their self-test, and again once the service is to stop.

        Args:
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            Ready: The service takes requests.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.check_ready(timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer

    async def explain_problem(
        self,
        slug: str,
        *,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> ProblemType:
        """What a kind of problem means

        Explain what a kind of problem means and what to do about it: the page behind a problem's `type`. Who prefers
        HTML, as a browser does, is given a page with an example.

        Args:
            slug: The last part of a problem's `type`.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Returns:
            ProblemType: A kind of problem, and what to do about it.

        Raises:
            BadRequestError: 400, `/problems/malformed-request`: The request cannot be read.
            NotFoundError: 404, `/problems/not-found`: There is nothing here.
            StatusError: 431, `/problems/headers-too-large`: The headers are too large.
            ServerError: 500, `/problems/internal-error`: The service has failed.
            UnavailableError: 503, `/problems/unavailable`: The service is not ready. `/problems/too-much-under-way`:
                The service has its hands full.
            CallError: Whatever else went wrong; `mendgauge_client.errors` has the tree.
        """
        reply = await self.raw.explain_problem(slug, timeout=timeout, request_id=request_id, headers=headers)
        return reply.answer


class RawAsyncMendgauge:
    """The methods of `AsyncMendgauge`, each giving its answer together with the HTTP response it came in."""

    def __init__(self, client: AsyncTransport) -> None:
        self._client = client

    async def check_repairability(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Repairability]:
        """As `AsyncMendgauge.check_repairability`."""
        call = Call(method="POST", path="/v1/repairability", answer=Repairability, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def check_repairability_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairabilityBatch]:
        """As `AsyncMendgauge.check_repairability_in_batch`."""
        call = Call(
            method="POST", path="/v1/repairability/batch", answer=RepairabilityBatch, body=in_detail(case_batch, detail)
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def choose_repair_units(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairUnits]:
        """As `AsyncMendgauge.choose_repair_units`."""
        call = Call(method="POST", path="/v1/repair-units", answer=RepairUnits, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def trim_stems(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[StemTrims]:
        """As `AsyncMendgauge.trim_stems`."""
        call = Call(method="POST", path="/v1/stem-trim", answer=StemTrims, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def find_service_limits(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[ServiceLimits]:
        """As `AsyncMendgauge.find_service_limits`."""
        call = Call(method="POST", path="/v1/service-limits", answer=ServiceLimits, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def plan_work(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[WorkPlan]:
        """As `AsyncMendgauge.plan_work`."""
        call = Call(method="POST", path="/v1/work-plans", answer=WorkPlan, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def quote_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Quote]:
        """As `AsyncMendgauge.quote_repair`."""
        call = Call(method="POST", path="/v1/quotes", answer=Quote, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def plan_repair(
        self,
        case: TyreCase,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairPlan]:
        """As `AsyncMendgauge.plan_repair`."""
        call = Call(method="POST", path="/v1/repair-plans", answer=RepairPlan, body=in_detail(case, detail))
        return await self._client.send(call, timeout, request_id, headers)

    async def plan_repairs_in_batch(
        self,
        case_batch: CaseBatch,
        *,
        detail: Detail | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RepairPlanBatch]:
        """As `AsyncMendgauge.plan_repairs_in_batch`."""
        call = Call(
            method="POST", path="/v1/repair-plans/batch", answer=RepairPlanBatch, body=in_detail(case_batch, detail)
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def draw_tyre(
        self,
        case: TyreCase,
        *,
        view: Literal["crown_section", "liner_plan", "sheet"] | None = None,
        media_type: Literal["image/svg+xml", "application/pdf", "image/png"] = "image/svg+xml",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `AsyncMendgauge.draw_tyre`."""
        call = Call(
            method="POST",
            path="/v1/drawings",
            answer=Media,
            params={"view": view},
            headers={"Accept": media_type},
            body=case,
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def print_job_card(
        self,
        case: TyreCase,
        *,
        paper: Literal["a4", "letter"] | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `AsyncMendgauge.print_job_card`."""
        call = Call(
            method="POST",
            path="/v1/job-cards",
            answer=Media,
            params={"paper": paper},
            headers={"Accept": media_type},
            body=case,
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def read_tyre_marking(
        self,
        marking: str,
        *,
        date_code: str | None = None,
        assessed_on: date | None = None,
        vehicle_max_speed_kmh: float | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[TyreMarking]:
        """As `AsyncMendgauge.read_tyre_marking`."""
        call = Call(
            method="GET",
            path="/v1/tyre-markings",
            answer=TyreMarking,
            params={
                "marking": marking,
                "date_code": date_code,
                "assessed_on": assessed_on,
                "vehicle_max_speed_kmh": vehicle_max_speed_kmh,
            },
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def print_gauge(
        self,
        marking: str,
        rulebook: str,
        vehicle_kind: Literal["bus", "car", "motorcycle", "trailer", "truck", "van"],
        *,
        paper: Literal["a4", "letter"] | None = None,
        tread_width_mm: float | None = None,
        assessed_on: date | None = None,
        media_type: Literal["application/pdf"] = "application/pdf",
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Media]:
        """As `AsyncMendgauge.print_gauge`."""
        call = Call(
            method="GET",
            path="/v1/gauges",
            answer=Media,
            params={
                "marking": marking,
                "rulebook": rulebook,
                "vehicle_kind": vehicle_kind,
                "paper": paper,
                "tread_width_mm": tread_width_mm,
                "assessed_on": assessed_on,
            },
            headers={"Accept": media_type},
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def list_generic_units(
        self,
        rulebook: str,
        *,
        tyre_class: Literal["bus", "car", "motorcycle", "truck", "van"] | None = None,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[GenericUnits]:
        """As `AsyncMendgauge.list_generic_units`."""
        call = Call(
            method="GET",
            path="/v1/generic-units",
            answer=GenericUnits,
            params={"rulebook": rulebook, "tyre_class": tyre_class},
            headers={"If-None-Match": if_none_match},
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def get_rulebook(
        self,
        rulebook_id: str,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[Rulebook]:
        """As `AsyncMendgauge.get_rulebook`."""
        call = Call(
            method="GET",
            path=f"/v1/rulebooks/{segment(rulebook_id)}",
            answer=Rulebook,
            headers={"If-None-Match": if_none_match},
        )
        return await self._client.send(call, timeout, request_id, headers)

    async def list_rulebooks(
        self,
        *,
        if_none_match: str | None = None,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[RulebookList]:
        """As `AsyncMendgauge.list_rulebooks`."""
        call = Call(method="GET", path="/v1/rulebooks", answer=RulebookList, headers={"If-None-Match": if_none_match})
        return await self._client.send(call, timeout, request_id, headers)

    async def check_live(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Reply[Live]:
        """As `AsyncMendgauge.check_live`."""
        call = Call(method="GET", path="/health/live", answer=Live)
        return await self._client.send(call, timeout, request_id, headers)

    async def check_ready(
        self, *, timeout: float | None = None, request_id: str | None = None, headers: Mapping[str, str] | None = None
    ) -> Reply[Ready]:
        """As `AsyncMendgauge.check_ready`."""
        call = Call(method="GET", path="/health/ready", answer=Ready)
        return await self._client.send(call, timeout, request_id, headers)

    async def explain_problem(
        self,
        slug: str,
        *,
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[ProblemType]:
        """As `AsyncMendgauge.explain_problem`."""
        call = Call(method="GET", path=f"/problems/{segment(slug)}", answer=ProblemType)
        return await self._client.send(call, timeout, request_id, headers)
