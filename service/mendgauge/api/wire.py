"""HTTP as uvicorn speaks it with httptools, save that bytes which are no HTTP are refused with a problem too."""

from __future__ import annotations

from secrets import token_hex

import msgspec
import structlog
from uvicorn.protocols.http.httptools_impl import HttpToolsProtocol

from mendgauge.api.problems import MALFORMED, PROBLEM_JSON, Refusal, problem

_log = structlog.get_logger()


class Wire(HttpToolsProtocol):
    """One connection."""

    def send_400_response(self, msg: str) -> None:
        """Answers bytes that cannot be read as a request, and closes the connection."""
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
