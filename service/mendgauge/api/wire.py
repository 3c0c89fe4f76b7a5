"""HTTP as uvicorn speaks it with httptools, save for three things.

Bytes that are no HTTP are refused with a problem too. An upgrade that is offered beside a request is declined, as RFC
9110 (7.8) lets a server do, and the request answered: the parser would drop its body. And a caller that does not read
its answer is cut off, so that nothing is held for it.
"""

from __future__ import annotations

from asyncio import TimerHandle
from secrets import token_hex

import httptools
import msgspec
import structlog
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from mendgauge.api.problems import MALFORMED, PROBLEM_JSON, Refusal, problem

UNREAD_SECONDS = 30.0
"""How long a caller may leave an answer unread: for so long it takes less than 48 kB."""

_OFFERS = (b"upgrade", b"http2-settings")
"""Headers that speak of the connection as it would be after an upgrade."""

_log = structlog.get_logger()


class Wire(HttpToolsProtocol):
    """One connection."""

    _unread: TimerHandle | None = None

    def data_received(self, data: bytes) -> None:
        """Read on; where the parser stops at an offer of another protocol, read the request without the offer."""
        self._unset_keepalive_if_required()
        try:
            self.parser.feed_data(data)
        except httptools.HttpParserUpgrade as stopped:
            if self._offered():
                head = self._head_without_offer()
                self.parser = httptools.HttpRequestParser(self)
                self.parser.set_dangerous_leniencies(lenient_data_after_close=True)  # as uvicorn sets it
                self.data_received(head + data[stopped.args[0] :])
            else:
                self.send_400_response("another protocol was asked for")
        except httptools.HttpParserError:
            self.send_400_response("no HTTP")

    def on_headers_complete(self) -> None:
        if not self._offered():
            super().on_headers_complete()

    def on_message_complete(self) -> None:
        if not self._offered():
            super().on_message_complete()

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

    def pause_writing(self) -> None:
        super().pause_writing()
        self._unread = self.loop.call_later(UNREAD_SECONDS, self._cut_off)

    def resume_writing(self) -> None:
        super().resume_writing()
        self._forget_unread()

    def connection_lost(self, exc: Exception | None) -> None:
        super().connection_lost(exc)
        self._forget_unread()

    def _forget_unread(self) -> None:
        if self._unread is not None:
            self._unread.cancel()
            self._unread = None

    def _cut_off(self) -> None:
        _log.warning("cut off: the caller does not read its answer", seconds=UNREAD_SECONDS)
        self.transport.abort()

    def send_400_response(self, msg: str) -> None:
        """Answer bytes that cannot be read as a request, and close the connection."""
        request_id = token_hex(16)
        body = msgspec.json.encode(problem(Refusal(MALFORMED, "this is not a request as HTTP has it"), request_id))
        head = (
            f"HTTP/1.1 400 Bad Request\r\ncontent-type: {PROBLEM_JSON}\r\ncontent-length: {len(body)}\r\n"
            f"x-request-id: {request_id}\r\nconnection: close\r\n\r\n"
        )
        self.transport.write(head.encode() + body)
        self.transport.close()
        _log.info(
            "request", method=None, path=None, status=400, bytes=len(body), ms=None, request_id=request_id, why=msg
        )
