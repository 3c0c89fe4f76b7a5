"""Request bodies, read strictly: JSON alone, once, straight into the type that the handler asks for.

What a body can cost is bounded before it is looked at: a case has so many bytes at most, whatever a batch may have, and
all bodies under way hold so many together.
"""

from __future__ import annotations

import codecs
from functools import cache
from typing import Any, Final

import msgspec
from litestar import Request
from litestar.handlers import HTTPRouteHandler

from mendgauge.api.codings import Gunzip, UnpackError
from mendgauge.api.flaws import contract_flaws, first_flaw
from mendgauge.api.given_twice import find_names_given_twice, names_given_twice
from mendgauge.api.problems import (
    BODY_TOO_LARGE,
    CONTRACT_BROKEN,
    MALFORMED,
    UNSUPPORTED_MEDIA_TYPE,
    Refusal,
    faults_of,
)
from mendgauge.core.errors import Flaw

CASE_BYTES_MAX: Final = 524_288
"""Bytes of one case: more than the longest that the contract admits has, each of its characters escaped."""


class StrictRequest(Request[Any, Any, Any]):
    """A request whose `data` is decoded by msgspec in strict mode, and refused with a problem when it cannot be."""

    _unpacked: bytes | None = None

    async def body(self) -> bytes:
        """Return the bytes sent, unpacked; a second time without reading or checking anything anew.

        Raises:
            Refusal: 415 when they are not declared as plain JSON, 413 when there are more than are taken, 503 when all
                bodies together are too many, 408 when they take too long, 400 when there are none or not all arrived.
        """
        if self._unpacked is None:
            try:
                self._unpacked = await self._read()
            except UnpackError as error:
                raise Refusal(MALFORMED, str(error)) from error
        return self._unpacked

    async def _read(self) -> bytes:
        """Return the body once all of it has arrived, its bytes held from the lease of the request."""
        state = self.scope["state"]
        headers, lease = state["headers"], state["lease"]
        packed = is_packed(headers.get(b"content-type", b""), headers.get(b"content-encoding", b""))
        most = _most(self.route_handler)
        length = headers.get(b"content-length", b"")
        if length.isdigit() and int(length) > most:
            raise _too_large(most)
        gunzip = Gunzip() if packed else None
        parts, size, received, more = [], 0, 0, True
        while more:
            message: Any = await self.receive()
            if refusal := state.get("refusal"):  # the connection found that the body takes too long
                raise refusal
            if message["type"] == "http.disconnect":
                raise Refusal(MALFORMED, "the connection closed before the whole body had arrived")
            sent, more = message.get("body", b""), message.get("more_body", False)
            received += len(sent)  # what it unpacks to may be nothing, however much is sent
            if received > most:
                raise _too_large(most)
            for part in gunzip.parts(sent, most + 1) if gunzip else (sent,):
                size += len(part)
                if size > most:
                    raise _too_large(most)
                lease.take(len(part))
                parts.append(part)
        if gunzip:
            gunzip.end()
        if not size:
            raise Refusal(MALFORMED, "the request has no body; send one JSON object")
        return b"".join(parts)

    async def json(self) -> Any:
        """Return the body as the handler's `data` type."""
        field = self.route_handler.parsed_data_field
        if field is None:
            raise TypeError("only a handler with `data` asks for the body as JSON")
        return decode(await self.body(), field.annotation)


@cache  # of the operations there are
def _most(operation: HTTPRouteHandler) -> int:
    """Return how many bytes the body may have: those of a case, unless the operation takes many."""
    most: int = operation.resolve_request_max_body_size() or CASE_BYTES_MAX
    return most if operation.opt.get("many_cases") else min(most, CASE_BYTES_MAX)


def _too_large(most: int) -> Refusal:
    return Refusal(BODY_TOO_LARGE, f"the body has more than the {most} bytes that this operation takes")


def is_packed(content_type: bytes, content_encoding: bytes) -> bool:
    """Return whether a body is declared as packed with gzip.

    Raises:
        Refusal: 415 when it is not declared as `application/json` in UTF-8, or packed in another way.
    """
    if content_type == b"application/json" and not content_encoding:
        return False
    kind, coding = content_type.decode("latin-1"), content_encoding.decode("latin-1")
    media_type, *parameters = [part.strip().lower() for part in kind.split(";")]
    if media_type != "application/json" or not {*parameters} <= {"charset=utf-8", 'charset="utf-8"', ""}:
        given = f"not {kind[:80]!r}" if kind else "and no Content-Type was given"
        raise Refusal(
            UNSUPPORTED_MEDIA_TYPE,
            f"send the body as `Content-Type: application/json` (UTF-8), {given}",
            headers={"Accept": "application/json"},
        )
    if coding.strip().lower() not in ("", "identity", "gzip", "x-gzip"):
        raise Refusal(
            UNSUPPORTED_MEDIA_TYPE,
            f"send the body as it is or packed with gzip, not encoded as {coding[:40]!r}",
            headers={"Accept-Encoding": "gzip, identity"},
        )
    return coding.strip().lower() in ("gzip", "x-gzip")


def decode(body: bytes | msgspec.Raw, model: Any, what: str = "the body") -> Any:
    """Return a body, or a part of one that is called so, as a value of a msgspec type.

    Raises:
        Refusal: 400 when the body is not JSON, 422 with the first flaws found when it is JSON of another shape, or when
            it gives a name twice in one object.
    """
    try:
        value = _decoder(model).decode(body)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise _refused(body, model, what, error) from error
    if flaws := names_given_twice(body if type(body) is bytes else bytes(body), value):
        raise _broken(what, flaws)
    return value


def size_of(body: bytes | msgspec.Raw) -> int:
    """Return how many bytes a body, or a part of one, has."""
    return memoryview(body).nbytes


@cache
def _decoder(model: Any) -> msgspec.json.Decoder[Any]:
    return msgspec.json.Decoder(model)


def _refused(body: bytes | msgspec.Raw, model: Any, what: str, error: Exception) -> Refusal:
    try:
        if not isinstance(error, msgspec.ValidationError):
            raise error
        if size_of(body) > CASE_BYTES_MAX:
            msgspec.json.decode(body, type=msgspec.Raw)  # is it JSON at all? Nothing of it is kept
            flaws: tuple[Flaw, ...] = (first_flaw(error, model),)
        else:
            # Only a name given twice can hide a flaw from the second reading: the last of its values is the one kept.
            flaws = contract_flaws(msgspec.json.decode(body), model) or find_names_given_twice(bytes(body))
    except msgspec.ValidationError:
        return Refusal(MALFORMED, f"{what} holds a number too large for a 64-bit float")
    except UnicodeDecodeError as foreign:
        return Refusal(MALFORMED, f"{what} is not valid UTF-8{_behind(foreign)}; send it in UTF-8")
    except RecursionError:
        return Refusal(MALFORMED, f"{what} is nested too deeply")
    except msgspec.DecodeError as malformed:
        return Refusal(MALFORMED, f"{what} is not valid JSON: {_not_json(body, malformed)}")
    return _broken(what, flaws)


def _broken(what: str, flaws: tuple[Flaw, ...]) -> Refusal:
    return Refusal(CONTRACT_BROKEN, f"{what} is JSON, but not what this operation takes", faults_of(flaws))


_BYTE_ORDER_MARKS: Final = {
    codecs.BOM_UTF8: "it begins with a byte order mark (EF BB BF); send it without",
    codecs.BOM_UTF16_LE: "it is in UTF-16; send it in UTF-8",
    codecs.BOM_UTF16_BE: "it is in UTF-16; send it in UTF-8",
}
"""What is sent by programs that write JSON as they write text files, by its first bytes."""


def _not_json(body: bytes | msgspec.Raw, malformed: msgspec.DecodeError) -> str:
    """Return why a body is not JSON, and what would be right where that is known."""
    head = bytes(memoryview(body)[:3])
    marked = next((says for mark, says in _BYTE_ORDER_MARKS.items() if head.startswith(mark)), None)
    words = str(malformed).removeprefix("JSON is malformed: ")
    return marked or words.replace("Input data was truncated", "it ends too early")


def _behind(foreign: UnicodeDecodeError) -> str:
    """Return what stands before the first byte that is not UTF-8, in the text that holds it."""
    before = foreign.object[: foreign.start].decode()[-20:]
    return f", after {before!r}" if before else ""
