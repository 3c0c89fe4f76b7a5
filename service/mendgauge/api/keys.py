"""API keys: none asked for unless the operator sets some, then one needed for everything under `/v1`."""

from __future__ import annotations

from collections.abc import Iterable
from hashlib import sha256
from hmac import compare_digest
from typing import Any

from litestar.connection import ASGIConnection
from litestar.handlers import BaseRouteHandler
from litestar.types import Guard

from mendgauge.api.problems import KEY_REFUSED, Refusal


def key_guard(keys: Iterable[str]) -> Guard:
    """A guard that lets through only requests with `Authorization: Bearer <key>` (RFC 6750) and one of these keys.

    Every key is compared, by digest, so that the time taken tells nothing of how near a guess came.
    """
    digests = [_digest(key) for key in keys]

    def guard(connection: ASGIConnection[Any, Any, Any, Any], _handler: BaseRouteHandler) -> None:
        scheme, _, key = connection.headers.get("authorization", "").partition(" ")
        if not key or scheme.lower() != "bearer":
            raise _refusal("no API key was sent", "")
        if sum([compare_digest(_digest(key.strip()), digest) for digest in digests]) == 0:
            raise _refusal("the API key sent is not one of this service's", ', error="invalid_token"')

    return guard


def _digest(key: str) -> bytes:
    return sha256(key.encode()).digest()


def _refusal(detail: str, error: str) -> Refusal:
    return Refusal(KEY_REFUSED, detail, headers={"WWW-Authenticate": f'Bearer realm="mendgauge"{error}'})
