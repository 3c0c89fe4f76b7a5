"""Problems: every answer of 4xx and 5xx, as RFC 9457 has it.

`PROBLEM_TYPES` is the table of what can go wrong; `GET /problems/{slug}` serves it, and the OpenAPI document is made
from it. Code in this layer raises `Refusal`; code below it raises `mendgauge.core.errors.CaseError`, which becomes
a 422.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Annotated, Any

import msgspec
import structlog
from litestar import Request, Response
from litestar.exceptions import HTTPException
from msgspec import Meta

from mendgauge.api.flaws import cut, near
from mendgauge.core.errors import CaseError, Flaw, NotPricedError
from mendgauge.printing.press import PrintingFailedError, PrintingNotInstalledError

PROBLEM_JSON = "application/problem+json"

FAULTS_MAX = 100
"""Further faults are left out: nobody mends so many at once."""

DETAIL_MAX = 500
"""Characters of one detail or pointer; what a caller sent is never repeated at length."""

log = structlog.get_logger()


class ProblemType(msgspec.Struct, frozen=True, kw_only=True):
    """A kind of problem, and what to do about it."""

    type: Annotated[str, Meta(description="The URI reference that names the kind.", examples=["/problems/not-found"])]
    status: Annotated[int, Meta(description="The HTTP status it comes with.", examples=[404])]
    title: Annotated[str, Meta(description="The kind in a few words.", examples=["There is nothing here"])]
    remedy: Annotated[str, Meta(description="What it means and what to do about it.")]


def _kind(slug: str, status: int, title: str, remedy: str) -> ProblemType:
    return ProblemType(type=f"/problems/{slug}", status=status, title=title, remedy=remedy)


PROBLEM_TYPES = (
    MALFORMED := _kind(
        "malformed-request",
        400,
        "The request cannot be read",
        "The body is missing, cut short or not JSON, or a header is not as HTTP has it. Mend the request; sending it "
        "again unchanged will not help.",
    ),
    KEY_REFUSED := _kind(
        "key-refused",
        401,
        "An API key is needed",
        "This service answers only callers with a key. Send `Authorization: Bearer <key>` with a key that its operator "
        "gave out.",
    ),
    NOT_FOUND := _kind(
        "not-found",
        404,
        "There is nothing here",
        "No operation, rulebook or page has this path. `/openapi.json` lists the operations, `/v1/rulebooks` the "
        "rulebooks.",
    ),
    METHOD_NOT_ALLOWED := _kind(
        "method-not-allowed",
        405,
        "This path does not take this method",
        "The `Allow` header of the answer lists the methods that it takes.",
    ),
    NOT_ACCEPTABLE := _kind(
        "not-acceptable",
        406,
        "The answer has no such form",
        "The `Accept` header names none of the forms that this operation answers in. The document lists them; "
        "without the header the first is taken.",
    ),
    REQUEST_TIMEOUT := _kind(
        "request-timeout",
        408,
        "The request took too long to arrive",
        "The operator sets how many seconds headers and body may take. Send it again over a better connection, "
        "or with fewer items.",
    ),
    BODY_TOO_LARGE := _kind(
        "body-too-large",
        413,
        "The body is too large",
        "A case may have 524,288 bytes; the operator sets how many a batch may have. Packed bodies count unpacked. "
        "Send fewer items at a time.",
    ),
    TOO_MANY_ITEMS := _kind(
        "too-many-items",
        413,
        "The batch has too many items",
        "At most 1,000 items are taken at a time. Send the rest in further requests; each item is judged by itself.",
    ),
    UNSUPPORTED_MEDIA_TYPE := _kind(
        "unsupported-media-type",
        415,
        "The body is in a form that is not taken",
        "Send `Content-Type: application/json`, in UTF-8, as it is or with `Content-Encoding: gzip`.",
    ),
    CONTRACT_BROKEN := _kind(
        "contract-broken",
        422,
        "The request does not fit the contract",
        "A field or parameter is missing, unknown, given twice, of the wrong type or out of bounds. `errors` says "
        "which and what is right; `/openapi.json` has the whole contract.",
    ),
    IMPOSSIBLE_CASE := _kind(
        "impossible-case",
        422,
        "The request cannot be answered as it is",
        "The request fits the contract, but contradicts itself or what is known of tyres, or names what is not there: "
        "a marking that no tyre carries, an injury outside the tread, an unknown rulebook. `errors` says where.",
    ),
    NOT_PRICED := _kind(
        "not-priced",
        422,
        "Something on the bill has no price",
        "What is charged for must have a price in `price_book`, or be named in what a price covers: nothing is given "
        "away unasked. `errors` names each item and where its price is missed.",
    ),
    TOO_MANY_REQUESTS := _kind(
        "too-many-requests",
        429,
        "Too many requests",
        "Wait as many seconds as the `Retry-After` header says, then send the request again.",
    ),
    HEAD_TOO_LARGE := _kind(
        "headers-too-large",
        431,
        "The headers are too large",
        "Request line and headers may have 32,768 bytes together. Send fewer or shorter headers.",
    ),
    INTERNAL_ERROR := _kind(
        "internal-error",
        500,
        "The service has failed",
        "A fault of the service, not of the request. It is in the service's log under the `request_id`.",
    ),
    NOT_INSTALLED := _kind(
        "not-installed",
        501,
        "This deployment cannot print",
        "PDF and PNG need the extra `mendgauge[print]`, which its operator left out. Drawings come as SVG without it.",
    ),
    UNAVAILABLE := _kind(
        "unavailable",
        503,
        "The service is not ready",
        "It is starting or stopping. Send the request again in a moment; another instance may answer it.",
    ),
    TOO_MUCH_UNDER_WAY := _kind(
        "too-much-under-way",
        503,
        "The service has its hands full",
        "It holds as many bytes of requests as it may. Wait as many seconds as the `Retry-After` header says, then "
        "send the request again.",
    ),
)
"""Everything that can go wrong. The first kind of a status stands for it where nothing more is known."""

_BY_STATUS = {kind.status: kind for kind in reversed(PROBLEM_TYPES)}


class FaultAt(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One thing that is wrong, and where: in the body, by `pointer`, or in a query or path parameter, by its name."""

    pointer: (
        Annotated[
            str,
            Meta(
                description="Where in the request body: a JSON Pointer (RFC 6901); empty is the whole body. "
                "Absent when a parameter is at fault.",
                examples=["/injuries/0/diameter_mm"],
            ),
        ]
        | None
    ) = None
    parameter: (
        Annotated[
            str,
            Meta(
                description="The query or path parameter at fault, by name. Absent when the body is at fault.",
                examples=["marking"],
            ),
        ]
        | None
    ) = None
    detail: Annotated[
        str,
        Meta(
            description="What is wrong and what would be right.",
            examples=['expected a number from 0 to 50, got the text "4"; write it without quotes: 4'],
        ),
    ]


class Problem(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What went wrong with a request (RFC 9457)."""

    type: Annotated[
        str,
        Meta(
            description="The kind of problem, a URI reference that can be followed for an explanation.",
            examples=["/problems/contract-broken"],
            extra_json_schema={"format": "uri-reference"},
        ),
    ]
    title: Annotated[
        str, Meta(description="The kind in a few words.", examples=["The request does not fit the contract"])
    ]
    status: Annotated[int, Meta(description="The HTTP status of this answer.", examples=[422])]
    detail: Annotated[
        str,
        Meta(
            description="What went wrong this time.",
            examples=["the body is JSON, but not what this operation takes"],
        ),
    ]
    request_id: Annotated[
        str,
        Meta(description="The request's id, as in the `X-Request-Id` header and the log.", examples=["DEPOT-3.000172"]),
    ]
    errors: Annotated[
        tuple[FaultAt, ...],
        Meta(max_length=FAULTS_MAX, description="The faults found in the request, where it has places to name."),
    ] = ()


class Refusal(Exception):  # noqa: N818 - the request is at fault, not the service
    """A request that is turned down, with the kind of problem it is answered with."""

    def __init__(
        self,
        kind: ProblemType,
        detail: str,
        faults: tuple[FaultAt, ...] = (),
        headers: Mapping[str, str] | None = None,
    ) -> None:
        super().__init__(detail)
        self.kind, self.detail, self.faults, self.headers = kind, detail, faults, dict(headers or {})


def faults_of(flaws: Iterable[Flaw]) -> tuple[FaultAt, ...]:
    """Return the flaws of a body as the faults of a problem."""
    return tuple(FaultAt(pointer=flaw.pointer, detail=flaw.detail) for flaw in flaws)


def problem(refusal: Refusal, request_id: str) -> Problem:
    """Return the answer's content for a refusal, every text of it cut to a length."""
    kind = refusal.kind
    return Problem(
        type=kind.type,
        title=kind.title,
        status=kind.status,
        detail=cut(refusal.detail, DETAIL_MAX),
        request_id=request_id,
        errors=tuple(map(_cut, refusal.faults[:FAULTS_MAX])),
    )


def _cut(fault: FaultAt) -> FaultAt:
    if max(len(fault.pointer or ""), len(fault.parameter or ""), len(fault.detail)) <= DETAIL_MAX:
        return fault
    return FaultAt(
        pointer=fault.pointer and cut(fault.pointer, DETAIL_MAX),
        parameter=fault.parameter and cut(fault.parameter, DETAIL_MAX),
        detail=cut(fault.detail, DETAIL_MAX),
    )


def answer(request: Request[Any, Any, Any], refusal: Refusal) -> Response[Problem]:
    """Return the answer to a request that is turned down."""
    return Response(
        problem(refusal, request.scope["state"]["request_id"]),
        status_code=refusal.kind.status,
        media_type=PROBLEM_JSON,
        headers=refusal.headers,
    )


def refusal_of(error: CaseError) -> Refusal:
    """Return the refusal of a case that keeps to the contract and cannot be answered all the same."""
    kind = NOT_PRICED if isinstance(error, NotPricedError) else IMPOSSIBLE_CASE
    return Refusal(kind, str(error), faults_of(error.errors))


def refusal_below(place: str, refusal: Refusal) -> Refusal:
    """Return the refusal of a part of the body, which stands at a place of the whole."""
    faults = (msgspec.structs.replace(fault, pointer=place + (fault.pointer or "")) for fault in refusal.faults)
    return Refusal(refusal.kind, refusal.detail, tuple(faults), refusal.headers)


def _refused_by_case(request: Request[Any, Any, Any], error: CaseError) -> Response[Problem]:
    return answer(request, refusal_of(error))


def _refused_by_framework(request: Request[Any, Any, Any], error: HTTPException) -> Response[Problem]:
    kind = _BY_STATUS.get(error.status_code, MALFORMED if error.status_code < 500 else INTERNAL_ERROR)
    if kind is INTERNAL_ERROR:
        return _failed(request, error)
    path = cut(request.url.path, 200)
    paths = [route.path for route in request.app.routes if "{" not in route.path]
    plain = {
        404: f"nothing has the path {path}{near(request.url.path, paths)}",
        405: f"{path} does not take {request.method}; it takes {_taken(error.headers or {})}",
        429: "too many requests from this caller",
    }
    return answer(request, Refusal(kind, plain.get(kind.status, error.detail), headers=error.headers))


def _taken(headers: Mapping[str, str]) -> str:
    """Return the methods that a path takes, beside OPTIONS, which every one does."""
    return " or ".join(sorted({*headers.get("allow", "").split(", ")} - {"OPTIONS"}))


def _failed(request: Request[Any, Any, Any], error: Exception) -> Response[Problem]:
    log.error("request failed", exc_info=error)
    return answer(request, FAILURE)


def _refused_for_want_of_printing(
    request: Request[Any, Any, Any], error: PrintingNotInstalledError
) -> Response[Problem]:
    return answer(request, Refusal(NOT_INSTALLED, str(error)))


def _refused_by_press(request: Request[Any, Any, Any], error: PrintingFailedError) -> Response[Problem]:
    return answer(request, Refusal(TOO_MUCH_UNDER_WAY, str(error), headers={"Retry-After": "5"}))


FAILURE = Refusal(INTERNAL_ERROR, "the service failed at this request; its log has the cause under the request id")

EXCEPTION_HANDLERS: dict[int | type[Exception], Any] = {
    Refusal: answer,
    CaseError: _refused_by_case,
    PrintingNotInstalledError: _refused_for_want_of_printing,
    PrintingFailedError: _refused_by_press,
    HTTPException: _refused_by_framework,
    Exception: _failed,
}
