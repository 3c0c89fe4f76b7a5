"""Pictures and pages over HTTP: the form that the caller accepts, nothing that runs, and what to install without it."""

from __future__ import annotations

import sys
from typing import Any

import pytest
from litestar.testing import TestClient

from mendgauge.api import rendering
from mendgauge.api.media import PDF, PNG, SVG

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
GAUGE = {"marking": "205/55R16 91V", "rulebook": "gb", "vehicle_kind": "car"}


@pytest.mark.parametrize(
    ("accept", "form"),
    [
        (None, SVG),
        ("*/*", SVG),
        ("image/*", SVG),
        ("image/png", PNG),
        ("IMAGE/PNG;q=0.5, application/pdf", PDF),
        ("image/svg+xml;q=0, */*;q=0.1", PDF),
        ("text/html,application/xhtml+xml,*/*;q=0.8", SVG),
    ],
)
def test_a_drawing_comes_in_the_form_that_is_accepted(client: TestClient[Any], accept: str | None, form: str) -> None:
    headers = {} if accept is None else {"Accept": accept}
    client.headers.pop("accept", None)
    answer = client.post("/v1/drawings", json=CASE, headers=headers)
    assert (answer.status_code, answer.headers["content-type"]) == (200, form)
    assert answer.content.startswith({SVG: b"<svg", PNG: b"\x89PNG", PDF: b"%PDF"}[form])


@pytest.mark.parametrize("accept", ["application/json", "text/html", "image/svg+xml;q=0", "image/png;q=x"])
def test_a_form_that_there_is_not_is_refused(client: TestClient[Any], accept: str) -> None:
    answer = client.post("/v1/drawings", json=CASE, headers={"Accept": accept})
    assert (answer.status_code, answer.json()["type"]) == (406, "/problems/not-acceptable")
    assert "image/svg+xml or application/pdf or image/png" in answer.json()["detail"]


def test_a_picture_that_is_opened_in_a_browser_runs_and_fetches_nothing(client: TestClient[Any]) -> None:
    answer = client.post("/v1/drawings", json=CASE)
    assert answer.headers["content-security-policy"].startswith("default-src 'none'")
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["content-disposition"] == 'inline; filename="sheet.svg"'
    assert "Accept" in answer.headers["vary"]


def test_a_fault_of_the_case_is_a_problem_and_no_picture(client: TestClient[Any]) -> None:
    answer = client.post("/v1/drawings", json=CASE | {"tyre": {"marking": "none"}}, headers={"Accept": SVG})
    assert (answer.status_code, answer.headers["content-type"]) == (422, "application/problem+json")
    assert client.post("/v1/drawings?view=all", json=CASE).status_code == 422
    assert client.post("/v1/job-cards?paper=a3", json=CASE).status_code == 422
    assert client.post("/v1/drawings", json=CASE | {"x": 1}).status_code == 422


def test_a_gauge_is_a_page_of_the_size_that_was_asked_for(client: TestClient[Any]) -> None:
    answer = client.get("/v1/gauges", params=GAUGE | {"paper": "letter", "assessed_on": "2026-11-24"})
    assert (answer.status_code, answer.headers["content-type"]) == (200, PDF)
    assert answer.content.startswith(b"%PDF")


@pytest.mark.parametrize(
    ("change", "parameter"),
    [
        ({"marking": "none"}, "marking"),
        ({"rulebook": "xx"}, "rulebook"),
        ({"vehicle_kind": "motorcycle"}, "vehicle_kind"),
        ({"paper": "a3"}, "paper"),
        ({"tread_width_mm": "5"}, "tread_width_mm"),
    ],
)
def test_a_fault_of_a_gauge_names_its_parameter(
    client: TestClient[Any], change: dict[str, str], parameter: str
) -> None:
    answer = client.get("/v1/gauges", params=GAUGE | change)
    assert answer.status_code == 422
    assert [fault.get("parameter") for fault in answer.json()["errors"]] == [parameter]


def test_without_the_typesetter_drawings_come_and_pages_do_not(
    client: TestClient[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "typst", None)
    assert client.post("/v1/drawings", json=CASE, headers={"Accept": SVG}).status_code == 200
    for answer in (
        client.post("/v1/drawings", json=CASE, headers={"Accept": PDF}),
        client.get("/v1/gauges", params=GAUGE),
    ):
        assert (answer.status_code, answer.json()["type"]) == (501, "/problems/not-installed")
        assert "mendgauge[print]" in answer.json()["detail"]


def test_more_than_may_wait_are_sent_away(client: TestClient[Any], monkeypatch: pytest.MonkeyPatch) -> None:
    class Full:
        def acquire(self, *, blocking: bool) -> bool:
            return blocking

    monkeypatch.setattr(rendering, "_places", Full())
    answer = client.post("/v1/drawings", json=CASE, headers={"Accept": SVG})
    assert (answer.status_code, answer.headers["retry-after"]) == (503, "1")
