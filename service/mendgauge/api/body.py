"""Request bodies, read strictly: JSON alone, once, straight into the type that the handler asks for."""

from __future__ import annotations

from functools import cache
from typing import Any

import msgspec
from litestar import Request
from litestar.exceptions import InternalServerException
from litestar.exceptions.http_exceptions import RequestEntityTooLarge

from mendgauge.api.flaws import contract_flaws
from mendgauge.api.problems import (
    BODY_TOO_LARGE,
    CONTRACT_BROKEN,
    MALFORMED,
    UNSUPPORTED_MEDIA_TYPE,
    Refusal,
    faults_of,
)
from mendgauge.core.errors import Flaw


class StrictRequest(Request[Any, Any, Any]):
    """A request whose `data` is decoded by msgspec in strict mode, and refused with a problem when it cannot be."""

    async def body(self) -> bytes:
        """The bytes sent.

        Raises:
            Refusal: 415 when they are not declared as plain JSON, 413 when there are more than the settings allow, 400
                when there are none or not all arrived.
        """
        require_json(self.headers.get("content-type", ""), self.headers.get("content-encoding", "identity"))
        try:
            body = await super().body()
        except RequestEntityTooLarge as error:
            most = self.route_handler.resolve_request_max_body_size()
            raise Refusal(BODY_TOO_LARGE, f"the body has more than the {most} bytes that this service takes") from error
        except InternalServerException as error:
            raise Refusal(MALFORMED, "the connection closed before the whole body had arrived") from error
        if not body:
            raise Refusal(MALFORMED, "the request has no body; send one JSON object")
        return body

    async def json(self) -> Any:
        """The body as the handler's `data` type. The framework asks for `body()` first: it is not checked anew."""
        field = self.route_handler.parsed_data_field
        assert field is not None, "only a handler with `data` asks for the body as JSON"
        return decode(await super().body(), field.annotation)


def require_json(content_type: str, content_encoding: str) -> None:
    """Refuse a body that is not declared as `application/json` in UTF-8, without content encoding."""
    if content_type == "application/json" and content_encoding == "identity":
        return
    media_type, *parameters = [part.strip().lower() for part in content_type.split(";")]
    if media_type != "application/json" or not {*parameters} <= {"charset=utf-8", 'charset="utf-8"', ""}:
        told = f"not {content_type[:80]!r}" if content_type else "and no Content-Type was given"
        raise Refusal(
            UNSUPPORTED_MEDIA_TYPE,
            f"send the body as `Content-Type: application/json` (UTF-8), {told}",
            headers={"Accept": "application/json"},
        )
    if content_encoding.strip().lower() != "identity":
        raise Refusal(
            UNSUPPORTED_MEDIA_TYPE,
            f"send the body as it is, not encoded as {content_encoding[:40]!r}",
            headers={"Accept-Encoding": "identity"},
        )


def decode(body: bytes | msgspec.Raw, model: Any, told: str = "the body") -> Any:
    """A body, or a part of one that is called so, as a value of a msgspec type.

    Raises:
        Refusal: 400 when the body is not JSON, 422 with every flaw found when it is JSON of another shape.
    """
    try:
        return _decoder(model).decode(body)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as error:
        raise _refused(body, model, told) from error


@cache
def _decoder(model: Any) -> msgspec.json.Decoder[Any]:
    return msgspec.json.Decoder(model)


def _refused(body: bytes | msgspec.Raw, model: Any, told: str) -> Refusal:
    try:
        flaws = contract_flaws(msgspec.json.decode(body), model)
    except msgspec.ValidationError:
        return Refusal(MALFORMED, f"{told} holds a number too large for a 64-bit float")
    except UnicodeDecodeError:
        return Refusal(MALFORMED, f"{told} is not valid UTF-8")
    except RecursionError:
        return Refusal(MALFORMED, f"{told} is nested too deeply")
    except msgspec.DecodeError as malformed:
        return Refusal(MALFORMED, f"{told} is not valid JSON: {str(malformed).removeprefix('JSON is malformed: ')}")
    # Only a name given twice can hide a flaw from the second reading: the last of its values is the one kept.
    flaws = flaws or (Flaw("", "a name is given twice in one object, and one of its values is not allowed"),)
    return Refusal(CONTRACT_BROKEN, f"{told} is JSON, but not what this operation takes", faults_of(flaws))
