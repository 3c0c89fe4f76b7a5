"""A service that answers by a script, asked through the sync and the async client by turns."""

from __future__ import annotations

import asyncio
import socket
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any, ClassVar, TypeAlias

import httpx2
import msgspec
import pytest
import structlog
import uvicorn

from mendgauge.server import create_app
from mendgauge_client import AsyncMendgauge, Mendgauge, Reply
from mendgauge_client._call import Call

Line: TypeAlias = httpx2.Response | Exception


class Answer(msgspec.Struct):
    """What the scripted service answers with."""

    verdict: str


class Scripted:
    """Answers calls by a script, whose last line serves over and over, and keeps what was sent and the pauses made."""

    URL: ClassVar = "http://tyres.example"
    ASK: ClassVar = Call(method="POST", path="/v1/ask", answer=Answer, body={"rulebook": "gb"})
    ANSWER: ClassVar = httpx2.Response(200, json={"verdict": "repairable"})

    def __init__(self, asynchronous: bool) -> None:
        self.asynchronous = asynchronous
        self.requests: list[httpx2.Request] = []
        self.pauses: list[float] = []

    def ask(
        self,
        *script: Line,
        call: Call[Any] = ASK,
        timeout: float | None = None,
        request_id: str | None = None,
        base_url: str | None = URL,
        **settings: Any,
    ) -> Reply[Any]:
        """What a call brings when the service answers by that script."""
        transport = httpx2.MockTransport(self._answers(script))
        if not self.asynchronous:
            with Mendgauge(base_url, http_client=httpx2.Client(transport=transport), **settings) as client:
                return client.send(call, timeout, request_id)

        async def ask() -> Reply[Any]:
            http_client = httpx2.AsyncClient(transport=transport)
            async with AsyncMendgauge(base_url, http_client=http_client, **settings) as client:
                return await client.send(call, timeout, request_id)

        return asyncio.run(ask())

    def _answers(self, script: tuple[Line, ...]) -> Callable[[httpx2.Request], httpx2.Response]:
        def answer(request: httpx2.Request) -> httpx2.Response:
            line = script[min(len(self.requests), len(script) - 1)]
            self.requests.append(request)
            if isinstance(line, Exception):
                raise line
            return httpx2.Response(line.status_code, headers=line.headers, content=line.content)

        return answer


@pytest.fixture(params=["sync", "async"])
def service(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Scripted:
    scripted = Scripted(request.param == "async")

    async def pause(seconds: float) -> None:
        scripted.pauses.append(seconds)

    monkeypatch.setattr(time, "sleep", scripted.pauses.append)
    monkeypatch.setattr(asyncio, "sleep", pause)
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    monkeypatch.delenv("MENDGAUGE_API_KEY", raising=False)
    return scripted


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The service on a free port. It ends with its module: another's tests may stop the clock it runs by."""
    server = uvicorn.Server(uvicorn.Config(create_app(), log_config=None, access_log=False, lifespan="on"))
    listening = socket.create_server(("127.0.0.1", 0))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join()
    listening.close()


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Surroundings to run the command line in: nothing set, and the log of a service in this process put back after."""
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    monkeypatch.delenv("MENDGAUGE_API_KEY", raising=False)
    yield
    structlog.reset_defaults()
