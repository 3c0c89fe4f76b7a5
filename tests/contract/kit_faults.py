"""Ways to break the contract, each with the check of the contract kit that is to catch it."""

from __future__ import annotations

import json
from collections.abc import Callable
from itertools import count
from typing import Any, TypeAlias

from tests.contract.faulty import Exchange, Fault

Change: TypeAlias = Callable[[Exchange], object]


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


def on_drawing(change: Change) -> Fault:
    """A fault in every picture and page."""

    def fault(exchange: Exchange) -> None:
        if exchange.status == 200 and exchange.path in ("/v1/drawings", "/v1/job-cards"):
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


def renamed_source(answer: dict[str, Any]) -> None:
    for finding in answer["findings"]:
        if "source" in finding:
            finding["source"] += ", second printing"


def first_as_text(answer: dict[str, Any]) -> None:
    for finding in answer["findings"][:1]:
        finding["margin"] = str(finding["margin"])


def in_order_of_its_own(exchange: Exchange) -> None:
    """Answers by the order of the members of what was asked."""
    if exchange.path == "/v1/repairability" and exchange.status == 200:
        exchange.say({**exchange.json(), "reference": next(iter(json.loads(exchange.asked)))})


def required_of(document: dict[str, Any]) -> list[str]:
    required: list[str] = document["components"]["schemas"]["TyreCase"]["required"]
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
    "adds a field that no document has": (
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
        on_answer("/v1/repairability", lambda answer: answer | {"next_step": "another"}),
        "/next_step: expected",
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
        "TyreCase.vehicle: now required",
    ),
    "leaves a caution out of full answers": (
        "detail: check_repairability: full has all that brief has",
        on_answer(
            "/v1/repairability",
            lambda answer: answer | {"cautions": answer["cautions"][1:]} if "rules_checked" in answer else None,
        ),
        "/cautions/0: brief has",
    ),
    "names another document in full": (
        "detail: check_repairability: full has all that brief has",
        on_answer("/v1/repairability", renamed_source),
        "/findings/0: brief has",
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
        "sent X-Request-Id: a, got None",
    ),
    "makes a request id of its own": (
        "request id: a well-formed one is taken over by a refusal",
        on_request(lambda exchange: exchange.asked_headers.pop("x-request-id", None)),
        "sent X-Request-Id: a, got '",
    ),
    "takes any request id": (
        "request id: an ill-formed one is replaced by a reading",
        always(
            lambda exchange: exchange.headers.update({"x-request-id": exchange.asked_headers.get("x-request-id", "")})
        ),
        "sent X-Request-Id: two words, got 'two words'; expected one of the form",
    ),
    "gives everybody the same request id": (
        "request id: one is made where none was sent, by a health check",
        always(lambda exchange: exchange.headers.update({"x-request-id": "one-for-all"})),
        "two requests were given the same id: 'one-for-all'",
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
    "gives another kind of problem": (
        "errors: get_rulebook: 404 to a rulebook that there is not",
        other_problem(type="about:blank"),
        "/type: expected '/problems/not-found', got 'about:blank'",
    ),
    "gives another status in the problem": (
        "errors: 404 to a path that there is not",
        other_problem(status=400),
        "/status: expected 404, as the response has it, got 400",
    ),
    "gives another request id in the problem": (
        "errors: 404 to a path that there is not",
        other_problem(request_id="another"),
        "/request_id: expected '",
    ),
    "gives no detail": (
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
    "calls a drawing JSON": (
        "media: draw_tyre answers in image/svg+xml",
        on_drawing(lambda exchange: exchange.headers.update({"content-type": "application/json"})),
        "asked for image/svg+xml, got Content-Type 'application/json'",
    ),
    "sends something else as a page": (
        "media: print_job_card answers in application/pdf",
        on_drawing(lambda exchange: setattr(exchange, "body", b"<html>")),
        "the content is no application/pdf: it begins with b'<html>'",
    ),
    "draws in another unit": (
        "media: draw_tyre draws to scale",
        on_drawing(lambda exchange: setattr(exchange, "body", exchange.body.replace(b'mm"', b'in"', 2))),
        "one unit is not one millimetre",
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
        f"{BATCH}: each item carries its reference, in the order sent",
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
    "leaves out the tables of a batch": (
        f"{BATCH}: each item is answered as alone, in its place",
        on_answer(BATCH_PATH, lambda batch: batch.pop("tables") and None),
        "/items/0/answer/in_tables: refers to what",
    ),
    "points into the item instead of the batch": (
        f"{BATCH}: each item is answered as alone, in its place",
        on_answer(BATCH_PATH, places_of_the_item),
        'pointer: expected "/items/',
    ),
    "miscounts a batch": (
        f"{BATCH}: the counts are those of the items",
        on_answer(BATCH_PATH, lambda batch: batch | {"failed": batch["failed"] + 1}),
        "/failed: answered",
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
"""By what the service does: the check that fails, the fault, and what the check says of it."""
