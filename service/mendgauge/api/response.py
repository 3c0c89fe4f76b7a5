"""What an operation returns, as JSON on its way out."""

from __future__ import annotations

from typing import Any

import msgspec
from litestar import Request, Response
from litestar.types import ASGIApp, HTTPResponseBodyEvent, HTTPResponseStartEvent, Receive, Scope, Send

from mendgauge.api.metrics import count_answer

_encode = msgspec.json.Encoder().encode


class JsonResponse(Response[Any]):
    """A response whose content is a Struct, with no headers beside those of its JSON.

    What it came to is counted, and noted in the request's state for its line in the log.
    """

    def __init__(self, content: object, *, status_code: int, **_options: Any) -> None:
        """Take what an operation returned; the options of other responses it has not."""
        self.content, self.status_code = content, status_code

    def to_asgi_response(  # type: ignore[override]  # a function, where the framework makes an object of a class
        self, *, request: Request[Any, Any, Any], **_options: Any
    ) -> ASGIApp:
        """Return what sends the response."""
        _note(self.content, request.scope["state"])
        body = _encode(self.content)
        headers = [(b"content-type", b"application/json"), (b"content-length", b"%d" % len(body))]
        start: HTTPResponseStartEvent = {
            "type": "http.response.start",
            "status": self.status_code or 200,
            "headers": headers,
        }
        whole: HTTPResponseBodyEvent = {"type": "http.response.body", "body": body, "more_body": False}

        async def send_both(_scope: Scope, _receive: Receive, send: Send) -> None:
            await send(start)
            await send(whole)

        return send_both


def _note(answer: object, state: dict[str, Any]) -> None:
    count_answer(answer)
    if rulebook := getattr(answer, "rulebook", None):
        verdict = getattr(getattr(answer, "repairability", answer), "verdict", None)
        state["judged"] = {"verdict": verdict, "rulebook": f"{rulebook.id}@{rulebook.edition}"}
