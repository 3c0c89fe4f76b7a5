"""The contract kit passes the service as it is, and catches one that breaks the contract, whichever way it does."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import zipfile
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from typing import Any, TypeAlias
from xml.etree import ElementTree as ET

import pytest
from tests.contract.faulty import Exchange, Fault, Faulty
from tests.contract.live import served

from mendgauge.server import create_app
from mendgauge.settings import Settings
from mendgauge_client.contract.__main__ import main
from mendgauge_client.contract.deployment import Deployment
from mendgauge_client.contract.material import examples, operations
from mendgauge_client.contract.suite import Outcome, all_checks, outcome

ROOT = Path(__file__).parents[2]
KEY = "a-key-of-the-depot"
CHECKS = {f"{check.group}: {check.name}": check for check in all_checks()}
Change: TypeAlias = Callable[[Exchange], object]


class Service:
    """A service whose proxy can be made to break the contract."""

    def __init__(self, proxy: Faulty, address: str) -> None:
        self.proxy, self.address = proxy, address

    def outcome(self, name: str, fault: Fault | None = None, **options: Any) -> Outcome:
        """What comes of one check while the proxy has a fault."""
        self.proxy.fault = fault
        try:
            with Deployment(self.address, **options) as deployment:
                return outcome(CHECKS[name], deployment)
        finally:
            self.proxy.fault = None


@pytest.fixture(scope="module")
def service() -> Iterator[Service]:
    proxy = Faulty(create_app())
    with served(proxy) as address:
        yield Service(proxy, address)


@pytest.fixture(scope="module")
def locked() -> Iterator[Service]:
    proxy = Faulty(create_app(Settings(api_keys=(KEY,))))
    with served(proxy) as address:
        yield Service(proxy, address)


def on_answer(path: str, change: Callable[[Any], Any], status: int = 200) -> Fault:
    """A fault in the content of the answers of one path and status."""

    def fault(exchange: Exchange) -> None:
        if exchange.status == status and exchange.path == path and exchange.body:
            content = exchange.json()
            exchange.say(change(content) or content)

    return fault


def always(change: Change) -> Fault:
    """A fault in every answer."""

    def fault(exchange: Exchange) -> None:
        if exchange.status:
            change(exchange)

    return fault


def on_request(change: Change) -> Fault:
    """A fault in every request, before the service has it."""

    def fault(exchange: Exchange) -> None:
        if not exchange.status:
            change(exchange)

    return fault


def refused_as(change: Change) -> Fault:
    """A fault in every answer of 4xx."""

    def fault(exchange: Exchange) -> None:
        if exchange.status >= 400:
            change(exchange)

    return fault


def in_document(change: Callable[[dict[str, Any]], Any]) -> Fault:
    return on_answer("/openapi.json", lambda document: change(document) and None)


def as_text(exchange: Exchange) -> None:
    exchange.headers["content-type"] = "text/plain"
    exchange.say(b"Sorry, that went wrong.")


def other_problem(**words: Any) -> Fault:
    return refused_as(lambda exchange: exchange.say(exchange.json() | words))


def without_header(name: str) -> Fault:
    return always(lambda exchange: exchange.headers.pop(name, None))


def without_places(exchange: Exchange) -> None:
    problem = exchange.json()
    exchange.say({**problem, "errors": [{"detail": error["detail"]} for error in problem.get("errors", [])]})


def places_of_the_item(batch: dict[str, Any]) -> None:
    for index, item in enumerate(batch["items"]):
        for error in (item["problem"] or {}).get("errors", []):
            error["pointer"] = error["pointer"].removeprefix(f"/items/{index}")


def growing() -> Fault:
    numbers = count()
    return on_answer("/v1/repairability", lambda answer: answer | {"rules_checked": next(numbers)})


def first_as_text(answer: dict[str, Any]) -> None:
    for finding in answer["findings"][:1]:
        finding["margin"] = str(finding["margin"])


def in_order_of_its_own(exchange: Exchange) -> None:
    """Answers by the order of the members of what was asked."""
    if exchange.path == "/v1/repairability" and exchange.status == 200:
        exchange.say({**exchange.json(), "reference": next(iter(json.loads(exchange.asked)))})


def required_of(document: dict[str, Any]) -> list[str]:
    required: list[str] = document["components"]["schemas"]["Case"]["required"]
    return required


BATCH = "batch: check_repairability_in_batch"
GOLDEN = "examples: check_repairability/car_lean_not_measured"
OWN = "document: its example of check_repairability is answered as shown"
BROKEN_DOCUMENT = "document: nothing that this client goes by has changed"
BATCH_PATH = "/v1/repairability/batch"

FAULTS: dict[str, tuple[str, Fault, str]] = {
    "drops a field": (
        GOLDEN,
        on_answer("/v1/repairability", lambda answer: answer.pop("next_step") and None),
        '/next_step: expected "book_in", and it is missing',
    ),
    "adds a field that no document tells of": (
        GOLDEN,
        on_answer("/v1/repairability", lambda answer: answer | {"served_by": "n1"}),
        '/served_by: not expected, got "n1"',
    ),
    "changes a number to text": (GOLDEN, on_answer("/v1/repairability", first_as_text), "/findings/0/margin: expected"),
    "changes false to 0": (
        "examples: read_tyre_marking/car_with_date",
        on_answer("/v1/tyre-markings", lambda answer: answer | {"motorcycle": 0}),
        "/motorcycle: expected false, got 0",
    ),
    "changes a value": (
        GOLDEN,
        on_answer("/v1/repairability", lambda answer: answer | {"verdict": "repairable"}),
        '/verdict: expected "inspect", got "repairable"',
    ),
    "reorders a list": (
        GOLDEN,
        on_answer("/v1/repairability", lambda answer: answer["possible_verdicts"].reverse()),
        "/possible_verdicts/0: expected",
    ),
    "cuts a list short": (
        GOLDEN,
        on_answer("/v1/repairability", lambda answer: answer["possible_verdicts"].pop() and None),
        "/possible_verdicts: expected 2 items, got 1",
    ),
    "answers HTML": (
        GOLDEN,
        always(lambda exchange: exchange.say(b"<html>")),
        "the answer is not JSON",
    ),
    "answers a list where an object was promised": (
        f"{BATCH}: the counts are those of the items",
        on_answer(BATCH_PATH, lambda _: [1]),
        "expected an object with `items`",
    ),
    "answers otherwise than its document shows": (
        OWN,
        on_answer("/v1/repairability", lambda answer: answer | {"rules_checked": 1}),
        "/rules_checked: expected",
    ),
    "serves no document": (
        "document: /openapi.json is an OpenAPI 3.1 document",
        on_answer("/openapi.json", lambda _: b"<html>"),
        "GET /openapi.json gives no OpenAPI document",
    ),
    "serves an OpenAPI 3.0 document": (
        "document: /openapi.json is an OpenAPI 3.1 document",
        in_document(lambda document: document.update(openapi="3.0.3")),
        "/openapi: expected 3.1, got '3.0.3'",
    ),
    "has another major version": (
        "document: its major version is the one this client was made for",
        in_document(lambda document: document["info"].update(version="1.0.0")),
        "expected version 0.x, got 1.0.0: use a client made for it",
    ),
    "has no version": (
        "document: its major version is the one this client was made for",
        in_document(lambda document: document["info"].update(version="new")),
        "the document's version must be of the form 1.2.3: 'new' is not",
    ),
    "has an operation less": (
        BROKEN_DOCUMENT,
        in_document(lambda document: document["paths"].pop("/v1/stem-trim")),
        "POST /v1/stem-trim: operation removed or renamed: `trim_stems` is gone",
    ),
    "asks for more": (
        BROKEN_DOCUMENT,
        in_document(lambda document: required_of(document).append("vehicle")),
        "Case.vehicle: now required",
    ),
    "adds a timestamp": (
        "sameness: check_repairability answers the same bytes again",
        growing(),
        "check_repairability/car_lean_not_measured: asked twice, answered otherwise",
    ),
    "goes by the order of the fields": (
        "sameness: check_repairability answers the same bytes to fields in another order",
        in_order_of_its_own,
        "with its fields in another order, answered otherwise",
    ),
    "hides the request id": (
        "request id: a well-formed one is taken over by a decision",
        without_header("x-request-id"),
        "sent X-Request-Id: a, told None",
    ),
    "makes a request id of its own": (
        "request id: a well-formed one is taken over by a refusal",
        on_request(lambda exchange: exchange.asked_headers.pop("x-request-id", None)),
        "sent X-Request-Id: a, told '",
    ),
    "takes any request id": (
        "request id: an ill-formed one is replaced by a reading",
        always(
            lambda exchange: exchange.headers.update({"x-request-id": exchange.asked_headers.get("x-request-id", "")})
        ),
        "sent X-Request-Id: two words, told 'two words'; expected one of the form",
    ),
    "tells everybody the same request id": (
        "request id: one is made where none was sent, by a health check",
        always(lambda exchange: exchange.headers.update({"x-request-id": "one-for-all"})),
        "two requests were told the same id: 'one-for-all'",
    ),
    "answers text instead of a problem": (
        "errors: check_repairability: 400 to a body that is not JSON",
        refused_as(as_text),
        "expected a problem, got text that is not JSON: 'Sorry, that went wrong.'",
    ),
    "calls a problem plain JSON": (
        "errors: 404 to a path that there is not",
        refused_as(lambda exchange: exchange.headers.update({"content-type": "application/json"})),
        "expected Content-Type application/problem+json, got 'application/json'",
    ),
    "answers a refusal with 200": (
        "errors: quote_repair: 422 to a field that there is not, by pointer",
        refused_as(lambda exchange: setattr(exchange, "status", 200)),
        "expected status 422, got 200",
    ),
    "answers 400 for 415": (
        "errors: plan_work: 415 to a body not declared as JSON",
        refused_as(lambda exchange: setattr(exchange, "status", 400)),
        "expected status 415, got 400",
    ),
    "takes whatever media type": (
        "errors: find_service_limits: 415 to a body not declared as JSON",
        on_request(lambda exchange: exchange.asked_headers.update({"content-type": "application/json"})),
        "expected status 415, got 200",
    ),
    "takes unknown fields": (
        "errors: trim_stems: 422 to a field that there is not, by pointer",
        on_request(lambda exchange: setattr(exchange, "asked", exchange.asked.replace(b', "colour": "black"', b""))),
        "expected status 422, got 200",
    ),
    "tells another kind of problem": (
        "errors: get_rulebook: 404 to a rulebook that there is not",
        other_problem(type="about:blank"),
        "/type: expected '/problems/not-found', got 'about:blank'",
    ),
    "tells another status in the problem": (
        "errors: 404 to a path that there is not",
        other_problem(status=400),
        "/status: expected 404, as the response has it, got 400",
    ),
    "tells another request id in the problem": (
        "errors: 404 to a path that there is not",
        other_problem(request_id="another"),
        "/request_id: expected '",
    ),
    "tells no detail": (
        "errors: 404 to a path that there is not",
        other_problem(detail=None),
        "/detail: expected text, got None",
    ),
    "hides where the request is at fault": (
        "errors: check_repairability: 422 to a field of the wrong type, by pointer",
        refused_as(without_places),
        "/errors/0: expected either a `pointer` or a `parameter`",
    ),
    "names another place": (
        "errors: check_repairability: 422 to a marking that no tyre carries, by pointer",
        other_problem(errors=[{"pointer": "/tyre", "detail": "no"}]),
        '/errors: expected {"pointer": "/tyre/marking"} among them, got [{"pointer": "/tyre"}]',
    ),
    "names a parameter by pointer": (
        "errors: read_tyre_marking: 422 without the marking, by the parameter's name",
        other_problem(errors=[{"pointer": "marking", "detail": "no"}]),
        "/errors/0/pointer: 'marking' is no JSON Pointer",
    ),
    "lists no places": (
        "errors: check_repairability: 422 without a field that is needed, by pointer",
        other_problem(errors="all over"),
        "/errors: expected a list",
    ),
    "lets large bodies fail": (
        "errors: check_repairability: 413 to a body that is too large",
        always(lambda exchange: setattr(exchange, "status", 500 if exchange.status == 413 else exchange.status)),
        "expected status 413, got 500",
    ),
    "forgets Allow": (
        "errors: 405 to a method that a path does not take, with Allow",
        without_header("allow"),
        "the Allow header must name POST, and is None",
    ),
    "explains no problems": (
        "errors: /problems/not-found is explained",
        always(lambda exchange: setattr(exchange, "status", 410)),
        "GET /problems/not-found: expected status 200, got 410",
    ),
    "explains another problem": (
        "errors: /problems/not-found is explained",
        on_answer("/problems/not-found", lambda kind: kind | {"status": 410}),
        "/status: expected 404, got 410",
    ),
    "forgets ETags": (
        "caching: GET /v1/rulebooks: 304 to a copy that is good",
        without_header("etag"),
        "the answer has no ETag",
    ),
    "passes on no If-None-Match": (
        "caching: GET /v1/rulebooks/gb: 304 to a copy that is good",
        on_request(lambda exchange: exchange.asked_headers.pop("if-none-match", None)),
        "expected 304 without a body, got 200",
    ),
    "takes any copy for good": (
        "caching: GET /v1/rulebooks: 304 to a copy that is good",
        on_request(
            lambda exchange: exchange.asked_headers.update(
                {"if-none-match": "*"} if "if-none-match" in exchange.asked_headers else {}
            )
        ),
        "asked with another ETag, expected the same content again, got 304",
    ),
    "does not know HEAD": (
        "caching: HEAD /v1/rulebooks: as GET, without the body",
        always(lambda exchange: setattr(exchange, "status", 405 if exchange.method == "HEAD" else exchange.status)),
        "expected 200 without a body, got 405",
    ),
    "reorders a batch": (
        f"{BATCH}: each item is answered as alone, in its place",
        on_answer(BATCH_PATH, lambda batch: batch["items"].reverse()),
        "/items/0/",
    ),
    "reorders the references of a batch": (
        f"{BATCH}: each item is told by its reference, in the order sent",
        on_answer(BATCH_PATH, lambda batch: batch["items"].reverse()),
        "/items: expected the references",
    ),
    "loses an item of a batch": (
        f"{BATCH}: each item is answered as alone, in its place",
        on_answer(BATCH_PATH, lambda batch: batch["items"].pop() and None),
        "/items: sent",
    ),
    "answers an item otherwise than alone": (
        "batch: plan_repairs_in_batch: each item is answered as alone, in its place",
        on_answer("/v1/repair-plans/batch", lambda batch: batch["items"][0]["answer"].update(reference="R")),
        "/items/0/answer/reference: expected",
    ),
    "points into the item instead of the batch": (
        f"{BATCH}: each item is answered as alone, in its place",
        on_answer(BATCH_PATH, places_of_the_item),
        'pointer: expected "/items/',
    ),
    "miscounts a batch": (
        f"{BATCH}: the counts are those of the items",
        on_answer(BATCH_PATH, lambda batch: batch | {"failed": batch["failed"] + 1}),
        "/failed: told",
    ),
    "refuses an empty batch": (
        f"{BATCH}: no items, no outcomes",
        always(lambda exchange: setattr(exchange, "status", 422)),
        "expected status 200, got 422",
    ),
    "takes fewer items than promised": (
        f"{BATCH}: as many items as promised, and 413 to one more",
        on_answer(BATCH_PATH, lambda batch: batch["items"].pop() and None),
        "/items: sent 1000, as many as are taken at a time, got 999",
    ),
    "takes more items than promised": (
        f"{BATCH}: as many items as promised, and 413 to one more",
        always(lambda exchange: setattr(exchange, "status", 200)),
        "expected status 413, got 200",
    ),
    "is never ready": (
        "access: no key is needed to see whether the service is ready",
        always(lambda exchange: setattr(exchange, "status", 503)),
        "GET /health/live: expected status 200, got 503",
    ),
}


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_caught(service: Service, name: str) -> None:
    check, fault, told = FAULTS[name]
    assert service.outcome(check).result == "ok", "without the fault"
    made = service.outcome(check, fault)
    assert made.result == "failed"
    assert told in made.says


def test_every_group_of_checks_has_faults_that_it_catches() -> None:
    assert {CHECKS[check].group for check, _, _ in FAULTS.values()} == {check.group for check in CHECKS.values()}


def test_each_check_is_named_once() -> None:
    assert len(CHECKS) == len(list(all_checks()))


def test_every_operation_that_takes_a_body_has_golden_examples() -> None:
    shown = {example.operation.id for example in examples()}
    assert {name for name, operation in operations().items() if operation.takes_body} <= shown


KEYS_ASKED = ["access: 401 without a key, with WWW-Authenticate", "access: 401 with another key, with WWW-Authenticate"]


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


LIMITS = "access: 429 with Retry-After to too many requests"


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
    assert (made.result, made.says) == ("ok", "a later edition answers otherwise; as expected by gb@2026.1")
    assert service.outcome("examples: list_rulebooks/all", later_version).result == "ok"

    def but_an_edition_less(exchange: Exchange) -> None:
        later_version(exchange)
        if exchange.path == "/v1/rulebooks" and exchange.status:
            exchange.say({"rulebooks": exchange.json()["rulebooks"][:-1]})

    assert service.outcome("examples: list_rulebooks/all", but_an_edition_less).result == "failed"


def test_an_operation_that_the_deployment_does_not_have_is_told_once(service: Service) -> None:
    fault = in_document(lambda document: document["paths"].pop(BATCH_PATH))
    assert service.outcome(BROKEN_DOCUMENT, fault).result == "failed"
    made = service.outcome(f"{BATCH}: no items, no outcomes", fault)
    assert (made.result, made.says) == ("not tried", "this deployment's document has no such operation")


def run_pytest(folder: Path, *options: str, plugins: bool = False) -> subprocess.CompletedProcess[str]:
    """The kit under pytest, with all plugins that are installed, or quicker with that of the kit alone."""
    command = [sys.executable, "-m", "pytest", "--pyargs", "mendgauge_client.contract", "-p", "no:cacheprovider"]
    environment = dict(os.environ)
    if not plugins:
        command += ["-p", "mendgauge_client.contract.plugin"]
        environment["PYTEST_DISABLE_PLUGIN_AUTOLOAD"] = "1"
    return subprocess.run(
        [*command, *options], cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def attributes(tree: ET.Element, tag: str) -> set[str]:
    return {name for element in tree.iter(tag) for name in element.attrib}


def test_the_whole_kit_passes_the_service(
    locked: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("MENDGAUGE_API_KEY", KEY)
    code = main([locked.address, "--junit", str(tmp_path / "kit.xml")])
    table = capsys.readouterr().out
    assert code == 0, table
    *_, last = table.splitlines()
    assert last.endswith(f" {len(CHECKS) - 1} ok, 0 failed, 1 not tried")
    assert table.count("  ok      ") == len(CHECKS) - 1
    assert KEY not in table
    suite = ET.parse(tmp_path / "kit.xml").getroot()[0]
    assert (suite.get("tests"), suite.get("failures"), suite.get("skipped")) == (str(len(CHECKS)), "0", "1")
    assert len(suite.findall("testcase")) == len(CHECKS)


def test_the_same_checks_run_under_pytest(service: Service, tmp_path: Path) -> None:
    options = ["--base-url", service.address, "--junitxml", "pytest.xml", "-k", "document or batch"]
    done = run_pytest(tmp_path, *options, plugins=True)
    assert done.returncode == 0, done.stdout + done.stderr
    chosen = [check for check in CHECKS.values() if check.group in ("document", "batch")]
    cases = list(ET.parse(tmp_path / "pytest.xml").getroot().iter("testcase"))
    assert {f"test_the_deployment_keeps_the_contract[{check.group}: {check.name}]" for check in chosen} <= {
        case.get("name") for case in cases
    }


def test_what_is_broken_is_told_in_the_table_and_as_pytest_writes_junit(
    service: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    service.proxy.fault = refused_as(as_text)
    try:
        code = main([service.address, "--only", "access", "--junit", str(tmp_path / "kit.xml")])
        assert code == 0
        assert "  -       401 without a key" in capsys.readouterr().out
        code = main([service.address, "--only", "batch", "--junit", str(tmp_path / "kit.xml")])
        done = run_pytest(tmp_path, "--base-url", service.address, "--junitxml=pytest.xml", "-k", "batch or access")
    finally:
        service.proxy.fault = None
    table = capsys.readouterr().out
    assert code == 1
    assert "  FAILED  check_repairability_in_batch: as many items as promised, and 413 to one more" in table
    assert "            expected Content-Type application/problem+json, got 'text/plain'" in table
    assert done.returncode == 1
    # The reference for JUnit XML, which has no standard: what pytest itself writes of the same checks.
    ours, theirs = ET.parse(tmp_path / "kit.xml").getroot(), ET.parse(tmp_path / "pytest.xml").getroot()
    assert {element.tag for element in ours.iter()} <= {element.tag for element in theirs.iter()} | {
        "properties",
        "property",
        "system-out",
    }
    for tag in ("testsuites", "testsuite", "testcase", "failure"):
        assert attributes(ours, tag) <= attributes(theirs, tag)
    assert ours.findtext(".//failure")


def test_junit_has_a_form_for_whatever_a_broken_service_says(service: Service, tmp_path: Path) -> None:
    service.proxy.fault = on_answer("/v1/tyre-markings", lambda answer: answer | {"marking": "\x00\x1b]<&>\ud800"})
    try:
        main([service.address, "--only", "examples", "--junit", str(tmp_path / "kit.xml")])
    finally:
        service.proxy.fault = None
    assert ET.parse(tmp_path / "kit.xml").getroot().findall(".//failure")


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["http://127.0.0.1:9"], "http://127.0.0.1:9 was not reached: "),
        (["bench.example"], "Give the service's address as http://host:port or https://host"),
        ([], "Say where the service is: pass base_url= or set MENDGAUGE_URL"),
    ],
)
def test_what_cannot_be_checked_is_told_as_such(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, arguments: list[str], told: str
) -> None:
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    assert main(arguments) == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize(
    ("key", "told"), [(None, "asks for an API key: give one as --api-key"), ("wrong-key", "does not take the API key")]
)
def test_without_its_key_a_deployment_cannot_be_checked(
    locked: Service,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    key: str | None,
    told: str,
) -> None:
    monkeypatch.delenv("MENDGAUGE_API_KEY", raising=False)
    assert main([locked.address, *(["--api-key", key] if key else [])]) == 2
    assert told in capsys.readouterr().err


def test_a_report_that_cannot_be_written_is_told(
    service: Service, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([service.address, "--only", "caching", "--junit", str(tmp_path / "no" / "kit.xml")]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_pytest_is_told_where_the_deployment_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("MENDGAUGE_URL", raising=False)
    done = run_pytest(tmp_path, "-k", "caching")
    assert done.returncode != 0
    assert "Say where the service is" in done.stdout
    assert "--base-url" in done.stdout


def test_the_kit_needs_no_pytest_and_leaves_the_service_alone() -> None:
    program = (
        "import sys, mendgauge_client.contract.__main__; print(*sorted({name.split('.')[0] for name in sys.modules}))"
    )
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    assert not {"pytest", "mendgauge", "litestar"} & set(loaded)


def test_the_wheel_has_what_the_kit_brings_along(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hatchling", "build", "--target", "wheel", "--directory", str(tmp_path)]
    subprocess.run(command, cwd=ROOT / "sdk", capture_output=True, check=True)
    (wheel,) = tmp_path.glob("*.whl")
    with zipfile.ZipFile(wheel) as packed:
        names = packed.namelist()
        (told,) = (packed.read(name).decode() for name in names if name.endswith("entry_points.txt"))
    golden = {f"mendgauge_client/contract/material/examples/{example.name}.json" for example in examples()}
    assert golden <= set(names)
    assert "mendgauge_client/contract/material/openapi.json" in names
    assert "[pytest11]\nmendgauge_contract = mendgauge_client.contract.plugin" in told


def test_head_leaves_the_connection_whole(service: Service) -> None:
    """A server that waits for the body of a HEAD breaks the connection, and the next request on it is lost."""
    with Deployment(service.address) as deployment:
        for _ in range(3):
            assert deployment.ask("HEAD", "/v1/rulebooks").status_code == 200
            assert deployment.ask("GET", "/health/live").status_code == 200
