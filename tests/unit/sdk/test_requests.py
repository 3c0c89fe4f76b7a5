"""What an integrator may set for a client or a call, what may not be sent, and what the log says of it."""

from __future__ import annotations

import asyncio
import gzip
import json
import logging
import pickle
from pathlib import Path
from typing import TYPE_CHECKING, Any

import httpx2
import msgspec
import pytest

from mendgauge_client import (
    AsyncMendgauge,
    ClosedError,
    HouseRules,
    Injury,
    MeasuredFrom,
    Mendgauge,
    NotFiniteError,
    Range,
    SettingsError,
    Tyre,
    TyreCase,
    TyreMarking,
    UnavailableError,
)

if TYPE_CHECKING:
    from tests.unit.sdk.conftest import Scripted

URL = "http://tyres.example"
MARKING = "205/55R16 91V"


def case_with(**parts: Any) -> TyreCase:
    return TyreCase(rulebook="gb", tyre=Tyre(marking=MARKING), **parts)


def counting(requests: list[httpx2.Request]) -> httpx2.MockTransport:
    def answer(request: httpx2.Request) -> httpx2.Response:
        requests.append(request)
        return httpx2.Response(503)

    return httpx2.MockTransport(answer)


@pytest.mark.parametrize(
    ("case", "pointer"),
    [
        (case_with(injuries=[Injury(), Injury(diameter_mm=float("nan"))]), "/injuries/1/diameter_mm"),
        (case_with(injuries=[Injury(across_mm=Range(low=float("-inf"), high=2))]), "/injuries/0/across_mm/low"),
        (case_with(house_rules=HouseRules(max_injury_mm=float("inf"))), "/house_rules/max_injury_mm"),
    ],
)
def test_what_is_no_number_is_refused_with_its_place_before_anything_is_sent(case: TyreCase, pointer: str) -> None:
    requests: list[httpx2.Request] = []
    with (
        httpx2.Client(transport=counting(requests)) as http,
        pytest.raises(NotFiniteError, match=pointer) as caught,
    ):
        Mendgauge(URL, http_client=http).check_repairability(case)
    assert requests == []
    assert caught.value.pointer == pointer
    assert isinstance(caught.value, ValueError)
    assert str(pickle.loads(pickle.dumps(caught.value))) == str(caught.value)
    with pytest.raises(NotFiniteError):
        case.to_json()


def test_a_case_with_the_word_null_in_it_is_sent() -> None:
    case = case_with(reference="null", injuries=[Injury(diameter_mm=Range(low=3, high=4))])
    assert json.loads(case.to_json())["reference"] == "null"


def items_of(request: httpx2.Request) -> list[dict[str, Any]]:
    items: list[dict[str, Any]] = json.loads(request.content)["items"]
    return items


def refused(request: httpx2.Request) -> httpx2.Response:
    """A batch of which every item has a problem."""
    problem = {"type": "/problems/a", "title": "A", "status": 422, "detail": "a", "request_id": "r", "errors": []}
    outcome = {"status": "error", "reference": None, "answer": None, "problem": problem}
    return httpx2.Response(200, json={"items": [outcome] * len(items_of(request))})


@pytest.mark.parametrize("asynchronous", [False, True])
def test_of_many_cases_those_before_one_that_is_no_number_are_answered(asynchronous: bool) -> None:
    cases = [case_with() for _ in range(7)]
    cases[5] = case_with(injuries=[Injury(diameter_mm=float("nan"))])
    answered: list[int] = []

    async def ask() -> None:
        http = httpx2.AsyncClient(transport=httpx2.MockTransport(refused))
        async for result in AsyncMendgauge(URL, http_client=http).check_repairability_of_each(cases, chunk=2):
            answered.append(result.number)  # noqa: PERF401  what came before the error is to be kept

    def ask_in_turn() -> None:
        http = httpx2.Client(transport=httpx2.MockTransport(refused))
        answered.extend(
            result.number for result in Mendgauge(URL, http_client=http).check_repairability_of_each(cases, chunk=2)
        )

    with pytest.raises(NotFiniteError, match="/injuries/0/diameter_mm"):
        asyncio.run(ask()) if asynchronous else ask_in_turn()
    assert answered == [0, 1, 2, 3, 4]


def test_a_word_that_came_back_may_be_sent() -> None:
    for words in (MeasuredFrom.INSIDE, "inside"):
        case = case_with(injuries=[Injury(measured_from=words)])
        assert json.loads(case.to_json())["injuries"] == [{"measured_from": "inside"}]


def test_an_answer_is_written_as_json_and_read_again() -> None:
    example = Path(__file__).parents[3] / "openapi" / "examples" / "read_tyre_marking" / "car_with_date.json"
    response = json.loads(example.read_bytes())["response"]
    answer = msgspec.convert(response, TyreMarking)
    assert json.loads(answer.to_json()) == response


def test_a_gzipped_answer_is_read(service: Scripted) -> None:
    content = gzip.compress(b'{"verdict": "repairable"}')
    packed = httpx2.Response(200, headers={"Content-Encoding": "gzip"}, stream=httpx2.ByteStream(content))

    async def ask() -> str:
        http = httpx2.AsyncClient(transport=httpx2.MockTransport(lambda _: packed))
        async with AsyncMendgauge(URL, http_client=http) as client:
            return str((await client.send(service.ASK)).answer.verdict)

    if service.asynchronous:
        assert asyncio.run(ask()) == "repairable"
    else:
        with httpx2.Client(transport=httpx2.MockTransport(lambda _: packed)) as http:
            assert Mendgauge(URL, http_client=http).send(service.ASK).answer.verdict == "repairable"


def test_a_program_names_itself_before_the_client(service: Scripted) -> None:
    service.ask(service.ANSWER, app_info="depot-board/2.1")
    assert service.requests[0].headers["User-Agent"].startswith("depot-board/2.1 mendgauge-client/")


@pytest.mark.parametrize("app_info", ["", "two words", "a/b/c", "line\nbreak", "früh/1"])
def test_a_name_that_no_header_field_takes_is_refused(service: Scripted, app_info: str) -> None:
    with pytest.raises(SettingsError, match="depot-board/"):
        service.ask(service.ANSWER, app_info=app_info)


def test_a_call_may_have_header_fields_of_its_own() -> None:
    requests: list[httpx2.Request] = []
    with httpx2.Client(transport=counting(requests)) as http:
        service = Mendgauge(URL, http_client=http, retries=0)
        for client in (service, service.with_options(headers={"X-Tenant": "north"})):
            with pytest.raises(UnavailableError):
                client.check_repairability(case_with(), headers={"traceparent": "00-1-2-01", "accept": "text/plain"})
    first, second = requests
    assert (first.headers["traceparent"], first.headers.get_list("Accept")) == ("00-1-2-01", ["text/plain"])
    assert ("X-Tenant" in first.headers, second.headers["X-Tenant"]) == (False, "north")


def test_other_options_are_those_of_a_second_client_on_the_same_connections() -> None:
    requests: list[httpx2.Request] = []
    with httpx2.Client(transport=counting(requests)) as http:
        service = Mendgauge(URL, http_client=http, api_key="one", retries=0, timeout=7)
        other = service.with_options(api_key="two", timeout=3)
        assert other.raw is not service.raw
        for client in (service.raw, other.raw):
            with pytest.raises(UnavailableError):
                client.check_live()
    assert [request.headers["Authorization"] for request in requests] == ["Bearer one", "Bearer two"]
    assert [request.extensions["timeout"]["read"] for request in requests] == [7, 3]


def test_a_closed_client_says_that_it_is() -> None:
    service = Mendgauge(URL)
    other = service.with_options(timeout=3)
    other.close()
    service.close()
    for client in (service, other):
        with pytest.raises(ClosedError, match="This client is closed"):
            client.check_live()

    async def ask() -> None:
        async with AsyncMendgauge(URL) as client:
            pass
        with pytest.raises(ClosedError):
            await client.check_live()

    asyncio.run(ask())


def test_many_calls_at_once_wait_for_their_turn() -> None:
    calls, under_way, most = 300, 0, 0

    async def answer(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        nonlocal under_way, most
        under_way += 1
        most = max(most, under_way)
        while await reader.readline() not in (b"\r\n", b""):
            pass
        await asyncio.sleep(0)
        writer.write(b'HTTP/1.1 200 OK\r\nContent-Length: 17\r\nConnection: close\r\n\r\n{"status":"live"}')
        await writer.drain()
        under_way -= 1
        writer.close()

    async def ask() -> int:
        server = await asyncio.start_server(answer, "127.0.0.1", 0)
        address = f"http://127.0.0.1:{server.sockets[0].getsockname()[1]}"
        async with server, AsyncMendgauge(address) as service:
            answers = await asyncio.gather(*(service.check_live() for _ in range(calls)))
        return len(answers)

    assert asyncio.run(ask()) == calls
    assert most <= 20


def test_no_call_is_given_up_while_it_waits_for_a_connection(service: Scripted) -> None:
    service.ask(service.ANSWER)
    assert service.requests[0].extensions["timeout"]["pool"] is None


def test_the_log_has_each_exchange_and_each_further_try_and_no_secret(
    service: Scripted, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG, logger="mendgauge_client")
    service.ask(httpx2.Response(503), service.ANSWER, api_key="key-of-the-depot", request_id="R-1")
    records = [record for record in caplog.records if record.name == "mendgauge_client"]
    assert [record.levelname for record in records] == ["DEBUG", "INFO", "DEBUG"]
    first, again, last = (record.getMessage() for record in records)
    assert first.startswith("POST /v1/ask: 503 in ")
    assert again.startswith("POST /v1/ask: tried again in 0.")
    assert "503 Service Unavailable (request R-1)" in again
    assert last.endswith("(request R-1)")
    assert "key-of-the-depot" not in caplog.text
