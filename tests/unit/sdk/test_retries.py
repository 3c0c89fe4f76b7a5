"""When a call is tried again, and how long it waits before."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from email.utils import format_datetime
from typing import TYPE_CHECKING

import httpx2
import pytest

from mendgauge_client import (
    StatusError,
    TimedOutError,
    TooManyRequestsError,
    UnavailableError,
    UnreachableError,
    UnreadableAnswerError,
)
from mendgauge_client._retry import backoff, retry_after

if TYPE_CHECKING:
    from tests.unit.sdk.conftest import Scripted


@pytest.mark.parametrize("status", [408, 429, 502, 503, 504])
def test_a_passing_refusal_is_tried_again(service: Scripted, status: int) -> None:
    assert service.ask(httpx2.Response(status), service.ANSWER).answer.verdict == "repairable"
    assert len(service.requests) == 2


@pytest.mark.parametrize("status", [400, 401, 403, 404, 405, 413, 415, 422, 500, 501])
def test_any_other_refusal_is_final(service: Scripted, status: int) -> None:
    with pytest.raises(StatusError):
        service.ask(httpx2.Response(status), service.ANSWER)
    assert len(service.requests) == 1
    assert service.pauses == []


@pytest.mark.parametrize(
    "broken",
    [
        httpx2.ConnectError("connection refused"),
        httpx2.ReadError("connection reset"),
        httpx2.RemoteProtocolError("server disconnected without sending a response"),
    ],
)
def test_a_broken_connection_is_tried_again(service: Scripted, broken: httpx2.TransportError) -> None:
    assert service.ask(broken, broken, service.ANSWER).answer.verdict == "repairable"
    assert len(service.requests) == 3


def test_a_retry_is_the_same_request_with_the_same_id(service: Scripted) -> None:
    service.ask(httpx2.Response(503), httpx2.ConnectError("refused"), service.ANSWER)
    assert len({(r.method, r.url, r.content, r.headers["X-Request-Id"]) for r in service.requests}) == 1
    assert len(service.requests) == 3


def test_the_pauses_outlast_a_restart_of_five_seconds(service: Scripted, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mendgauge_client._retry.random.random", lambda: 1.0)  # as short as chance makes them
    with pytest.raises(UnreachableError):
        service.ask(httpx2.ConnectError("refused"))
    assert len(service.requests) == 5
    assert sum(service.pauses) > 5.0


@pytest.mark.parametrize("retries", [0, 1, 5])
def test_as_many_retries_as_asked_for(service: Scripted, retries: int) -> None:
    with pytest.raises(UnreachableError, match=rf"in {retries + 1} tr(y|ies)\b"):
        service.ask(httpx2.ConnectError("refused"), retries=retries)
    assert len(service.requests) == retries + 1


def test_pauses_double_up_to_eight_seconds_less_some_chance(service: Scripted) -> None:
    with pytest.raises(UnavailableError):
        service.ask(httpx2.Response(503), retries=7)
    assert len(service.pauses) == 7
    for pause, full in zip(service.pauses, [0.5, 1, 2, 4, 8, 8, 8], strict=True):
        assert 0.75 * full <= pause <= full


def test_callers_do_not_come_back_together() -> None:
    assert len({backoff(0) for _ in range(50)}) > 40


def test_the_wait_the_service_asks_for_is_kept(service: Scripted) -> None:
    service.ask(httpx2.Response(429, headers={"Retry-After": "7"}), service.ANSWER)
    assert service.pauses == [7.0]


def test_a_wait_until_a_date_is_kept(service: Scripted) -> None:
    date = format_datetime(datetime.now(UTC) + timedelta(seconds=30), usegmt=True)
    service.ask(httpx2.Response(503, headers={"Retry-After": date}), service.ANSWER)
    assert 20 < service.pauses[0] <= 30


def test_a_wait_of_nothing_is_no_pause(service: Scripted) -> None:
    service.ask(httpx2.Response(503, headers={"Retry-After": "0"}), service.ANSWER)
    assert len(service.requests) == 2
    assert sum(service.pauses) == 0


def test_nobody_sits_out_an_hour(service: Scripted) -> None:
    with pytest.raises(TooManyRequestsError) as caught:
        service.ask(httpx2.Response(429, headers={"Retry-After": "3600"}), service.ANSWER)
    assert caught.value.retry_after == 3600
    assert len(service.requests) == 1


def test_a_timeout_is_tried_again_once(service: Scripted) -> None:
    assert service.ask(httpx2.ReadTimeout("timed out"), service.ANSWER).answer.verdict == "repairable"
    service.requests.clear()
    with pytest.raises(TimedOutError, match="did not answer in 2 tries"):
        service.ask(httpx2.ReadTimeout("timed out"))
    assert len(service.requests) == 2


def test_timeouts_have_a_count_of_their_own(service: Scripted) -> None:
    script = (
        httpx2.ConnectError("refused"),
        httpx2.ReadTimeout("timed out"),
        httpx2.ConnectTimeout("timed out"),
        service.ANSWER,
    )
    assert service.ask(*script, retries=1, timeout_retries=2).answer.verdict == "repairable"
    service.requests.clear()
    with pytest.raises(TimedOutError, match="in 1 try"):
        service.ask(httpx2.ReadTimeout("timed out"), timeout_retries=0)
    assert len(service.requests) == 1


def test_an_answer_that_cannot_be_unpacked_is_not_tried_again(service: Scripted) -> None:
    with pytest.raises(UnreadableAnswerError, match="cannot be unpacked"):
        service.ask(httpx2.DecodingError("not gzip"), service.ANSWER)
    assert len(service.requests) == 1


@pytest.mark.parametrize(
    ("field", "seconds"),
    [
        # RFC 9110, section 10.2.3: the two examples given there, and what is neither form.
        ("120", 120.0),
        ("Fri, 31 Dec 1999 23:59:59 GMT", 0.0),
        ("0", 0.0),
        ("-5", None),
        ("1.5", None),
        ("soon", None),
        ("", None),
        ("٣", None),
        (None, None),
    ],
)
def test_reading_retry_after(field: str | None, seconds: float | None) -> None:
    assert retry_after(field) == seconds
