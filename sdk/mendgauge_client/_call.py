"""A call of an operation, and what comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast
from urllib.parse import quote

import msgspec

from mendgauge_client._decoders import decoder_of
from mendgauge_client.errors import REQUEST_ID, UnreadableAnswerError, class_of_status

if TYPE_CHECKING:
    import httpx2

T = TypeVar("T")


class Call(msgspec.Struct, Generic[T], frozen=True, kw_only=True):
    """One call of an operation, before it is sent.

    Attributes:
        method: The HTTP method.
        path: The path under the service's address, its parameters filled in.
        answer: What a success decodes to.
        params: Query parameters; those that are None are left out.
        headers: Header fields of this operation; those that are None are left out.
        body: What goes as JSON; None where the operation takes no body.
    """

    method: str
    path: str
    answer: type[T]
    params: Mapping[str, Any] = {}
    headers: Mapping[str, str | None] = {}
    body: object = None


class Media(msgspec.Struct, frozen=True):
    """A picture or a page.

    Attributes:
        content: Its bytes.
        media_type: What they are, such as `image/svg+xml`.
    """

    content: bytes
    media_type: str


class Reply(msgspec.Struct, Generic[T], frozen=True):
    """An answer together with the HTTP response it came in.

    Attributes:
        answer: The typed answer.
        response: The response, with everything in it that the typed answer passes over.
    """

    answer: T
    response: httpx2.Response

    @property
    def status(self) -> int:
        """The HTTP status."""
        return self.response.status_code

    @property
    def headers(self) -> httpx2.Headers:
        """The header fields of the response; names are compared without regard to case."""
        return self.response.headers

    @property
    def request_id(self) -> str:
        """What the service's log knows the call by."""
        return request_id_of(self.response)


def segment(value: object) -> str:
    """Return a value as one segment of a path.

    Raises:
        ValueError: It is empty or all dots, and would make the path that of something else.
    """
    text = str(value)
    if text in ("", ".", ".."):
        raise ValueError(f"{text!r} cannot be part of a path")
    return quote(text, safe="")


def request_id_of(response: httpx2.Response) -> str:
    """Return the request id of an exchange: the one answered, or else the one sent."""
    return str(response.headers.get(REQUEST_ID) or response.request.headers[REQUEST_ID])


def read(call: Call[T], response: httpx2.Response) -> Reply[T]:
    """Return the typed answer in a response.

    Raises:
        StatusError: The status is not a success.
        UnreadableAnswerError: It is, but the body is not what the operation answers with.
    """
    request_id = request_id_of(response)
    if not response.is_success:
        raise class_of_status(response.status_code)(response, request_id)
    try:
        if call.answer is Media:
            return Reply(cast("T", _media(call, response)), response)
        return Reply(decoder_of(call.answer).decode(response.content), response)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as error:
        raise UnreadableAnswerError(
            f"Check that {response.request.url} belongs to a Mendgauge service this client was made for: "
            f"the answer does not read as {call.answer.__name__}: {error}",
            request_id,
            response,
        ) from error


def _media(call: Call[T], response: httpx2.Response) -> Media:
    """Return the picture or page in a response; raise `msgspec.DecodeError` where it is not in the form asked for."""
    given = response.headers.get("Content-Type", "").partition(";")[0].strip().lower()
    if given != call.headers.get("Accept"):
        raise msgspec.DecodeError(f"it is {given or 'of no declared type'}, not {call.headers.get('Accept')}")
    return Media(response.content, given)
