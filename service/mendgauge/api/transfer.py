"""How messages travel: one Host, answers packed as the caller accepts, who may keep them, which pages may read them.

Stands between the edge and the application, and holds for every answer of the application.
"""

from __future__ import annotations

import asyncio
from collections.abc import Collection
from time import perf_counter
from typing import Any

import msgspec
from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from mendgauge.api.codings import PACKERS, Packer, preferred
from mendgauge.api.problems import MALFORMED, PROBLEM_JSON, Refusal, problem
from mendgauge.api.under_way import TURN_SECONDS, Lease, UnderWay

PACKED_MIN = 1024
"""Answers of fewer bytes go as they are: they fit one packet anyway."""

SLICE = 65_536
"""Bytes that are packed in one go."""

_READABLE = b"ETag, RateLimit, RateLimit-Policy, Retry-After, X-Request-Id"
_CORS = [
    (b"access-control-allow-methods", b"GET, HEAD, POST"),
    (b"access-control-allow-headers", b"Authorization, Content-Encoding, Content-Type, If-None-Match, X-Request-Id"),
    (b"access-control-max-age", b"600"),
]

Headers = list[tuple[bytes, bytes]]


class Transfer:
    """An ASGI application around another."""

    def __init__(self, app: ASGIApp, under_way: UnderWay, origins: Collection[str] = ()) -> None:
        self.app = app
        self._under_way = under_way
        self._origins = frozenset(origin.encode() for origin in origins)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:
            await self.app(scope, receive, send)
            return
        headers = scope["state"]["headers"]
        if (hosts := _hosts(scope, headers)) != 1:
            await _refuse(scope, send, f"the request has {hosts} `Host` headers; it needs one")
            return
        known = self._cors(headers.get(b"origin", b"")) if self._origins else []
        if len(known) > 1 and scope["method"] == "OPTIONS":
            await send({"type": "http.response.start", "status": 204, "headers": [*known, *_CORS]})
            await send({"type": "http.response.body", "body": b"", "more_body": False})
            return
        lease = Lease(self._under_way)
        scope["state"]["lease"], scope["state"]["turn"] = lease, self._under_way.turn
        try:
            await self.app(scope, receive, _Answer(send, headers.get(b"accept-encoding", b""), known).send)
        finally:
            lease.release()

    def _cors(self, origin: bytes) -> Headers:
        """Return the headers that let a page of another origin read the answer, where the operator named it."""
        vary = (b"vary", b"Origin")
        if origin not in self._origins:
            return [vary]
        return [vary, (b"access-control-allow-origin", origin), (b"access-control-expose-headers", _READABLE)]


class _Answer:
    """An answer under way: its head waits until the first of its body says whether it is worth packing."""

    def __init__(self, send: Send, accepted: bytes, more: Headers) -> None:
        self._send, self._accepted, self._more = send, accepted, more
        self._head: Any = None
        self._packer: Packer | None = None

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self._head = message
            return
        if message["type"] != "http.response.body":
            await self._send(message)
            return
        body, more_body = message.get("body", b""), message.get("more_body", False)
        if self._head is not None:
            body = await self._begin(body, more_body=more_body)
        if self._packer is None:
            await self._send({"type": "http.response.body", "body": body, "more_body": more_body})
        else:
            await self._pack(self._packer, body, more_body=more_body)

    async def _begin(self, body: bytes, *, more_body: bool) -> bytes:
        """Send the head, and return what is left to send of the first of the body, packed already if it is all."""
        head, self._head = self._head, None
        headers = [*head["headers"], (b"vary", b"Accept-Encoding"), *self._more]
        names = dict(headers)
        if b"cache-control" not in names:
            headers.append((b"cache-control", b"no-cache" if b"etag" in names else b"no-store"))
        coding = preferred(self._accepted.decode("latin-1")) if self._accepted else None
        if coding and head["status"] == 304:  # the tag is that of the answer which the caller holds
            headers = [_packed(name, value) for name, value in headers]
        elif coding and (more_body or len(body) >= PACKED_MIN):
            headers = [_packed(name, value) for name, value in headers if name != b"content-length"]
            headers.append((b"content-encoding", coding.encode()))
            packer = PACKERS[coding]()
            if more_body or len(body) > SLICE:
                self._packer = packer
            else:
                body = packer.pack(body) + packer.end()
                headers.append((b"content-length", str(len(body)).encode()))
        head["headers"] = headers
        await self._send(head)
        return body

    async def _pack(self, packer: Packer, body: bytes, *, more_body: bool) -> None:
        began = perf_counter()
        for start in range(0, len(body), SLICE):
            if perf_counter() - began > TURN_SECONDS:
                await asyncio.sleep(0)
                began = perf_counter()
            if part := packer.pack(body[start : start + SLICE]):
                await self._send({"type": "http.response.body", "body": part, "more_body": True})
        if not more_body:
            await self._send({"type": "http.response.body", "body": packer.end(), "more_body": False})


def _hosts(scope: HTTPScope, headers: dict[bytes, bytes]) -> int:
    """Return how many `Host` headers a request has; one where it needs none (RFC 9112, 3.2)."""
    host = headers.get(b"host")
    if host is None:
        return 0 if scope["http_version"] == "1.1" else 1
    return [name for name, _ in scope["headers"]].count(b"host") if b"," in host else 1


def _packed(name: bytes, value: bytes) -> tuple[bytes, bytes]:
    """Return a header as it is of a packed answer: its tag names the same content, but not the same bytes."""
    return (name, b"W/" + value if name == b"etag" and not value.startswith(b"W/") else value)


async def _refuse(scope: HTTPScope, send: Send, detail: str) -> None:
    body = msgspec.json.encode(problem(Refusal(MALFORMED, detail), scope["state"]["request_id"]))
    headers = [
        (b"content-type", PROBLEM_JSON.encode()),
        (b"content-length", str(len(body)).encode()),
        (b"connection", b"close"),
    ]
    await send({"type": "http.response.start", "status": MALFORMED.status, "headers": headers})
    await send({"type": "http.response.body", "body": body, "more_body": False})
