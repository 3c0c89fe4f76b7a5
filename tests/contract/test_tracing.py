"""A span for each request, in the caller's trace, with nothing of what was sent."""

from __future__ import annotations

from collections.abc import Iterator
from threading import Event
from typing import Any

import pytest
from litestar.testing import TestClient
from opentelemetry.sdk.trace import ReadableSpan, TracerProvider
from opentelemetry.sdk.trace.export import SimpleSpanProcessor
from opentelemetry.sdk.trace.export.in_memory_span_exporter import InMemorySpanExporter
from opentelemetry.trace import StatusCode

from mendgauge.api import tracing
from mendgauge.api.tracing import Traced
from mendgauge.server import create_app
from mendgauge.settings import SettingsError, read_settings

TRACE = "4bf92f3577b34da6a3ce929d0e0e4736"
"""The trace of the example in W3C Trace Context, 3.2.2.5, with its parent."""
PARENT = "00f067aa0ba902b7"


class Spans:
    """A service whose spans are kept."""

    def __init__(self) -> None:
        self.kept = InMemorySpanExporter()
        provider = TracerProvider(shutdown_on_exit=False)
        provider.add_span_processor(SimpleSpanProcessor(self.kept))
        self.app = Traced(create_app(), provider)

    def of(self, client: TestClient[Any], method: str, path: str, **sent: Any) -> ReadableSpan:
        self.kept.clear()
        client.request(method, path, **sent)
        (span,) = self.kept.get_finished_spans()
        return span


@pytest.fixture(scope="module")
def spans() -> Spans:
    return Spans()


@pytest.fixture(scope="module")
def client(spans: Spans) -> Iterator[TestClient[Any]]:
    with TestClient(spans.app, raise_server_exceptions=False) as client:
        yield client


def test_a_span_is_part_of_the_callers_trace(spans: Spans, client: TestClient[Any]) -> None:
    span = spans.of(client, "GET", "/v1/rulebooks/gb", headers={"traceparent": f"00-{TRACE}-{PARENT}-01"})
    assert span.context is not None
    assert span.parent is not None
    assert (f"{span.context.trace_id:032x}", f"{span.parent.span_id:016x}") == (TRACE, PARENT)


@pytest.mark.parametrize(
    "traceparent", ["", "00-0-0-01", "ff-" + "0" * 32 + "-" + "0" * 16 + "-01", "\u00ff", "x" * 9000]
)
def test_a_parent_that_cannot_be_read_begins_a_trace_of_its_own(
    spans: Spans, client: TestClient[Any], traceparent: str
) -> None:
    span = spans.of(client, "GET", "/health/live", headers={"traceparent": traceparent.encode("latin-1")})
    assert span.parent is None
    assert span.attributes is not None
    assert span.attributes["http.response.status_code"] == 200


def test_a_span_says_what_was_answered_and_nothing_that_was_sent(spans: Spans, client: TestClient[Any]) -> None:
    span = spans.of(
        client,
        "GET",
        "/v1/tyre-markings?marking=SECRET",
        headers={"Authorization": "Bearer SECRET", "tracestate": "a=b"},
    )
    assert span.name == "GET /v1/tyre-markings"
    assert span.attributes == {
        "http.request.method": "GET",
        "http.response.status_code": 422,
        "http.route": "/v1/tyre-markings",
    }
    assert "SECRET" not in span.to_json()
    assert span.status.status_code == StatusCode.UNSET


def test_a_path_that_is_not_there_names_no_route(spans: Spans, client: TestClient[Any]) -> None:
    span = spans.of(client, "GET", "/v1/SECRET")
    assert span.name == "GET"
    assert span.attributes == {"http.request.method": "GET", "http.response.status_code": 404}


def test_without_its_packages_the_service_does_not_start(monkeypatch: pytest.MonkeyPatch) -> None:
    assert read_settings({"MENDGAUGE_TRACING": "yes"}).tracing == "yes"
    monkeypatch.setattr(tracing, "_NEEDED", ("opentelemetry.no_such_package",))
    assert read_settings({}).tracing == "no"
    with pytest.raises(SettingsError, match=r"MENDGAUGE_TRACING: .*pip install 'mendgauge\[tracing\]'"):
        read_settings({"MENDGAUGE_TRACING": "yes"})


def test_a_stop_does_not_wait_for_a_collector_that_is_away(monkeypatch: pytest.MonkeyPatch) -> None:
    never, provider = Event(), TracerProvider(shutdown_on_exit=False)
    monkeypatch.setattr(tracing, "FLUSH_SECONDS", 0.05)
    monkeypatch.setattr(provider, "force_flush", never.wait)
    with TestClient(Traced(create_app(), provider)) as client:
        assert client.get("/health/live").status_code == 200
    assert not never.is_set()
