"""A release that is still to come: the service, answering with fields and words that its document does not have."""

from __future__ import annotations

from typing import Any

import msgspec
from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPResponseStartEvent, Message, Receive, Scope, Send

WORD = "word_of_a_later_release"


def later_release(app: ASGIApp) -> ASGIApp:
    """Return the application with additions in its answers, as the contract says that they may come at any time."""

    async def answer(scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] != ScopeType.HTTP:  # the start and the stop of the process
            await app(scope, receive, send)
            return
        scope["headers"] = [(name, value) for name, value in scope["headers"] if name != b"accept-encoding"]
        started: list[HTTPResponseStartEvent] = []
        body = bytearray()

        async def add(message: Message) -> None:
            if message["type"] == "http.response.start":
                started.append(message)
            elif message["type"] == "http.response.body":
                body.extend(message["body"])
                if not message["more_body"]:
                    answer = msgspec.json.encode(_added(msgspec.json.decode(bytes(body))))
                    (start,) = started
                    kept = [header for header in start["headers"] if header[0] != b"content-length"]
                    start["headers"] = [*kept, (b"content-length", str(len(answer)).encode("ascii"))]
                    await send(start)
                    await send({"type": "http.response.body", "body": answer, "more_body": False})

        await app(scope, receive, add)

    return answer


def _added(answer: dict[str, Any]) -> dict[str, Any]:
    findings = [{**finding, "outcome": WORD, "field_to_come": [1]} for finding in answer["findings"]]
    return {**answer, "verdict": WORD, "next_step": WORD, "findings": findings, "field_to_come": {"any": None}}
