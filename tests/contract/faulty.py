"""A service behind a proxy that breaks the contract in one way at a time."""

from __future__ import annotations

import json
from asyncio import Event
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, TypeAlias

from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send


@dataclass
class Exchange:
    """A request and the answer to it, as a fault may change them."""

    method: str
    path: str
    asked: bytes
    asked_headers: dict[str, str]
    status: int = 0
    headers: dict[str, str] = field(default_factory=dict)
    body: bytes = b""

    def json(self) -> Any:
        return json.loads(self.body)

    def say(self, content: Any) -> None:
        """Answer with other content."""
        self.body = content if isinstance(content, bytes) else json.dumps(content).encode()


Fault: TypeAlias = Callable[[Exchange], None]
"""Changes an exchange: called with the request before it is passed on, while `status` is 0, and with the answer."""


class Faulty:
    """An ASGI application around another, with the fault that is set; without one it passes everything on."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app
        self.fault: Fault | None = None

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == ScopeType.HTTP and self.fault is not None:
            await self._handle(self.fault, scope, receive, send)
        else:
            await self.app(scope, receive, send)

    async def _handle(self, fault: Fault, scope: HTTPScope, receive: Receive, send: Send) -> None:
        body = await _whole(receive)
        headers = {name.decode().lower(): value.decode("latin-1") for name, value in scope["headers"]}
        exchange = Exchange(scope["method"], scope["path"], body, headers)
        fault(exchange)
        if not exchange.status:
            await self._pass_on(scope.copy(), exchange)
            fault(exchange)
        await _answer(exchange, send)

    async def _pass_on(self, scope: HTTPScope, exchange: Exchange) -> None:
        exchange.asked_headers["content-length"] = str(len(exchange.asked))
        # A fault reads and changes the answer as it is written, so none is asked for compressed.
        asked = {name: value for name, value in exchange.asked_headers.items() if name != "accept-encoding"}
        scope["headers"] = [(name.encode(), value.encode("latin-1")) for name, value in asked.items()]

        sent, answered = False, Event()

        async def receive() -> Any:
            nonlocal sent
            if sent:
                await answered.wait()  # as a server does: the caller is heard to leave once it has its answer
                return {"type": "http.disconnect"}
            sent = True
            return {"type": "http.request", "body": exchange.asked, "more_body": False}

        async def send(message: Message) -> None:
            if message["type"] == "http.response.start":
                exchange.status = message["status"]
                exchange.headers = {name.decode().lower(): value.decode() for name, value in message["headers"]}
            elif message["type"] == "http.response.body":
                exchange.body += message.get("body", b"")
                if not message.get("more_body", False):
                    answered.set()

        await self.app(scope, receive, send)


async def _whole(receive: Receive) -> bytes:
    body, more = b"", True
    while more:
        message: Any = await receive()
        body += message.get("body", b"")
        more = message.get("more_body", False)
    return body


async def _answer(exchange: Exchange, send: Send) -> None:
    headers = exchange.headers | {"content-length": str(len(exchange.body))}
    if exchange.method == "HEAD":
        headers["content-length"] = exchange.headers.get("content-length", "0")
    start: Any = {
        "type": "http.response.start",
        "status": exchange.status,
        "headers": [(name.encode(), value.encode("latin-1")) for name, value in headers.items()],
    }
    await send(start)
    await send({"type": "http.response.body", "body": exchange.body, "more_body": False})
