"""The edge: what holds for every request, whether or not any operation is reached.

A request id is taken or made and always told; HEAD is answered as GET without its body; a failure that nothing else
caught is still a problem; and each request leaves one line in the log, without anything of its body.
"""

from __future__ import annotations

import re
from secrets import token_hex
from time import perf_counter

import msgspec
import structlog
from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from mendgauge.api.problems import FAILURE, PROBLEM_JSON, problem

REQUEST_ID_PATTERN = "^[A-Za-z0-9._:-]{1,64}$"
"""A request id that is taken over from the caller. Any other is replaced."""

_well_formed = re.compile(REQUEST_ID_PATTERN.removesuffix("$").encode() + rb"\Z").match
_log = structlog.get_logger()


class Edge:
    """An ASGI application around another."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == ScopeType.HTTP:
            await self._handle(scope, receive, send)
        else:
            await self.app(scope, receive, send)

    async def _handle(self, scope: HTTPScope, receive: Receive, send: Send) -> None:
        began = perf_counter()
        request_id = _request_id(scope)
        method = scope["method"]
        if method == "HEAD":
            scope = scope.copy()  # the server's own must go on saying HEAD: it would miss the body of a GET
            scope["method"] = "GET"
        scope.setdefault("state", {})["request_id"] = request_id
        answer = _Answer(send, request_id, with_body=method != "HEAD")
        structlog.contextvars.bind_contextvars(request_id=request_id)
        try:
            await self.app(scope, receive, answer.send)
        except Exception as error:
            _log.error("request failed outside the application", exc_info=error)
            await answer.fail()
        finally:
            _log.info(
                "request",
                method=method,
                path=scope.get("path_template"),
                status=answer.status,
                bytes=answer.bytes,
                ms=round((perf_counter() - began) * 1000, 3),
            )
            structlog.contextvars.unbind_contextvars("request_id")


class _Answer:
    """What is sent back: passed on, with the request id, and counted."""

    def __init__(self, send: Send, request_id: str, *, with_body: bool) -> None:
        self._send, self._request_id, self._with_body = send, request_id, with_body
        self.status: int | None = None
        self.bytes = 0

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.status = message["status"]
            headers = [*message["headers"], (b"x-request-id", self._request_id.encode())]
            message["headers"] = _with_head(headers) if self.status in (204, 405) else headers
        elif message["type"] == "http.response.body":
            if not self._with_body:
                message["body"] = b""
            self.bytes += len(message["body"])
        await self._send(message)

    async def fail(self) -> None:
        """Answer 500, unless an answer is under way: then its missing end tells."""
        if self.status is None:
            body = msgspec.json.encode(problem(FAILURE, self._request_id))
            headers = [(b"content-type", PROBLEM_JSON.encode()), (b"content-length", str(len(body)).encode())]
            await self.send({"type": "http.response.start", "status": 500, "headers": headers})
            await self.send({"type": "http.response.body", "body": body, "more_body": False})


def _request_id(scope: HTTPScope) -> str:
    for name, value in scope["headers"]:
        if name == b"x-request-id" and _well_formed(value):
            return value.decode()
    return token_hex(16)


def _with_head(headers: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    """The headers with HEAD in `Allow` beside GET, since the edge answers it."""
    return [
        (name, value.replace(b"GET", b"GET, HEAD") if name == b"allow" and b"HEAD" not in value else value)
        for name, value in headers
    ]
