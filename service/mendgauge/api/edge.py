"""The edge: what holds for every request, whether or not any operation is reached.

A request id is reused or generated, and returned in every response; HEAD is answered as GET without its body; a failure
that nothing else caught is still a problem; and each request leaves one line in the log, without anything of its body.
"""

from __future__ import annotations

import asyncio
import re
from secrets import token_hex
from time import monotonic, perf_counter
from typing import Any

import msgspec
import structlog
from litestar.datastructures import State
from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from mendgauge.api.connections import Connections, Limits
from mendgauge.api.headers import headers_by_name
from mendgauge.api.log import standard_output
from mendgauge.api.metrics import count_request
from mendgauge.api.problems import FAILURE, PROBLEM_JSON, UNAVAILABLE, Refusal, problem

REQUEST_ID_PATTERN = "^[A-Za-z0-9._:-]{1,64}$"
"""A request id that is taken over from the caller. Any other is replaced."""

SETTLE_SECONDS = 1.0
"""How long a process that stops waits for its last answers and log lines to go out."""

_STOPPED = Refusal(
    UNAVAILABLE, "the service stopped before it could answer; send the request again", headers={"Retry-After": "1"}
)

_TOO_MANY_CONNECTIONS = Refusal(
    UNAVAILABLE, "there are as many connections as this service takes", headers={"Retry-After": "1"}
)

HEALTH_PATHS = ("/health/live", "/health/ready")

_well_formed = re.compile(REQUEST_ID_PATTERN.removesuffix("$").encode() + rb"\Z").match
_log = structlog.get_logger()


class Edge:
    """An ASGI application around another, whose state says in `unready` why it takes no work, if so."""

    def __init__(self, app: ASGIApp, state: State, limits: Limits | None = None) -> None:
        self.app, self.state = app, state
        self.connections = Connections(limits or Limits())
        self.in_flight = 0

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == ScopeType.HTTP:
            await self._handle(scope, receive, send)
        else:
            # What is put here the server hands to each connection.
            scope.get("state", {})["connections"] = self.connections
            await self.app(scope, self._settled(receive), send)

    async def _handle(self, scope: HTTPScope, receive: Receive, send: Send) -> None:
        began = perf_counter()
        method = scope["method"]
        if method == "HEAD":
            scope = scope.copy()  # the server's own must go on saying HEAD: it would miss the body of a GET
            scope["method"] = "GET"
        state = scope.setdefault("state", {})
        state["headers"] = headers = headers_by_name(scope["headers"])
        state["request_id"] = request_id = _request_id(headers.get(b"x-request-id"))
        answer = _Answer(send, state, self.state, with_body=method != "HEAD")
        structlog.contextvars.bind_contextvars(request_id=request_id)
        self.in_flight += 1
        try:
            if refusal := _refusal_of_connection(scope):
                await answer.fail(refusal)
            else:
                await self.app(scope, receive, answer.send)
        except asyncio.CancelledError:  # the server stops and waits no longer; the task ends here either way
            _log.warning("request cut short: the service stops", answer_begun=answer.status is not None)
            await answer.fail(_STOPPED)
        except Exception as error:
            _log.error("request failed outside the application", exc_info=error)
            await answer.fail(FAILURE)
        finally:
            self.in_flight -= 1
            seconds = perf_counter() - began
            count_request(scope.get("path_template"), answer.status, seconds)
            _log.info(
                "request",
                method=method,
                path=scope.get("path_template"),
                operation=getattr(scope.get("route_handler"), "operation_id", None),
                status=answer.status,
                bytes=answer.bytes,
                ms=round(seconds * 1000, 3),
                client=client[0] if (client := scope.get("client")) else None,
                key=state.get("key"),
                **state.get("judged", {}),
            )
            structlog.contextvars.clear_contextvars()

    def _settled(self, receive: Receive) -> Receive:
        """Let the last answers and log lines go out before the application hears that it is to shut down.

        The server cancels requests that take too long and does not wait for what they then answer.
        """

        async def settled() -> Any:
            message: Any = await receive()
            if message["type"] == "lifespan.shutdown":
                until = monotonic() + SETTLE_SECONDS
                while self.in_flight and monotonic() < until:
                    await asyncio.sleep(0.01)
                await asyncio.sleep(0.01)
                standard_output().settle(SETTLE_SECONDS)
            return message

        return settled


def _refusal_of_connection(scope: HTTPScope) -> Refusal | None:
    """Return what a request is refused for by its connection: its head, or that there are too many connections."""
    state = scope["state"]
    if refusal := state.get("refusal"):
        found: Refusal = refusal
        return found
    if state.get("within_bound", True) or scope["path"] in HEALTH_PATHS:
        return None
    return _TOO_MANY_CONNECTIONS


class _Answer:
    """What is sent back: passed on, with the request id, and counted."""

    def __init__(self, send: Send, request: dict[str, Any], service: State, *, with_body: bool) -> None:
        self._send, self._request, self._service, self._with_body = send, request, service, with_body
        self.status: int | None = None
        self.bytes = 0

    async def send(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.status = message["status"]
            own = (b"x-request-id", self._request["request_id"].encode())
            headers = [*message["headers"], own, *self._request.get("rate_limit_headers", ())]
            # A stop is to find no connection in use, and one beyond the bound makes room again.
            if self._service.unready or not self._request.get("within_bound", True):
                headers.append((b"connection", b"close"))
            message["headers"] = _with_head(headers) if self.status in (204, 405) else headers
        elif message["type"] == "http.response.body":
            if not self._with_body:
                message["body"] = b""
            self.bytes += len(message["body"])
        await self._send(message)

    async def fail(self, refusal: Refusal) -> None:
        """Answer with a problem if no response has started; otherwise leave it truncated, and the server closes."""
        if self.status is None:
            body = msgspec.json.encode(problem(refusal, self._request["request_id"]))
            headers = {"Content-Type": PROBLEM_JSON, "Content-Length": str(len(body)), **refusal.headers}
            raw = [(name.lower().encode(), value.encode()) for name, value in headers.items()]
            await self.send({"type": "http.response.start", "status": refusal.kind.status, "headers": raw})
            await self.send({"type": "http.response.body", "body": body, "more_body": False})


def _request_id(given: bytes | None) -> str:
    return given.decode() if given and _well_formed(given) else token_hex(16)


def _with_head(headers: list[tuple[bytes, bytes]]) -> list[tuple[bytes, bytes]]:
    """Return the headers with HEAD in `Allow` beside GET, since the edge answers it."""
    return [
        (name, value.replace(b"GET", b"GET, HEAD") if name == b"allow" and b"HEAD" not in value else value)
        for name, value in headers
    ]
