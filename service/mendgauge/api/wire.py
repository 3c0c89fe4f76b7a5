"""HTTP as uvicorn speaks it with httptools, save for three things.

Bytes that are no HTTP are refused with a problem too. An upgrade that is offered beside a request is declined, as RFC
9110 (7.8) lets a server do, and the request answered: the parser would drop its body. And a caller that takes too long
over its request or its answer is cut off, so that nothing is held for it.
"""

from __future__ import annotations

from collections.abc import Hashable
from http import HTTPStatus
from secrets import token_hex
from typing import Any

import httptools
import msgspec
import structlog
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol, RequestResponseCycle

from mendgauge.api.connections import Connections, Limits, Stage
from mendgauge.api.metrics import count_refused_bytes
from mendgauge.api.problems import HEAD_TOO_LARGE, MALFORMED, PROBLEM_JSON, REQUEST_TIMEOUT, Refusal, problem

MOST_HEAD_BYTES = 32_768
"""Request line and headers together."""

_OFFERS = (b"upgrade", b"http2-settings")
"""Headers that speak of the connection as it would be after an upgrade."""

_log = structlog.get_logger()

_HEAD_TOO_LARGE = Refusal(
    HEAD_TOO_LARGE, f"the request line and the headers have more than {MOST_HEAD_BYTES} bytes together"
)


class Wire(HttpToolsProtocol):
    """One connection."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._connections: Connections = self.app_state.setdefault("connections", Connections(Limits()))
        self._running: RequestResponseCycle | None = None
        self._begun = False
        self._in_head, self._in_body = True, False
        self._head_bytes = 0

    def connection_made(self, transport: Any) -> None:
        """Take the connection in, within the bound."""
        super().connection_made(transport)
        self._within_bound = self._connections.admit(self)

    def connection_lost(self, exc: Exception | None) -> None:
        """Let nothing be read from or written to it any more, not even for a request behind another."""
        self._connections.leave(self)
        self.pipeline.clear()
        if self._running:
            self._running.disconnected = True
            self._running.message_event.set()
        super().connection_lost(exc)

    def data_received(self, data: bytes) -> None:
        """Read on; where the parser stops at an offer of another protocol, read the request without the offer."""
        self._head_bytes += len(data)
        self._unset_keepalive_if_required()
        while data:
            try:
                self.parser.feed_data(data)
            except httptools.HttpParserUpgrade as stopped:
                if not self._offered():
                    self.send_400_response("another protocol was asked for")
                    return
                data = self._head_without_offer() + data[stopped.args[0] :]
                self.parser = httptools.HttpRequestParser(self)
                self.parser.set_dangerous_leniencies(lenient_data_after_close=True)  # as uvicorn sets it
            except httptools.HttpParserError:
                self.send_400_response("no HTTP")
                return
            else:
                break
        if self._in_head and self._head_bytes > MOST_HEAD_BYTES and not self.transport.is_closing():
            self._refuse(_HEAD_TOO_LARGE)

    def on_message_begin(self) -> None:
        """Begin a request."""
        super().on_message_begin()
        self._begun = self._in_head = True

    def on_headers_complete(self) -> None:
        """Hand the request to the application, with what the edge is to refuse it for."""
        if self._offered():
            return
        self._in_head, self._in_body = False, True
        state = self.scope["state"]
        state["within_bound"] = self._within_bound
        if self._head_bytes > MOST_HEAD_BYTES and self._head_size() > MOST_HEAD_BYTES:
            state["refusal"] = _HEAD_TOO_LARGE
        self._head_bytes = 0
        super().on_headers_complete()

    def on_message_complete(self) -> None:
        """End a request's body."""
        if not self._offered():
            self._in_body = False
            super().on_message_complete()

    def _start_asgi_task(self, cycle: RequestResponseCycle, app: Any) -> None:
        self._running = cycle
        super()._start_asgi_task(cycle, app)

    def _offered(self) -> bool:
        """Return whether the request at hand offers another protocol beside itself; CONNECT asks for nothing else."""
        return bool(self.parser.should_upgrade()) and self.parser.get_method() != b"CONNECT"

    def _head_without_offer(self) -> bytes:
        version = self.parser.get_http_version().encode()
        lines = [b"%s %s HTTP/%s" % (self.parser.get_method(), self.url, version)]
        for name, value in self.headers:
            if name == b"connection":
                tokens = [token.strip() for token in value.split(b",")]
                value = b", ".join(token for token in tokens if token.lower() not in _OFFERS)
            if name not in _OFFERS:
                lines.append(b"%s: %s" % (name, value))
        return b"\r\n".join([*lines, b"", b""])

    def stage(self) -> Stage:
        """Return what the connection is waiting for."""
        if self.transport.is_closing():
            return Stage.CLOSING
        if self.transport.get_write_buffer_size():
            return Stage.SENDING
        if self._in_body and not self.flow.read_paused:
            return Stage.REFUSED_BODY if self.scope["state"].get("refusal") else Stage.BODY
        if self._running and not self.cycle.response_complete:
            return Stage.WORKING
        return Stage.HEAD if self._in_head else Stage.IDLE

    def progress(self) -> Hashable:
        """Return what changes with each request, and with each part of an answer that is taken."""
        return id(self.scope), self.transport.get_write_buffer_size()

    def expire(self, stage: Stage) -> None:
        """End a connection on which the other side takes too long, with an answer where one can be sent."""
        late = Refusal(
            REQUEST_TIMEOUT,
            f"the {'headers' if stage is Stage.HEAD else 'body'} of the request took more than "
            f"{self._connections.limits.seconds(stage):g} s to arrive",
            headers={"Connection": "close"},
        )
        if stage is Stage.HEAD and self._begun:
            self._refuse(late)
        elif stage is Stage.BODY and not self.cycle.response_complete:
            self.scope["state"]["refusal"] = late
            self.cycle.message_event.set()  # for the edge to find it
        elif stage in (Stage.HEAD, Stage.IDLE, Stage.BODY):
            self.transport.close()
        else:
            if stage is Stage.SENDING:
                _log.warning("cut off: the caller does not read its answer")
            self.transport.abort()

    def close(self) -> None:
        """Close at once."""
        self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        """Answer bytes that cannot be read as a request, and close the connection."""
        self._refuse(Refusal(MALFORMED, "this is not a request as HTTP has it"), why=msg)

    def _head_size(self) -> int:
        return len(self.url) + sum(len(name) + len(value) + 4 for name, value in self.headers)

    def _refuse(self, refusal: Refusal, **why: str) -> None:
        request_id = token_hex(16)
        status = refusal.kind.status
        body = msgspec.json.encode(problem(refusal, request_id))
        head = (
            f"HTTP/1.1 {status} {HTTPStatus(status).phrase}\r\ncontent-type: {PROBLEM_JSON}\r\n"
            f"content-length: {len(body)}\r\nx-request-id: {request_id}\r\nconnection: close\r\n\r\n"
        )
        self.transport.write(head.encode() + body)
        self.transport.close()
        count_refused_bytes(status)
        _log.info(
            "request",
            method=None,
            path=None,
            status=status,
            bytes=len(body),
            ms=None,
            client=self.client[0] if self.client else None,
            request_id=request_id,
            **why,
        )
