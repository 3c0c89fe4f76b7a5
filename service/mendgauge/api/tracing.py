"""Spans for OpenTelemetry, one a request, in the trace that the caller's `traceparent` names (W3C Trace Context).

It needs the extra `mendgauge[tracing]`. Where the spans go is set by OpenTelemetry's own variables, such as
`OTEL_EXPORTER_OTLP_ENDPOINT`. As in the log, nothing of a body, a query or a key is in them.
"""

from __future__ import annotations

import asyncio
from importlib.util import find_spec
from threading import Thread
from time import monotonic
from typing import TYPE_CHECKING, Any

import structlog
from litestar.enums import ScopeType
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

if TYPE_CHECKING:
    from opentelemetry.sdk.trace import TracerProvider

FLUSH_SECONDS = 1.0
"""How long a process that stops waits for its last spans to be taken."""

_NEEDED = ("opentelemetry.sdk", "opentelemetry.exporter.otlp.proto.http")
_FAILURE = 500


def missing_packages() -> str | None:
    """Return what to install where spans cannot be made; `None` where they can."""
    try:
        found = all(find_spec(name) is not None for name in _NEEDED)
    except ModuleNotFoundError:
        found = False
    return None if found else "spans need packages that are not installed: pip install 'mendgauge[tracing]'"


def exporting_provider() -> TracerProvider:
    """Return what makes spans and sends them over OTLP, as OpenTelemetry's variables say."""
    from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
    from opentelemetry.sdk.resources import OTELResourceDetector, Resource
    from opentelemetry.sdk.trace import TracerProvider
    from opentelemetry.sdk.trace.export import BatchSpanProcessor

    named = Resource.create().merge(Resource({"service.name": "mendgauge"}))
    # `OTEL_SERVICE_NAME` and `OTEL_RESOURCE_ATTRIBUTES` come before that name.
    resource = named.merge(OTELResourceDetector().detect())
    # The end of the process does not wait for a collector that is away: `Traced` has given it its time.
    provider = TracerProvider(resource=resource, shutdown_on_exit=False)
    provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter()))
    return provider


class Traced:
    """An ASGI application around another, with a span for each request."""

    def __init__(self, app: ASGIApp, provider: TracerProvider) -> None:
        from opentelemetry.trace.propagation.tracecontext import TraceContextTextMapPropagator

        self.app, self.provider = app, provider
        self._tracer = provider.get_tracer("mendgauge")
        self._context_of = TraceContextTextMapPropagator().extract

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        if scope["type"] == ScopeType.HTTP:
            await self._handle(scope, receive, send)
        else:
            await self.app(scope, receive, self._flushed(send))

    async def _handle(self, scope: HTTPScope, receive: Receive, send: Send) -> None:
        from opentelemetry.trace import SpanKind, StatusCode

        sent = {
            name.decode("latin-1"): value.decode("latin-1")
            for name, value in scope["headers"]
            if name in (b"traceparent", b"tracestate")
        }
        with self._tracer.start_as_current_span(
            scope["method"], context=self._context_of(sent), kind=SpanKind.SERVER
        ) as span:
            structlog.contextvars.bind_contextvars(trace_id=f"{span.get_span_context().trace_id:032x}")

            async def noted(message: Message) -> None:
                if message["type"] == "http.response.start":
                    span.set_attribute("http.response.status_code", message["status"])
                    if message["status"] >= _FAILURE:
                        span.set_status(StatusCode.ERROR)
                await send(message)

            await self.app(scope, receive, noted)
            span.set_attribute("http.request.method", scope["method"])
            route: str | None = scope.get("path_template")
            if route:
                span.set_attribute("http.route", route)
                span.update_name(f"{scope['method']} {route}")

    def _flushed(self, send: Send) -> Send:
        """Send the last spans before the server hears that the application has shut down."""

        async def flushed(message: Any) -> None:
            if message["type"] == "lifespan.shutdown.complete":
                # A thread that may be left behind: an exporter whose collector is away tries again for longer.
                flush = Thread(target=self.provider.force_flush, name="last spans", daemon=True)
                flush.start()
                until = monotonic() + FLUSH_SECONDS
                while flush.is_alive() and monotonic() < until:
                    await asyncio.sleep(0.01)
            await send(message)

        return flushed
