"""A batch: every item answered by itself, in its place, as its own operation would; a broken one costs no other."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Callable, Iterator
from typing import Any, TypeAlias

import msgspec
import pytest
from litestar.testing import TestClient
from tests.bench.mix import draw

from mendgauge.api.controllers.batch import ITEMS_MAX
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.server import create_app
from mendgauge_client.contract.kit.rows import whole

Json: TypeAlias = dict[str, Any]

OPERATIONS = ["/v1/repairability", "/v1/repair-plans"]
DETAILS = ("brief", "full")

SOUND: list[Json] = [
    {
        "rulebook": "gb",
        "vehicle": {"kind": "car"},
        "tyre": {"marking": "205/55R16 91V", "tread_depth_mm": 5.0},
        "injuries": [{"region": "tread", "depth": "through", "across_mm": 20, "diameter_mm": 4.0}],
    },
    {
        "rulebook": "us",
        "vehicle": {"kind": "truck", "gross_mass_kg": 24_000},
        "tyre": {"marking": "315/80R22.5 156/150L", "tread_depth_mm": {"low": 8, "high": 9}},
        "injuries": [{"region": "tread", "depth": "through", "diameter_mm": 9.0}],
        "history": {"complete": True},
    },
    {"rulebook": "de", "tyre": {"marking": "225/75R16C 121/120R"}},
    {"rulebook": "jp", "tyre": {"marking": "120/70ZR17 M/C (58W)"}, "injuries": []},
    {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "inspection": {"belt_separation": True}},
]
"""Cars, vans, trucks and a motorcycle of an invented fleet."""


def without_a_tyre(item: Json) -> None:
    del item["tyre"]


def with_text_for_a_number(item: Json) -> None:
    item["injuries"] = [{}, {"diameter_mm": "4"}]


def with_a_word_unknown(item: Json) -> None:
    item["vehicle"] = {"kind": "tram"}


def with_a_marking_no_tyre_carries(item: Json) -> None:
    item["tyre"]["marking"] = "205/55R61"


def in_a_rulebook_there_is_not(item: Json) -> None:
    item["rulebook"] = "zz"


def with_low_above_high(item: Json) -> None:
    item["tyre"]["tread_depth_mm"] = {"low": 5, "high": 4}


def made_tomorrow(item: Json) -> None:
    item["assessed_on"], item["tyre"]["date_code"] = "2026-11-24", "0130"


BROKEN: list[tuple[Callable[[Json], None], str, str]] = [
    (without_a_tyre, "contract-broken", "/tyre"),
    (with_text_for_a_number, "contract-broken", "/injuries/1/diameter_mm"),
    (with_a_word_unknown, "contract-broken", "/vehicle/kind"),
    (with_a_marking_no_tyre_carries, "impossible-case", "/tyre/marking"),
    (in_a_rulebook_there_is_not, "impossible-case", "/rulebook"),
    (with_low_above_high, "impossible-case", "/tyre/tread_depth_mm"),
    (made_tomorrow, "impossible-case", "/tyre/date_code"),
]
"""What can be wrong with an item, the kind of problem it is, and where in the item."""


@pytest.fixture(scope="module")
def client() -> Iterator[TestClient[Any]]:
    with TestClient(create_app(), raise_server_exceptions=False) as client:
        yield client


def mixed(broken: set[int]) -> tuple[list[Json], dict[int, tuple[str, str]]]:
    """A thousand items, those at some places broken; and for each of these its kind of problem and its pointer."""
    items: list[Json] = []
    wrong: dict[int, tuple[str, str]] = {}
    for index in range(ITEMS_MAX):
        item = copy.deepcopy(SOUND[index % len(SOUND)]) | {
            "reference": f"FERRISBY-{index}",
            "assessed_on": "2026-11-24",
        }
        if index in broken:
            break_it, slug, place = BROKEN[len(wrong) % len(BROKEN)]
            break_it(item)
            wrong[index] = f"/problems/{slug}", f"/items/{index}{place}"
        items.append(item)
    return items, wrong


@pytest.mark.parametrize("path", OPERATIONS)
def test_a_thousand_items_of_which_37_are_broken(client: TestClient[Any], path: str) -> None:
    broken = {731, *random.Random(6).sample([index for index in range(ITEMS_MAX) if index != 731], 36)}
    items, wrong = mixed(broken)
    reply = client.post(f"{path}/batch", json={"items": items})
    assert reply.status_code == 200
    answered = reply.json()
    assert (answered["ok"], answered["failed"], len(answered["items"])) == (963, 37, 1000)
    assert [one["reference"] for one in answered["items"]] == [item["reference"] for item in items]
    for index, one in enumerate(answered["items"]):
        if index not in broken:
            assert (one["status"], one["problem"]) == ("ok", None)
            assert one["answer"]["verdict"]
            continue
        kind, place = wrong[index]
        assert (one["status"], one["answer"]) == ("failed", None)
        assert one["problem"]["type"] == kind
        assert [fault["pointer"] for fault in one["problem"]["errors"]] == [place]
        assert one["problem"]["request_id"] == reply.headers["x-request-id"]


@pytest.mark.parametrize(("path", "detail"), [("/v1/repairability", "full"), *((OPERATIONS[1], d) for d in DETAILS)])
@pytest.mark.parametrize("case", SOUND, ids=lambda case: case["tyre"]["marking"])
def test_an_item_is_answered_byte_for_byte_as_it_would_be_alone(
    client: TestClient[Any], path: str, detail: str, case: Json
) -> None:
    case = case | {"detail": detail}
    alone = client.post(path, json=case).content
    together = client.post(f"{path}/batch", json={"items": [{}, case, case]}).content
    assert together.count(b'"answer":' + alone) == 2
    assert b'"tables"' not in together


def test_brief_rows_and_the_tables_behind_them_say_what_each_answer_says_alone(client: TestClient[Any]) -> None:
    cases = [
        {**case, "reference": f"FERRISBY-{index}", "detail": DETAILS[index % 3 == 0]}
        for index, case in enumerate([*draw(300), *SOUND])
    ]
    batch = client.post("/v1/repairability/batch", json={"items": cases}).json()
    for case, item in zip(cases, batch["items"], strict=True):
        if item["answer"] is None:
            continue
        assert ("in_tables" in item["answer"]) == (case["detail"] == "brief")
        assert whole(item["answer"], batch["tables"], item["reference"]) == alone(case)


def alone(case: Json) -> Any:
    return json.loads(msgspec.json.encode(check_repairability(msgspec.convert(case, Case))))


def test_what_finds_no_room_in_the_tables_stays_in_its_row(
    client: TestClient[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("mendgauge.operations.repairability.tables.ROOM", 2)
    cases = draw(60)
    batch = client.post("/v1/repairability/batch", json={"items": cases}).json()
    tables = batch["tables"]
    assert {len(tables[name]) for name in ("cautions", "to_establish", "until_then", "findings", "advice")} == {2}
    for case, item in zip(cases, batch["items"], strict=True):
        if item["answer"] is not None:
            assert whole(item["answer"], tables, item["reference"]) == alone(case)


@pytest.mark.parametrize("path", OPERATIONS)
@pytest.mark.parametrize(("break_it", "slug", "place"), BROKEN)
def test_an_item_fails_as_it_would_alone(
    client: TestClient[Any], path: str, break_it: Callable[[Json], None], slug: str, place: str
) -> None:
    item = copy.deepcopy(SOUND[0])
    break_it(item)
    alone = client.post(path, json=item).json()
    (one,) = client.post(f"{path}/batch", json={"items": [item]}).json()["items"]
    assert alone["type"] == one["problem"]["type"] == f"/problems/{slug}"
    assert [fault["detail"] for fault in one["problem"]["errors"]] == [fault["detail"] for fault in alone["errors"]]
    assert [fault["pointer"] for fault in one["problem"]["errors"]] == [f"/items/0{place}"]


@pytest.mark.parametrize("path", OPERATIONS)
def test_more_items_than_are_taken_are_refused_with_a_problem_of_their_own(client: TestClient[Any], path: str) -> None:
    taken = client.post(f"{path}/batch", json={"items": [0] * ITEMS_MAX})
    assert (taken.status_code, taken.json()["failed"]) == (200, ITEMS_MAX)
    refused = client.post(f"{path}/batch", json={"items": [0] * (ITEMS_MAX + 1)})
    assert refused.status_code == 413
    assert refused.json()["type"] == "/problems/too-many-items"
    assert "1,000 items" in refused.json()["detail"]


@pytest.mark.parametrize("path", OPERATIONS)
def test_no_items_are_answered_with_none(client: TestClient[Any], path: str) -> None:
    assert client.post(f"{path}/batch", json={"items": []}).json() == {"ok": 0, "failed": 0, "items": []}


@pytest.mark.parametrize(
    ("body", "pointer"), [({}, "/items"), ({"items": {}}, "/items"), ({"items": [], "cases": []}, "/cases"), ([], "")]
)
def test_what_is_no_batch_is_refused_as_a_whole(client: TestClient[Any], body: Any, pointer: str) -> None:
    refused = client.post("/v1/repairability/batch", json=body)
    assert refused.status_code == 422
    assert [fault["pointer"] for fault in refused.json()["errors"]] == [pointer]


@pytest.mark.parametrize(
    ("item", "kind", "says"),
    [
        (b'"\xff"', "/problems/malformed-request", "the item is not valid UTF-8"),
        (b'{"rulebook": 1e999}', "/problems/malformed-request", "the item holds a number too large"),
        (b'{"reference": "GATE-7", "rulebook": 1, "rulebook": "gb"}', "/problems/contract-broken", "the item is JSON"),
        (b"null", "/problems/contract-broken", "the item is JSON"),
    ],
)
def test_bytes_that_are_no_case_cost_their_own_item_alone(
    client: TestClient[Any], item: bytes, kind: str, says: str
) -> None:
    sound = json.dumps(SOUND[0]).encode()
    body = b'{"items": [' + sound + b"," + item + b"," + sound + b"]}"
    reply = client.post("/v1/repairability/batch", content=body, headers={"Content-Type": "application/json"})
    first, middle, last = reply.json()["items"]
    assert (first["status"], middle["status"], last["status"]) == ("ok", "failed", "ok")
    assert middle["problem"]["type"] == kind
    assert middle["problem"]["detail"].startswith(says)


def test_a_failure_of_the_service_at_one_item_is_reported_there_and_costs_no_other(
    client: TestClient[Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    def answer(case: Case) -> Repairability:
        if case.reference == "UNLUCKY":
            raise ZeroDivisionError
        return check_repairability(case)

    monkeypatch.setattr("mendgauge.api.controllers.repairability.check_repairability", answer)
    items = [SOUND[0], SOUND[0] | {"reference": "UNLUCKY"}, SOUND[0]]
    first, middle, last = client.post("/v1/repairability/batch", json={"items": items}).json()["items"]
    assert (first["status"], last["status"]) == ("ok", "ok")
    assert (middle["reference"], middle["problem"]["type"]) == ("UNLUCKY", "/problems/internal-error")
    assert "ZeroDivision" not in json.dumps(middle)
