"""What a call that fails raises, and that its text says first what to do."""

from __future__ import annotations

import json
import pickle
from typing import TYPE_CHECKING, Any

import httpx2
import pytest

import mendgauge_client
from mendgauge_client import (
    AuthenticationError,
    BadGatewayError,
    BadRequestError,
    BodyTooLargeError,
    CallError,
    GatewayTimeoutError,
    InvalidRequestError,
    MediaTypeError,
    MendgaugeError,
    NotChangedError,
    NotFoundError,
    PermissionDeniedError,
    RequestTimeoutError,
    ServerError,
    SettingsError,
    StatusError,
    TimedOutError,
    TooManyRequestsError,
    UnavailableError,
    UnreachableError,
    UnreadableAnswerError,
    errors,
)

if TYPE_CHECKING:
    from tests.unit.sdk.conftest import Scripted

STATUSES = {
    304: NotChangedError,
    400: BadRequestError,
    401: AuthenticationError,
    403: PermissionDeniedError,
    404: NotFoundError,
    405: StatusError,
    408: RequestTimeoutError,
    413: BodyTooLargeError,
    415: MediaTypeError,
    418: StatusError,
    422: InvalidRequestError,
    429: TooManyRequestsError,
    500: ServerError,
    502: BadGatewayError,
    503: UnavailableError,
    504: GatewayTimeoutError,
    507: ServerError,
}


def refusal(status: int, errors: list[dict[str, str]] | None = None, **headers: str) -> httpx2.Response:
    shown: dict[str, Any] = {
        "type": "/problems/some-kind",
        "title": "Some kind",
        "status": status,
        "detail": "the request fell short",
        "request_id": "from-the-body",
    }
    if errors is not None:
        shown["errors"] = errors
    return httpx2.Response(
        status,
        content=json.dumps(shown).encode(),
        headers={"Content-Type": "application/problem+json", **{k.replace("_", "-"): v for k, v in headers.items()}},
    )


@pytest.mark.parametrize(("status", "kind"), STATUSES.items())
def test_each_status_has_its_class_and_the_problem_with_it(
    service: Scripted, status: int, kind: type[StatusError]
) -> None:
    with pytest.raises(kind) as caught:
        service.ask(refusal(status), retries=0)
    error = caught.value
    assert type(error) is kind
    assert error.status == status
    assert error.problem is not None
    assert (error.problem.status, error.problem.detail) == (status, "the request fell short")
    assert error.problem.errors == []
    assert "the request fell short" in str(error)


def test_the_text_leads_with_what_to_do(service: Scripted) -> None:
    faults = [
        {"pointer": "/injuries/0/diameter_mm", "detail": 'expected a number, got the text "4"'},
        {"parameter": "marking", "detail": "required and missing"},
        {"detail": "not an object"},
    ]
    with pytest.raises(InvalidRequestError) as caught:
        service.ask(refusal(422, faults), request_id="BENCH-7")
    assert str(caught.value) == (
        'Correct the request: /injuries/0/diameter_mm: expected a number, got the text "4"; '
        "marking: required and missing; the body as a whole: not an object "
        "(422 Unprocessable Content, request BENCH-7)"
    )


def test_a_long_list_of_faults_is_cut_in_the_text_and_whole_in_the_problem(service: Scripted) -> None:
    faults = [{"pointer": f"/injuries/{n}/lean_deg", "detail": "too much"} for n in range(8)]
    with pytest.raises(InvalidRequestError, match="; and 3 more ") as caught:
        service.ask(refusal(422, faults))
    assert [fault.pointer for fault in caught.value.faults] == [fault["pointer"] for fault in faults]


def test_when_to_come_back_is_reported(service: Scripted) -> None:
    with pytest.raises(TooManyRequestsError, match=r"^Call less often, and try again in 3 s: ") as caught:
        service.ask(refusal(429, Retry_After="3"), retries=0)
    assert caught.value.retry_after == 3.0


@pytest.mark.parametrize(
    ("body", "shown"),
    [
        (b"<html><body>\n <h1>502 Bad Gateway</h1>\n</body></html>", "<h1>502 Bad Gateway</h1>"),
        (b"", "the answer is empty"),
        (b'{"message": "no upstream"}', "no upstream"),
        (b"[" * 100_000, r"\[\[\[…"),
        (b"\xff\xfe\x00 not text", "not text"),
    ],
)
def test_a_refusal_that_is_no_problem_document(service: Scripted, body: bytes, shown: str) -> None:
    with pytest.raises(BadGatewayError, match=shown) as caught:
        service.ask(httpx2.Response(502, content=body), retries=0)
    assert caught.value.problem is None
    assert caught.value.faults == []
    assert caught.value.response.content == body
    assert len(str(caught.value)) < 400


@pytest.mark.parametrize(
    "body",
    [
        b"<html>welcome</html>",
        b"",
        b"[]",
        b"{}",
        b'{"verdict": 7}',
        b'{"verdict": "rep',
        b"\xff",
        b'{"verdict": "\xff"}',
        b"[" * 100_000,
    ],
)
def test_a_success_that_is_not_the_service_speaking(service: Scripted, body: bytes) -> None:
    with pytest.raises(UnreadableAnswerError, match=r"^Check that http://tyres\.example/v1/ask belongs to") as caught:
        service.ask(httpx2.Response(200, content=body))
    assert caught.value.response is not None
    assert caught.value.response.content == body
    assert len(service.requests) == 1


def test_a_redirect_is_a_refusal_not_an_answer(service: Scripted) -> None:
    with pytest.raises(StatusError, match="301 Moved Permanently") as caught:
        service.ask(httpx2.Response(301, headers={"Location": "https://elsewhere.example/"}))
    assert caught.value.response.headers["Location"] == "https://elsewhere.example/"


def test_the_request_id_is_the_services_own_word_or_what_was_sent(service: Scripted) -> None:
    with pytest.raises(NotFoundError) as answered:
        service.ask(refusal(404, X_Request_Id="replaced"), request_id="sent")
    assert answered.value.request_id == "replaced"
    service.requests.clear()
    with pytest.raises(BadGatewayError) as unanswered:
        service.ask(httpx2.Response(502), request_id="sent", retries=0)
    assert unanswered.value.request_id == "sent"
    service.requests.clear()
    with pytest.raises(UnreachableError, match=r"\(request sent\)$") as lost:
        service.ask(httpx2.ConnectError("refused"), request_id="sent")
    assert lost.value.request_id == "sent"


def test_the_standard_classes_catch_too(service: Scripted) -> None:
    with pytest.raises(ConnectionError, match="connection refused"):
        service.ask(httpx2.ConnectError("connection refused"))
    service.requests.clear()
    with pytest.raises(TimeoutError, match=r"^Allow more time with timeout="):
        service.ask(httpx2.ReadTimeout(""))
    with pytest.raises(ValueError, match="MENDGAUGE_URL"):
        service.ask(service.ANSWER, base_url=None)


@pytest.mark.parametrize(
    "failure", [refusal(422, []), httpx2.ConnectError("refused"), httpx2.ReadTimeout("late"), httpx2.Response(200)]
)
def test_an_error_gets_through_a_process_pool_whole(service: Scripted, failure: httpx2.Response | Exception) -> None:
    with pytest.raises(CallError) as caught:
        service.ask(failure, request_id="R-1")
    restored = pickle.loads(pickle.dumps(caught.value))
    assert type(restored) is type(caught.value)
    assert str(restored) == str(caught.value)
    assert restored.request_id == "R-1"
    if isinstance(restored, StatusError):
        assert isinstance(caught.value, StatusError)
        assert restored.problem == caught.value.problem
        assert restored.response.content == caught.value.response.content


def test_the_tree_drawn_is_the_tree_there_is() -> None:
    drawn: dict[str, str] = {}
    above = [""]
    for line in (errors.__doc__ or "").splitlines():
        text = line.replace("│", " ").replace("├──", "   ").replace("└──", "   ")
        name = text.split()[0] if text.split() else ""
        if name.endswith("Error") and text.startswith("    "):
            depth = (len(text) - len(text.lstrip())) // 4
            above[depth:] = [name]
            drawn[name] = above[depth - 1]
    there = {
        name: next(base.__name__ for base in getattr(errors, name).__bases__ if issubclass(base, Exception))
        for name in errors.__all__
    }
    assert drawn == {**there, "MendgaugeError": ""}
    assert set(errors.__all__) <= set(mendgauge_client.__all__)


def test_every_error_is_a_mendgauge_error() -> None:
    assert all(issubclass(getattr(errors, name), MendgaugeError) for name in errors.__all__)
    assert issubclass(TimedOutError, CallError)
    assert not issubclass(SettingsError, CallError)
