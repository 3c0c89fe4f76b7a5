"""What can go wrong, as a tree to catch from at the height that suits.

    MendgaugeError                    all of it
    ├── SettingsError                 no address, or an address or key that cannot be used (also a ValueError)
    ├── ClosedError                   a call of a client that is closed (also a RuntimeError)
    ├── NotFiniteError                NaN or infinity in what is to be sent: `pointer` (also a ValueError)
    └── CallError                     a call that brought no answer: `request_id`
        ├── UnreachableError          no connection, or it broke (also a ConnectionError)
        ├── TimedOutError             no answer within the timeout (also a TimeoutError)
        ├── UnreadableAnswerError     an answer, but not one of this service
        └── StatusError               a refusal: `status`, `problem`, `faults`, `retry_after`
            ├── NotChangedError       304  the copy at hand, whose ETag was sent, still holds
            ├── BadRequestError       400  the body is not JSON
            ├── AuthenticationError   401  no key, or one that is not valid
            ├── PermissionDeniedError 403  the key does not allow it
            ├── NotFoundError         404  no such rulebook, or no such operation
            ├── RequestTimeoutError   408  the service gave up waiting for the request
            ├── BodyTooLargeError     413  the request is too large
            ├── MediaTypeError        415  the body is not sent as JSON
            ├── InvalidRequestError   422  JSON that breaks the contract or contradicts itself
            ├── TooManyRequestsError  429  too many calls
            └── ServerError           500  the service failed, and every other 5xx
                ├── BadGatewayError     502  a proxy got no good answer from the service
                ├── UnavailableError    503  the service is not ready
                └── GatewayTimeoutError 504  a proxy waited in vain for the service

`str()` of an error leads with what to do about it. `request_id` is what the service's log knows the call by.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, ClassVar

import msgspec

from mendgauge_client._decoders import decoder_of
from mendgauge_client._retry import retry_after
from mendgauge_client.models import FaultAt, Problem

if TYPE_CHECKING:
    import httpx2

__all__ = [
    "AuthenticationError",
    "BadGatewayError",
    "BadRequestError",
    "BodyTooLargeError",
    "CallError",
    "ClosedError",
    "GatewayTimeoutError",
    "InvalidRequestError",
    "MediaTypeError",
    "MendgaugeError",
    "NotChangedError",
    "NotFiniteError",
    "NotFoundError",
    "PermissionDeniedError",
    "RequestTimeoutError",
    "ServerError",
    "SettingsError",
    "StatusError",
    "TimedOutError",
    "TooManyRequestsError",
    "UnavailableError",
    "UnreachableError",
    "UnreadableAnswerError",
]

REQUEST_ID = "X-Request-Id"
POINTERS_SHOWN = 5
"""How many of the places a refusal names go into its text; `faults` has them all."""
EXCERPT_CHARS = 200


class MendgaugeError(Exception):
    """Anything that goes wrong in a call or in setting the client up."""

    def __reduce__(self) -> tuple[Any, ...]:
        # An error must get through a process pool whole, whatever its constructor takes.
        return _restored, (type(self), self.args, self.__dict__)


def _restored(kind: type[MendgaugeError], args: tuple[Any, ...], state: dict[str, Any]) -> MendgaugeError:
    error = kind.__new__(kind)
    BaseException.__init__(error, *args)
    error.__dict__.update(state)
    return error


class SettingsError(MendgaugeError, ValueError):
    """The client cannot be set up: no address, or an address or a key that cannot be used."""


class ClosedError(MendgaugeError, RuntimeError):
    """The client was closed before the call."""


class NotFiniteError(MendgaugeError, ValueError):
    """NaN or infinity in what is to be sent, which JSON cannot say; nothing was sent.

    Attributes:
        pointer: Where in the body, an RFC 6901 pointer such as `/injuries/0/diameter_mm`.
        value: What stands there.
    """

    def __init__(self, pointer: str, value: float) -> None:
        super().__init__(f"Give a number, or leave out what is not known: {pointer or 'the body'} is {value}")
        self.pointer = pointer
        self.value = value


class CallError(MendgaugeError):
    """A call that brought no answer.

    Attributes:
        request_id: What the service's log knows the call by.
    """

    def __init__(self, text: str, request_id: str, status: str = "") -> None:
        super().__init__(f"{text} ({status}request {request_id})")
        self.request_id = request_id


class UnreachableError(CallError, ConnectionError):
    """No connection to the service, or it broke before the answer was whole; every retry went the same way."""


class TimedOutError(CallError, TimeoutError):
    """The service did not answer within the timeout; every retry went the same way."""


class UnreadableAnswerError(CallError):
    """A success that does not read as an answer of this service.

    Attributes:
        response: The answer as it came.
    """

    def __init__(self, text: str, request_id: str, response: httpx2.Response | None = None) -> None:
        super().__init__(text, request_id)
        self.response = response


class StatusError(CallError):
    """The service, or a proxy before it, refused the call.

    Attributes:
        status: The HTTP status.
        problem: What the service says of it; None where the answer is no problem document, as from a proxy.
        retry_after: Seconds to wait before the next try, where the service asks for it.
        response: The answer as it came.
    """

    advice: ClassVar[str] = "See what the service says"

    def __init__(self, response: httpx2.Response, request_id: str) -> None:
        self.response = response
        self.status = response.status_code
        self.problem = _problem(response)
        self.retry_after = retry_after(response.headers.get("Retry-After"))
        advice = self.advice if self.retry_after is None else f"{self.advice} in {self.retry_after:.0f} s"
        status = f"{self.status} {response.reason_phrase}".rstrip()
        super().__init__(f"{advice}: {self._details()}", request_id, f"{status}, ")

    @property
    def faults(self) -> list[FaultAt]:
        """Every place the service finds at fault; empty where it names none."""
        return [] if self.problem is None else self.problem.errors

    def _details(self) -> str:
        if self.problem is None:
            return _excerpt(self.response.text)
        places = [f"{_place(fault)}: {fault.detail}" for fault in self.faults]
        if not places:
            return self.problem.detail
        more = len(places) - POINTERS_SHOWN
        return "; ".join(places[:POINTERS_SHOWN]) + (f"; and {more} more" if more > 0 else "")


def _place(fault: FaultAt) -> str:
    return fault.parameter or fault.pointer or "the body as a whole"


def _problem(response: httpx2.Response) -> Problem | None:
    try:
        return decoder_of(Problem).decode(response.content)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return None


def _excerpt(text: str) -> str:
    flat = " ".join(text.split())
    if not flat:
        return "the answer is empty"
    return flat if len(flat) <= EXCERPT_CHARS else flat[:EXCERPT_CHARS] + "…"


class NotChangedError(StatusError):
    """304: the copy at hand, whose `ETag` was sent as `if_none_match`, still holds."""

    advice = "Keep the copy at hand"


class BadRequestError(StatusError):
    """400: the body is not JSON."""

    advice = "Send well-formed JSON"


class AuthenticationError(StatusError):
    """401: no key, or one that is not valid."""

    advice = "Give a valid key, as api_key= or in MENDGAUGE_API_KEY"


class PermissionDeniedError(StatusError):
    """403: the key does not allow it."""

    advice = "Use a key that allows this call"


class NotFoundError(StatusError):
    """404: no such rulebook, or no such operation at this address."""

    advice = "Check what was asked for, and that base_url points at the service"


class RequestTimeoutError(StatusError):
    """408: the service gave up waiting for the request."""

    advice = "Try again"


class BodyTooLargeError(StatusError):
    """413: the request is too large."""

    advice = "Send less in one request"


class MediaTypeError(StatusError):
    """415: the body is not sent as JSON."""

    advice = "Send the body as application/json"


class InvalidRequestError(StatusError):
    """422: JSON that breaks the contract or contradicts itself; `faults` names each place."""

    advice = "Correct the request"


class TooManyRequestsError(StatusError):
    """429: too many calls; `retry_after` says when to come back."""

    advice = "Call less often, and try again"


class ServerError(StatusError):
    """500 and every other 5xx: the service failed."""

    advice = "Report this request to whoever runs the service"


class BadGatewayError(ServerError):
    """502: a proxy got no good answer from the service."""

    advice = "Try again"


class UnavailableError(ServerError):
    """503: the service is not ready."""

    advice = "Try again"


class GatewayTimeoutError(ServerError):
    """504: a proxy waited in vain for the service."""

    advice = "Try again"


CLASS_OF_STATUS: dict[int, type[StatusError]] = {
    304: NotChangedError,
    400: BadRequestError,
    401: AuthenticationError,
    403: PermissionDeniedError,
    404: NotFoundError,
    408: RequestTimeoutError,
    413: BodyTooLargeError,
    415: MediaTypeError,
    422: InvalidRequestError,
    429: TooManyRequestsError,
    502: BadGatewayError,
    503: UnavailableError,
    504: GatewayTimeoutError,
}
"""Read by the generator too, which lists in each method what it raises."""


def class_of_status(status: int) -> type[StatusError]:
    """Return the class of error a status raises."""
    return CLASS_OF_STATUS.get(status, ServerError if status >= 500 else StatusError)
