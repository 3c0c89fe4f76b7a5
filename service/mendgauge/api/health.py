"""Whether the process lives, and whether it may be sent work."""

from __future__ import annotations

import asyncio
import signal
from collections.abc import AsyncIterator, Callable
from contextlib import AbstractAsyncContextManager, ExitStack, asynccontextmanager
from typing import Annotated, Literal

import msgspec
import structlog
from litestar import Controller, Litestar, get
from litestar.datastructures import State
from litestar.openapi import ResponseSpec
from msgspec import Meta

from mendgauge.api.example import EXAMPLE_CASE
from mendgauge.api.garbage import exempt_what_lasts
from mendgauge.api.problems import PROBLEM_JSON, UNAVAILABLE, Problem, Refusal
from mendgauge.api.signals import handled, unsupervised
from mendgauge.operations.repairability import check_repairability
from mendgauge.rulebooks import list_editions

_log = structlog.get_logger()


class Live(msgspec.Struct, frozen=True):
    """The process runs."""

    status: Annotated[Literal["live"], Meta(description="Always `live`.")]


class Ready(msgspec.Struct, frozen=True):
    """The service takes requests."""

    status: Annotated[Literal["ready"], Meta(description="Always `ready`; otherwise the answer is 503.")]


class HealthController(Controller):
    """Two questions for whoever runs the service; neither needs an API key."""

    path = "/health"
    tags = ("Operations",)

    @get("/live", operation_id="check_live", summary="Does the process run?")
    async def live(self) -> Live:
        """Answers as soon as the process runs, and looks at nothing. If it does not answer, start the process anew."""
        return Live("live")

    @get(
        "/ready",
        operation_id="check_ready",
        summary="May it be sent work?",
        responses={503: ResponseSpec(Problem, description="Not ready", media_type=PROBLEM_JSON)},
    )
    async def ready(self, state: State) -> Ready:
        """503 until the rulebooks are loaded and have passed their self-test, and again once the service is to stop."""
        if state.unready:
            raise Refusal(UNAVAILABLE, state.unready)
        return Ready("ready")


def open_for_work(drain_seconds: float) -> Callable[[Litestar], AbstractAsyncContextManager[None]]:
    """Return the application's lifespan: ready from its start until SIGTERM, or until a worker's supervisor is gone.

    On SIGTERM it is first not ready, so that a proxy which asks `/health/ready` stops sending it work, and stops only
    `drain_seconds` later. The server's own handler of SIGTERM does the stopping; a second SIGTERM reaches it at once.
    """

    @asynccontextmanager
    async def lifespan(app: Litestar) -> AsyncIterator[None]:
        try_rulebooks()
        exempt_what_lasts()
        app.state.unready = ""
        stop = signal.getsignal(signal.SIGTERM)
        loop = asyncio.get_running_loop()

        def drain() -> None:
            assert callable(stop)
            if app.state.unready:
                stop(signal.SIGTERM, None)
            else:
                app.state.unready = "the service is about to stop"
                _log.info("not ready any more, stopping soon", seconds=drain_seconds)
                loop.call_later(drain_seconds, stop, signal.SIGTERM, None)

        with ExitStack() as watched:
            if callable(stop):
                watched.enter_context(handled(signal.SIGTERM, drain))
                watched.enter_context(unsupervised(drain))
            yield

    return lifespan


def try_rulebooks() -> None:
    """Load every rulebook and judge the example case by it.

    Raises:
        RulebookError: a rulebook is not as it should be. The service then does not start.
    """
    for edition in list_editions():
        check_repairability(msgspec.structs.replace(EXAMPLE_CASE, rulebook=edition.reference))
