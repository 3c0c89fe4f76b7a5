"""Rows of a batch are given whole, with what stands once in its tables."""

from __future__ import annotations

import asyncio
import json
from collections.abc import Callable
from typing import Any, Literal

import httpx2
import msgspec
import pytest
from tests.bench.mix import draw

from mendgauge.api.controllers.batch import CaseBatch as Batch
from mendgauge.api.controllers.repairability import answer_batch
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge_client import AsyncMendgauge, CaseBatch, Mendgauge, Repairability, TyreCase, UnreadableAnswerError

DETAILS: tuple[Literal["brief", "full"], ...] = ("brief", "full")
SENT = [{**case, "detail": "full" if number % 4 == 0 else "brief"} for number, case in enumerate(draw(40))]
CASES = [msgspec.convert(case, TyreCase) for case in SENT]
ALONE = [
    msgspec.json.decode(msgspec.json.encode(check_repairability(msgspec.convert(case, Case))), type=Repairability)
    for case in SENT
]


def service(change: Callable[[dict[str, Any]], object] = lambda _: None) -> httpx2.MockTransport:
    """The service's answer to a batch, with a change."""

    def answer(request: httpx2.Request) -> httpx2.Response:
        items = json.loads(request.content)["items"]
        body = json.loads(msgspec.json.encode(answer_batch(Batch(items=msgspec.Raw(json.dumps(items).encode())))))
        change(body)
        return httpx2.Response(200, json=body)

    return httpx2.MockTransport(answer)


def client(change: Callable[[dict[str, Any]], object] = lambda _: None) -> Mendgauge:
    return Mendgauge("http://tyres.example", http_client=httpx2.Client(transport=service(change)), retries=0)


def test_each_of_many_is_given_as_it_would_be_alone() -> None:
    assert [result.answer for result in client().check_repairability_of_each(CASES, chunk=15)] == ALONE


def test_a_batch_is_given_with_its_rows_whole() -> None:
    batch = client().check_repairability_in_batch(CaseBatch(items=CASES))
    assert [item.answer for item in batch.items] == ALONE
    assert batch.tables is None


@pytest.mark.parametrize("detail", ["brief", "full"])
def test_the_detail_asked_for_is_that_of_every_answer_and_the_cases_stay_as_they_are(
    detail: Literal["brief", "full"],
) -> None:
    full = {detail == "full"}
    batch = client().check_repairability_in_batch(CaseBatch(items=CASES), detail=detail)
    assert {item.answer.rules_checked is not None for item in batch.items if item.answer} == full
    each = list(client().check_repairability_of_each(CASES, detail=detail))
    assert {result.answer.rules_checked is not None for result in each if result.answer} == full
    assert [result.case for result in each] == CASES
    assert {case.detail for case in CASES} == {"brief", "full"}


def test_the_detail_asked_for_is_sent_with_a_single_case() -> None:
    sent = []

    def answer(request: httpx2.Request) -> httpx2.Response:
        sent.append(json.loads(request.content).get("detail", "brief"))
        return httpx2.Response(200, content=msgspec.json.encode(ALONE[1]))

    http = httpx2.Client(transport=httpx2.MockTransport(answer))
    with Mendgauge("http://tyres.example", http_client=http) as mendgauge:
        for detail in DETAILS:
            mendgauge.check_repairability(CASES[1], detail=detail)
        mendgauge.check_repairability(CASES[0])
    assert sent == ["brief", "full", "full"]


def test_a_batch_is_given_whole_under_asyncio_too() -> None:
    async def ask() -> list[Repairability | None]:
        http = httpx2.AsyncClient(transport=service())
        async with AsyncMendgauge("http://tyres.example", http_client=http) as mendgauge:
            return [
                item.answer for item in (await mendgauge.check_repairability_in_batch(CaseBatch(items=CASES))).items
            ]

    assert asyncio.run(ask()) == ALONE


def test_the_raw_answer_is_the_one_that_was_sent() -> None:
    reply = client().raw.check_repairability_in_batch(CaseBatch(items=CASES))
    assert reply.answer.tables is not None
    assert reply.answer.items[1].answer is not None
    assert reply.answer.items[1].answer.in_tables is not None


def without_tables(body: dict[str, Any]) -> None:
    body["tables"] = {}


def past_the_end(body: dict[str, Any]) -> None:
    body["items"][1]["answer"]["in_tables"]["cautions"] = [10_000]


def from_the_end(body: dict[str, Any]) -> None:
    body["items"][1]["answer"]["in_tables"]["cautions"] = [-1]


def with_a_finding_too_many(body: dict[str, Any]) -> None:
    body["items"][1]["answer"]["in_tables"]["findings"] = [None] * 9


@pytest.mark.parametrize("change", [without_tables, past_the_end, from_the_end, with_a_finding_too_many])
def test_what_refers_to_nothing_is_no_answer(change: Callable[[dict[str, Any]], object]) -> None:
    with pytest.raises(UnreadableAnswerError, match="tables"):
        client(change).check_repairability_in_batch(CaseBatch(items=CASES))
    with pytest.raises(UnreadableAnswerError, match="tables"):
        list(client(change).check_repairability_of_each(CASES))
