"""Any number of cases, asked about by the chunk: what goes out, what comes back, and what is in memory meanwhile."""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import threading
from collections.abc import AsyncIterator, Callable, Iterable, Iterator
from pathlib import Path
from typing import Any, TypeAlias

import httpx2
import pytest

from mendgauge_client import (
    AsyncMendgauge,
    BodyTooLargeError,
    CaseResult,
    InvalidRequestError,
    Mendgauge,
    Progress,
    Repairability,
    Tyre,
    TyreCase,
    UnavailableError,
    UnreadableAnswerError,
)

ROOT = Path(__file__).parents[3]
Items: TypeAlias = list[dict[str, Any]]
Answering: TypeAlias = Callable[[int, Items], httpx2.Response]


def case(number: int, object_: str | None = None) -> TyreCase:
    return TyreCase(rulebook="gb", reference=str(number), tyre=Tyre(marking="205/55R16 91V", date_code=object_))


def answer(reference: str | None) -> dict[str, Any]:
    return {
        "reference": reference,
        "codes": {},
        "rulebook": {"id": "gb", "edition": "2026.1", "digest": "sha256:0"},
        "assessed_on": "2026-11-24",
        "verdict": "inspect",
        "possible_verdicts": ["repairable"],
        "next_step": "book_in",
        "otherwise": "book_in",
        "injuries": [],
        "findings": [],
        "until_then": None,
        "to_establish": [],
        "cautions": [],
        "rules_checked": 3,
    }


def problem(detail: str, *pointers: str, status: int = 422) -> dict[str, Any]:
    return {
        "type": "/problems/contract-broken",
        "title": "The contract is broken",
        "status": status,
        "detail": detail,
        "request_id": "r1",
        "errors": [{"pointer": pointer, "detail": "is wrong"} for pointer in pointers],
    }


def answered(items: Items) -> httpx2.Response:
    """Each case answered, but for those whose rulebook is `none`."""
    outcomes = [
        {"status": "failed", "reference": item["reference"], "answer": None}
        | {"problem": problem(f"/items/{place}/rulebook: is none", f"/items/{place}/rulebook", f"/items/{place}")}
        if item["rulebook"] == "none"
        else {"status": "ok", "reference": item["reference"], "answer": answer(item["reference"]), "problem": None}
        for place, item in enumerate(items)
    ]
    return httpx2.Response(200, json={"ok": 0, "failed": 0, "items": outcomes})


class Service:
    """Answers batches, asked through one of the two clients; keeps what was sent and how much was under way at once."""

    def __init__(self, asynchronous: bool) -> None:
        self.asynchronous = asynchronous
        self.sent: list[Items] = []
        self.sizes: list[int] = []
        self.paths: list[str] = []

    def ask(
        self,
        cases: Iterable[TyreCase],
        answering: Answering = lambda _, items: answered(items),
        take: int | None = None,
        **how: Any,
    ) -> Iterator[CaseResult[Repairability]]:
        """The results, up to so many; for the async client all of them are gathered first."""
        if self.asynchronous:
            results, error = asyncio.run(self._ask_async(cases, answering, take, how))
            yield from results
            if error:
                raise error
            return
        http = httpx2.Client(transport=httpx2.MockTransport(lambda request: self._answer(request, answering)))
        with Mendgauge("http://tyres.example", http_client=http, retries=how.pop("retries", 0)) as client:
            for number, result in enumerate(client.check_repairability_of_each(cases, **how), start=1):
                yield result
                if number == take:
                    return

    async def _ask_async(
        self, cases: Iterable[TyreCase], answering: Answering, take: int | None, how: dict[str, Any]
    ) -> tuple[list[CaseResult[Repairability]], Exception | None]:
        http = httpx2.AsyncClient(transport=httpx2.MockTransport(lambda request: self._answer(request, answering)))
        results: list[CaseResult[Repairability]] = []
        async with AsyncMendgauge("http://tyres.example", http_client=http, retries=how.pop("retries", 0)) as client:
            try:
                async for result in client.check_repairability_of_each(cases, **how):
                    results.append(result)
                    if len(results) == take:
                        break
            except Exception as error:
                return results, error
        return results, None

    def _answer(self, request: httpx2.Request, answering: Answering) -> httpx2.Response:
        items: Items = json.loads(request.content)["items"]
        self.sent.append(items)
        self.sizes.append(len(request.content))
        self.paths.append(request.url.path)
        return answering(len(self.sent), items)


@pytest.fixture(params=[False, True], ids=["sync", "async"])
def service(request: pytest.FixtureRequest) -> Service:
    return Service(request.param)


def references(items: Items) -> list[int]:
    return [int(item["reference"]) for item in items]


@pytest.mark.parametrize("count", [0, 1, 3, 4, 8, 25])
@pytest.mark.parametrize("concurrency", [1, 2, 7])
def test_every_case_has_its_result_in_its_place(service: Service, count: int, concurrency: int) -> None:
    results = list(service.ask(map(case, range(count)), chunk=4, concurrency=concurrency))
    assert [result.number for result in results] == list(range(count))
    assert [result.case for result in results] == [case(number) for number in range(count)]
    assert [result.answer and result.answer.reference for result in results] == [str(n) for n in range(count)]
    assert all(result.problem is None for result in results)
    assert sorted(len(items) for items in service.sent) == sorted([4] * (count // 4) + [count % 4] * (count % 4 > 0))
    assert sorted(number for items in service.sent for number in references(items)) == list(range(count))


def test_both_batches_go_to_their_own_operation() -> None:
    document = json.loads((ROOT / "openapi" / "openapi.json").read_text("utf-8"))
    operations = {op["operationId"]: path for path, methods in document["paths"].items() for op in methods.values()}
    asked: list[str] = []

    def answer_none(request: httpx2.Request) -> httpx2.Response:
        asked.append(request.url.path)
        return httpx2.Response(500)

    with Mendgauge(
        "http://tyres.example", http_client=httpx2.Client(transport=httpx2.MockTransport(answer_none)), retries=0
    ) as client:
        for method in (client.check_repairability_of_each, client.plan_repairs_of_each):
            with pytest.raises(Exception, match="500"):
                next(iter(method([case(1)])))
    assert asked == [operations["check_repairability_in_batch"], operations["plan_repairs_in_batch"]]


def test_a_case_at_fault_has_its_problem_with_pointers_into_itself(service: Service) -> None:
    cases = [case(number) for number in range(6)]
    cases[4].rulebook = "none"
    results = list(service.ask(cases, chunk=3))
    assert [result.number for result in results if result.problem] == [4]
    found = results[4].problem
    assert found is not None
    assert results[4].answer is None
    assert [fault.pointer for fault in found.errors] == ["/rulebook", ""]
    assert found.detail == "/rulebook: is none"


def test_a_case_may_come_from_an_async_source() -> None:
    async def source() -> AsyncIterator[TyreCase]:
        for number in range(5):
            await asyncio.sleep(0)
            yield case(number)

    async def ask() -> list[int]:
        http = httpx2.AsyncClient(
            transport=httpx2.MockTransport(lambda request: answered(json.loads(request.content)["items"]))
        )
        async with AsyncMendgauge("http://tyres.example", http_client=http) as client:
            return [result.number async for result in client.check_repairability_of_each(source(), chunk=2)]

    assert asyncio.run(ask()) == [0, 1, 2, 3, 4]


def test_the_order_holds_though_chunks_overtake_each_other() -> None:
    # The first chunk is answered only after the second has been.
    second_done = threading.Event()

    def answer_late(request: httpx2.Request) -> httpx2.Response:
        items = json.loads(request.content)["items"]
        if references(items)[0] == 0:
            assert second_done.wait(10)
        else:
            second_done.set()
        return answered(items)

    http = httpx2.Client(transport=httpx2.MockTransport(answer_late))
    with Mendgauge("http://tyres.example", http_client=http, retries=0) as client:
        results = client.check_repairability_of_each(map(case, range(4)), chunk=2, concurrency=2)
        assert [result.number for result in results] == [0, 1, 2, 3]


@pytest.mark.parametrize("concurrency", [1, 3])
def test_no_more_chunks_are_under_way_than_asked_for(concurrency: int) -> None:
    lock, gate = threading.Lock(), threading.Barrier(concurrency)
    now = most = 0

    def answer_together(request: httpx2.Request) -> httpx2.Response:
        nonlocal now, most
        with lock:
            now += 1
            most = max(most, now)
        gate.wait(10)  # passes only when as many are under way as may be
        with lock:
            now -= 1
        return answered(json.loads(request.content)["items"])

    http = httpx2.Client(transport=httpx2.MockTransport(answer_together))
    with Mendgauge("http://tyres.example", http_client=http, retries=0) as client:
        list(client.check_repairability_of_each(map(case, range(24)), chunk=2, concurrency=concurrency))
    assert most == concurrency


def test_cases_are_taken_as_they_are_needed() -> None:
    taken = 0

    def source() -> Iterator[TyreCase]:
        nonlocal taken
        while True:  # without end
            taken += 1
            yield case(taken)

    service = Service(asynchronous=False)
    for result in service.ask(source(), chunk=5, concurrency=2, take=50):
        assert taken <= result.number + 2 * 5 + 1
    assert taken <= 60


def test_async_cases_are_taken_as_they_are_needed() -> None:
    taken: list[int] = []

    def source() -> Iterator[TyreCase]:
        for number in range(10_000):
            taken.append(number)
            yield case(number)

    results = list(Service(asynchronous=True).ask(source(), chunk=5, concurrency=2, take=50))
    assert len(results) == 50
    assert len(taken) <= 60


def test_only_the_chunk_that_failed_is_tried_again(service: Service, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("mendgauge_client._retry.FIRST_PAUSE_S", 0.0)

    def fail_second(call: int, items: Items) -> httpx2.Response:
        return httpx2.Response(503) if call == 2 else answered(items)

    results = list(service.ask(map(case, range(6)), fail_second, chunk=2, concurrency=1, retries=2))
    assert [result.number for result in results] == list(range(6))
    assert [references(items) for items in service.sent] == [[0, 1], [2, 3], [2, 3], [4, 5]]


def test_what_came_before_a_failure_has_been_given(service: Service) -> None:
    def fail_third(_: int, items: Items) -> httpx2.Response:
        return httpx2.Response(503) if references(items)[0] == 4 else answered(items)

    results: list[int] = []
    with pytest.raises(UnavailableError):
        results.extend(result.number for result in service.ask(map(case, range(9)), fail_third, chunk=2))
    taken = list(results)
    assert taken == [0, 1, 2, 3]


def test_a_batch_refused_as_a_whole_is_an_error(service: Service) -> None:
    refusal = httpx2.Response(422, json=problem("the body", ""))
    with pytest.raises(InvalidRequestError):
        list(service.ask([case(0)], lambda _, __: refusal))


def too_large(most: int) -> Answering:
    return lambda _, items: (
        httpx2.Response(413, json=problem("the body is too large", status=413))
        if len(items) > most
        else answered(items)
    )


def test_a_chunk_that_is_too_large_goes_in_halves(service: Service) -> None:
    results = list(service.ask(map(case, range(7)), too_large(2), chunk=7))
    assert [result.answer and result.answer.reference for result in results] == [str(n) for n in range(7)]
    assert [len(items) for items in service.sent] == [7, 3, 1, 2, 4, 2, 2]


def test_a_single_case_that_is_too_large_has_its_problem(service: Service) -> None:
    def too_large_with_three(_: int, items: Items) -> httpx2.Response:
        return too_large(0)(0, items) if 3 in references(items) else answered(items)

    results = list(service.ask(map(case, range(6)), too_large_with_three, chunk=4))
    assert [result.number for result in results if result.problem] == [3]
    assert len(results) == 6


def test_a_proxy_that_finds_a_single_case_too_large_is_an_error(service: Service) -> None:
    with pytest.raises(BodyTooLargeError):
        list(service.ask([case(0)], lambda _, __: httpx2.Response(413, text="too large")))


def test_large_cases_go_in_smaller_chunks_from_the_start(service: Service) -> None:
    large = [case(number, "x" * 300_000) for number in range(15)]
    results = list(service.ask(large, chunk=1000))
    assert [result.number for result in results] == list(range(15))
    assert sorted(len(items) for items in service.sent) == [3, 6, 6]
    assert max(service.sizes) < 2 * 1024 * 1024, "what the service takes unless it is set up otherwise"


@pytest.mark.parametrize(
    "items",
    [
        [],
        [{"answer": answer("0"), "problem": None}],
        [{"answer": answer("0"), "problem": None}] * 3,
        [{"answer": answer("0"), "problem": None}, {"answer": None, "problem": None}],
        [{"answer": answer("0"), "problem": problem("x")}] * 2,
        [{"answer": {"verdict": 5}, "problem": None}] * 2,
    ],
)
def test_an_answer_that_does_not_match_the_cases_is_reported(service: Service, items: Items) -> None:
    with pytest.raises(UnreadableAnswerError, match=r"Check that http://tyres\.example/v1/repairability/batch belongs"):
        list(service.ask(map(case, range(2)), lambda _, __: httpx2.Response(200, json={"items": items})))


def test_progress_is_reported_after_each_chunk(service: Service) -> None:
    shown: list[Progress] = []
    cases = [case(number) for number in range(5)]
    cases[1].rulebook = "none"
    list(service.ask(cases, chunk=2, progress=shown.append))
    assert [(one.done, one.failed, one.total) for one in shown] == [(2, 1, 5), (4, 1, 5), (5, 1, 5)]


def test_progress_does_not_know_how_many_a_stream_will_yield(service: Service) -> None:
    shown: list[Progress] = []
    list(service.ask(map(case, range(3)), progress=shown.append))
    assert [(one.done, one.total) for one in shown] == [(3, None)]


@pytest.mark.parametrize(
    ("how", "says"),
    [({"chunk": 0}, "chunk=0"), ({"chunk": 1001}, "from 1 to 1000"), ({"concurrency": 0}, "at least 1")],
)
def test_what_cannot_be_is_reported_at_once(how: dict[str, Any], says: str) -> None:
    sync = Mendgauge("http://tyres.example").check_repairability_of_each
    asynchronous = AsyncMendgauge("http://tyres.example").check_repairability_of_each
    for ask in (sync, asynchronous):
        with pytest.raises(ValueError, match=says):
            ask([], **how)


def test_memory_does_not_grow_with_the_number_of_cases() -> None:
    """The measurement of `examples.memory`, which streams a million in under 200 MB, on few cases and on many."""

    def peak_mb(count: int) -> float:
        done = subprocess.run(
            [sys.executable, "-m", "examples.memory", str(count)],
            cwd=ROOT / "sdk",
            capture_output=True,
            text=True,
            check=True,
        )
        shown = json.loads(done.stdout)
        assert shown["answered"] == count
        return float(shown["peak_mb"])

    few, many = peak_mb(1_000), peak_mb(8_000)
    assert many < few + 20, "7,000 answers held would take more than 200 MB"
    assert many < 200
