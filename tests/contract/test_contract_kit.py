"""The contract kit catches a service that breaks the contract, whichever way it does."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import count
from typing import Any

import pytest
from tests.contract.faulty import Exchange, Fault
from tests.contract.kit_faults import (
    BATCH,
    BATCH_PATH,
    BROKEN_DOCUMENT,
    FAULTS,
    GOLDEN,
    in_document,
    on_request,
    without_header,
)
from tests.contract.kit_service import CHECKS, KEY, Service, service_behind_proxy

from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.material import examples, operations
from mendgauge_client.contract.kit.suite import all_checks, outcome

KEYS_ASKED = ["access: 401 without a key, with WWW-Authenticate", "access: 401 with another key, with WWW-Authenticate"]
LIMITS = "access: 429 with Retry-After to too many requests"


@pytest.fixture(scope="module")
def service() -> Iterator[Service]:
    with service_behind_proxy() as service:
        yield service


@pytest.fixture(scope="module")
def locked() -> Iterator[Service]:
    with service_behind_proxy(KEY) as service:
        yield service


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_caught(service: Service, name: str) -> None:
    check, fault, expected = FAULTS[name]
    assert service.outcome(check).result == "ok", "without the fault"
    made = service.outcome(check, fault)
    assert made.result == "failed"
    assert expected in made.says


def test_every_group_of_checks_has_faults_that_it_catches() -> None:
    assert {CHECKS[check].group for check, _, _ in FAULTS.values()} == {check.group for check in CHECKS.values()}


def test_each_check_is_named_once() -> None:
    assert len(CHECKS) == len(list(all_checks()))


def test_every_operation_that_takes_a_body_and_answers_in_json_has_golden_examples() -> None:
    shown = {example.operation.id for example in examples()}
    assert {name for name, operation in operations().items() if operation.takes_body and not operation.forms} <= shown


@pytest.mark.parametrize("check", KEYS_ASKED)
def test_keys(service: Service, locked: Service, check: str) -> None:
    assert service.outcome(check).result == "not tried"
    assert locked.outcome(check, api_key=KEY).result == "ok"
    open_to_all = on_request(lambda exchange: exchange.asked_headers.update(authorization=f"Bearer {KEY}"))
    made = locked.outcome(check, open_to_all, api_key=KEY)
    assert (made.result, made.says.splitlines()[0]) == ("failed", "expected status 401, got 200")
    made = locked.outcome(check, without_header("www-authenticate"), api_key=KEY)
    assert (made.result, made.says) == (
        "failed",
        "the WWW-Authenticate header must ask for Bearer (RFC 6750), and is None",
    )


def limiter(allowed: int, retry_after: str | None = "0", **words: Any) -> Fault:
    """A limit on callers: so many requests are let through, the next is turned away, and so on."""
    numbers = count(1)

    def fault(exchange: Exchange) -> None:
        if not exchange.status and next(numbers) % (allowed + 1) == 0:
            exchange.status = 429
            exchange.headers = {"content-type": "application/problem+json", "x-request-id": "r"}
            if retry_after is not None:
                exchange.headers["retry-after"] = retry_after
            problem = {"type": "/problems/too-many-requests", "title": "T", "status": 429, "detail": "D"}
            exchange.say(problem | {"request_id": "r"} | words)

    return fault


@pytest.mark.parametrize(
    ("fault", "burst", "result", "says"),
    [
        (None, 0, "not tried", "the deployment turned nobody away; --burst N"),
        (None, 20, "not tried", "20 requests at once were all answered"),
        (limiter(9), 20, "ok", "Retry-After: 0"),
        (
            limiter(9, None),
            20,
            "failed",
            "the Retry-After header must be seconds or a date (RFC 9110, 10.2.3), and is None",
        ),
        (limiter(9, "soon"), 20, "failed", "and is 'soon'"),
        (limiter(9, status=503), 20, "failed", "/status: expected 429, as the response has it, got 503"),
    ],
)
def test_limits(service: Service, fault: Fault | None, burst: int, result: str, says: str) -> None:
    made = service.outcome(LIMITS, fault, burst=burst)
    assert made.result == result
    assert says in made.says


def test_a_limit_on_callers_is_waited_for_and_held_against_the_contract(service: Service) -> None:
    service.proxy.fault = limiter(3)
    with Deployment(service.address) as deployment:
        made = [outcome(check, deployment).result for check in CHECKS.values() if check.group in ("caching", "access")]
    service.proxy.fault = None
    assert set(made) == {"ok", "not tried"}
    assert made[-1] == "ok"


def test_a_lost_connection_fails_the_check_and_not_the_kit() -> None:
    with Deployment("http://127.0.0.1:9") as deployment:
        made = outcome(CHECKS["errors: 404 to a path that there is not"], deployment)
    assert made.result == "failed"
    assert made.says.startswith("no answer came: ")


def later_version(exchange: Exchange) -> None:
    """A later minor version: a field and a rulebook more, and a further edition that judges otherwise."""
    if not exchange.status:
        return
    content: Any = exchange.json()
    if exchange.path == "/openapi.json":
        content["info"]["version"] = "0.2.0"
        content["components"]["schemas"]["Repairability"]["properties"]["mood"] = {"type": "string"}
    elif exchange.path == "/v1/repairability" and exchange.status == 200:
        content["mood"] = "good"
        if "@" not in json.loads(exchange.asked)["rulebook"]:
            content["rulebook"]["edition"] = "2027.1"
            content["rules_checked"] += 1
    elif exchange.path == "/v1/rulebooks":
        content["rulebooks"].insert(0, {**content["rulebooks"][0], "reference": "xx@2027.1"})
    exchange.say(content)


def test_a_later_version_and_a_later_edition_keep_the_contract(service: Service) -> None:
    made = service.outcome(BROKEN_DOCUMENT, later_version)
    assert (made.result, made.says) == ("ok", "1 additions\nRepairability.mood: addition: new field")
    made = service.outcome(GOLDEN, later_version)
    assert (made.result, made.says) == ("ok", "a later edition answers otherwise; as expected by gb@2026.2")
    assert service.outcome("examples: list_rulebooks/all", later_version).result == "ok"

    def but_an_edition_less(exchange: Exchange) -> None:
        later_version(exchange)
        if exchange.path == "/v1/rulebooks" and exchange.status:
            exchange.say({"rulebooks": exchange.json()["rulebooks"][:-1]})

    assert service.outcome("examples: list_rulebooks/all", but_an_edition_less).result == "failed"


def test_an_operation_that_the_deployment_does_not_have_is_reported_once(service: Service) -> None:
    fault = in_document(lambda document: document["paths"].pop(BATCH_PATH))
    assert service.outcome(BROKEN_DOCUMENT, fault).result == "failed"
    made = service.outcome(f"{BATCH}: no items, no outcomes", fault)
    assert (made.result, made.says) == ("not tried", "this deployment's document has no such operation")


def test_head_leaves_the_connection_whole(service: Service) -> None:
    """A server that waits for the body of a HEAD breaks the connection, and the next request on it is lost."""
    with Deployment(service.address) as deployment:
        for _ in range(3):
            assert deployment.ask("HEAD", "/v1/rulebooks").status_code == 200
            assert deployment.ask("GET", "/health/live").status_code == 200
