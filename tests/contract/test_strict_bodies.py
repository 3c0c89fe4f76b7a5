"""A body is taken as it stands or refused with the reason and the place; nothing is coerced, nothing ignored."""

from __future__ import annotations

import json
from typing import Any

import msgspec
import pytest
from litestar.testing import TestClient
from msgspec import inspect

from mendgauge.api.body import CASE_BYTES_MAX
from mendgauge.case.case import Case
from mendgauge.settings import Settings

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
JSON = "application/json"


def send(client: TestClient[Any], body: bytes, content_type: str | None = JSON, **headers: str) -> Any:
    if content_type is not None:
        headers["content-type"] = content_type
    return client.post("/v1/repairability", content=body, headers=headers)


def case(**more: Any) -> bytes:
    return json.dumps(CASE | more).encode()


def test_a_sound_body_is_taken(client: TestClient[Any]) -> None:
    assert send(client, case()).status_code == 200


@pytest.mark.parametrize("content_type", [JSON, "application/json; charset=utf-8", 'Application/JSON;charset="UTF-8"'])
def test_plain_json_in_utf_8_is_taken(client: TestClient[Any], content_type: str) -> None:
    assert send(client, case(), content_type).status_code == 200


@pytest.mark.parametrize(
    "content_type",
    [
        None,
        "",
        "text/plain",
        "application/x-www-form-urlencoded",
        "application/vnd.api+json",
        "application/json; charset=latin-1",
        "application/json; profile=x",
    ],
)
def test_any_other_content_type_is_415(client: TestClient[Any], content_type: str | None) -> None:
    answer = send(client, case(), content_type)
    assert answer.status_code == 415
    assert answer.headers["accept"] == JSON  # RFC 9110, 15.5.16: says what would be taken
    assert "application/json" in answer.json()["detail"]


@pytest.mark.parametrize("coding", ["br", "deflate", "gzip, gzip"])
def test_a_body_encoded_otherwise_is_415(client: TestClient[Any], coding: str) -> None:
    answer = send(client, case(), **{"content-encoding": coding})
    assert answer.status_code == 415
    assert answer.headers["accept-encoding"] == "gzip, identity"  # RFC 7694, 3: says what would be taken


# RFC 8259: what is JSON and what is not.
@pytest.mark.parametrize(
    ("body", "words"),
    [
        (b"", "no body"),
        (b"{", "not valid JSON"),
        (b"{'rulebook': 'gb'}", "not valid JSON"),
        (case() + b"x", "trailing characters"),
        (case()[:-1], "not valid JSON: it ends too early"),
        (b'{"wrong": 1', "not valid JSON"),
        (b"\xef\xbb\xbf" + case(), "begins with a byte order mark (EF BB BF); send it without"),
        (case().decode().encode("utf-16"), "it is in UTF-16; send it in UTF-8"),
        (b"NaN", "not valid JSON"),
        (b'{"rulebook":"gb","tyre":{"marking":"205/55R16","tread_depth_mm":NaN}}', "not valid JSON"),
        (b'{"rulebook":"gb","tyre":{"marking":"205/55R16","tread_depth_mm":Infinity}}', "not valid JSON"),
        (b'{"rulebook":"gb","tyre":{"marking":"205/55R16","tread_depth_mm":1e999}}', "too large"),
        (b'{"rulebook":"gb","tyre":{"marking":"\xff"}}', "not valid UTF-8; send it in UTF-8"),
        (b'{"rulebook":"gb","reference":"M\xfcnch"}', "not valid UTF-8, after 'M'; send it in UTF-8"),
        (b'{"rulebook":"gb","tyre":{"marking":"\\ud800"}}', "not valid JSON"),
        (b"[" * 20_000, "nested too deeply"),
        (b'{"reference":' + b"[" * 20_000 + b"]" * 20_000 + b"}", "nested too deeply"),
    ],
)
def test_what_is_not_json_is_400(client: TestClient[Any], body: bytes, words: str) -> None:
    answer = send(client, body)
    assert answer.status_code == 400
    assert answer.json()["type"] == "/problems/malformed-request"
    assert words in answer.json()["detail"]


@pytest.mark.parametrize(
    ("body", "pointer", "words"),
    [
        (
            case(injuries=[{"diameter_mm": "4"}]),
            "/injuries/0/diameter_mm",
            'got the text "4"; write it without quotes: 4',
        ),
        (case(injuries=[{"diameter_mm": "4,5"}]), "/injuries/0/diameter_mm", "without quotes: 4.5"),
        (case(injuries=[{"diameter_mm": "4 mm"}]), "/injuries/0/diameter_mm", 'got the text "4 mm"'),
        (case(position={"steered": "true"}), "/position/steered", "without quotes: true"),
        (case(reference=17), "/reference", 'got 17; write it in quotes: "17"'),
        (
            case(injuries=[{}, {"lean_deg": True}]),
            "/injuries/1/lean_deg",
            "expected a number from 0 to 80 or an object",
        ),
        (case(injuries=[{"lean_deg": 81}]), "/injuries/0/lean_deg", "expected a number from 0 to 80"),
        (case(injuries=[{"diameter_mm": 0}]), "/injuries/0/diameter_mm", "above 0 and up to 500"),
        (case(injuries=[{"diameter_mm": {"low": 1}}]), "/injuries/0/diameter_mm/high", "`high` is required"),
        (case(injuries={"0": {}}), "/injuries", "expected a list of at most 20 items, got an object"),
        (case(injuries=[{}] * 21), "/injuries", "got a list of 21 items"),
        (case(injuries=[3]), "/injuries/0", "expected an object, got 3"),
        (case(detail="long"), "/detail", "brief"),
        (case(detail=None), "/detail", "got null; leave it out"),
        (case(inspection={"complete": None}), "/inspection/complete", "got null; leave it out"),
        (case(assessed_on="24.11.2026"), "/assessed_on", "a date as YYYY-MM-DD"),
        (case(assessed_on=20261124), "/assessed_on", "a date as YYYY-MM-DD, got 20261124"),
        (case(vehicle={"kind": "trucks"}), "/vehicle/kind", "did you mean `truck`?"),
        (case(rulebook="GB"), "/rulebook", 'such as "gb"'),
        (case(reference="x" * 101), "/reference", "at most 100 characters, got text of 101 characters"),
        (case(house_rules={"max_repairs": 1.5}), "/house_rules/max_repairs", "expected a whole number from 0 to 50"),
        (case(house_rules={"refuse_regions": ["treat"]}), "/house_rules/refuse_regions/0", "did you mean `tread`?"),
        (case(tyres=[]), "/tyres", "no field `tyres` here; did you mean `tyre`?"),
        (case(injuries=[{"a/b~c": 1}]), "/injuries/0/a~1b~0c", "no field `a/b~c`"),  # RFC 6901, 3
        (case(**{"a`b - at `$.tyre": 1}), "/a`b - at `$.tyre", "no field"),
        (b'{"rulebook": "gb"}', "/tyre", "`tyre` is required"),
        (b'{"rulebook": "gb", "tyre": {}}', "/tyre/marking", "`marking` is required"),
        (b"[]", "", 'expected an object {"rulebook": …, "tyre": …}, got an empty list'),
        (b"null", "", "got null"),
        (b'"gb"', "", "got the text"),
    ],
)
def test_json_of_another_shape_is_422_at_its_place(
    client: TestClient[Any], body: bytes, pointer: str, words: str
) -> None:
    answer = send(client, body)
    assert answer.status_code == 422
    assert answer.json()["type"] == "/problems/contract-broken"
    (fault,) = answer.json()["errors"]
    assert fault["pointer"] == pointer
    assert words in fault["detail"]


def test_all_faults_are_reported_at_once(client: TestClient[Any]) -> None:
    body = {
        "rulebok": "gb",
        "tyre": {"marking": 205},
        "injuries": [{"diameter_mm": "4", "regoin": "tread"}, {"lean_deg": True}, 3],
    }
    answer = send(client, json.dumps(body).encode())
    assert {fault["pointer"] for fault in answer.json()["errors"]} == {
        "/rulebok",
        "/rulebook",
        "/tyre/marking",
        "/injuries/0/diameter_mm",
        "/injuries/0/regoin",
        "/injuries/1/lean_deg",
        "/injuries/2",
    }


def test_of_very_many_faults_the_first_are_reported(client: TestClient[Any]) -> None:
    answer = send(client, json.dumps(CASE | {f"field_{index}": 1 for index in range(1000)}).encode())
    assert len(answer.json()["errors"]) == 10


TYRE = b'"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}'


# RFC 7493 (I-JSON), 2.3: the names within an object are unique.
@pytest.mark.parametrize(
    ("body", "pointers"),
    [
        (b'{%b,"injuries":[{},{"diameter_mm":9,"diameter_mm":4}]}', ["/injuries/1/diameter_mm"]),
        (b'{%b,"injuries":[{"diameter_mm":4,"diameter_mm":4}]}', ["/injuries/0/diameter_mm"]),
        (b'{%b,"injuries":[{"diameter_mm":4,"diameter_mm":null}]}', ["/injuries/0/diameter_mm"]),
        (b'{%b,"injuries":[{"diameter_mm":null,"diameter_mm":4}]}', ["/injuries/0/diameter_mm"]),
        (b'{%b,"injuries":[{"diameter_mm":9,"lean_deg":null,"di\\u0061meter_mm":4}]}', ["/injuries/0/diameter_mm"]),
        (b'{%b,"reference":"A\\u003a1","injuries":[{"lean_deg":9,"lean_deg":4}]}', ["/injuries/0/lean_deg"]),
        (b'{%b,"reference":"A\\u003A1","injuries":[{"lean_deg":9,"lean_deg":4}]}', ["/injuries/0/lean_deg"]),
        (b'{%b,"reference":"A:1","reference":"A:1"}', ["/reference"]),
        (b'{%b,"detail":"brief","detail" : "full"}', ["/detail"]),
        (b'{%b,"codes":{"shop":"1","shop":"2"}}', ["/codes/shop"]),
        (b'{%b,"injuries":[{"depth":"through"}],"injuries":[]}', ["/injuries"]),
        (b'{%b,"injuries":[{"lean_deg":{"low":1,"high":2,"low":0}}]}', ["/injuries/0/lean_deg/low"]),
        (b'{%b,"tyre":{"marking":"195/65R15","marking":"195/65R15"}}', ["/tyre", "/tyre/marking"]),
        (b'{"rulebook":1,%b}', ["/rulebook"]),
    ],
)
def test_a_name_given_twice_is_refused_at_its_place(client: TestClient[Any], body: bytes, pointers: list[str]) -> None:
    answer = send(client, body % TYRE)
    assert answer.status_code == 422
    assert answer.json()["type"] == "/problems/contract-broken"
    assert [fault["pointer"] for fault in answer.json()["errors"]] == pointers
    assert all(
        fault["detail"].endswith("is given twice in one object; give it once") for fault in answer.json()["errors"]
    )


@pytest.mark.parametrize(
    "more",
    [
        b"",
        b',"detail":"brief"',
        b',"reference":null,"injuries":null',
        b',"reference":"A:1 \\" : \\"","codes":{"A:1":"a: b","B":"\\u003a\\u003A"}',
        b',"injuries":[{"lean_deg":4},{"lean_deg":4}],"inspection":{"complete":false},"history":{"complete":false}',
    ],
)
@pytest.mark.parametrize("space", [b"", b" ", b"\r\n\t"])
def test_the_same_name_in_several_objects_is_taken(client: TestClient[Any], more: bytes, space: bytes) -> None:
    body = (b"{%b%b}" % (TYRE, more)).replace(b'":', b'"' + space + b":" + space)
    assert send(client, space + body + space).status_code == 200


def test_a_case_written_anew_has_no_colon_more_than_was_sent() -> None:
    """On that the counting of colons rests: what was not sent is not written, and no text is written otherwise."""
    kinds, structs, factories = set(), set(), set()

    def look_at(kind: inspect.Type) -> None:
        kinds.add(type(kind))
        for part in ("type", "item_type", "key_type", "value_type"):
            if hasattr(kind, part):
                look_at(getattr(kind, part))
        for option in getattr(kind, "types", ()):
            look_at(option)
        if isinstance(kind, inspect.StructType) and kind.cls not in structs:
            structs.add(kind.cls)
            for field in kind.fields:
                factories.add(field.default_factory)
                look_at(field.type)

    look_at(inspect.type_info(Case))
    assert all(struct.__struct_config__.omit_defaults for struct in structs)
    assert factories == {msgspec.NODEFAULT, dict}
    parts = {inspect.Metadata, inspect.UnionType, inspect.StructType, inspect.VarTupleType, inspect.DictType}
    texts = {inspect.StrType, inspect.LiteralType, inspect.DateType}
    assert kinds == parts | texts | {inspect.FloatType, inspect.BoolType, inspect.NoneType}


def test_of_very_many_names_given_twice_the_first_are_reported(client: TestClient[Any]) -> None:
    answer = send(client, b'{%b,"injuries":[%b]}' % (TYRE, b",".join([b'{"lean_deg":1,"lean_deg":2}'] * 20)))
    assert len(answer.json()["errors"]) == 10


@pytest.mark.parametrize("space", [b"", b" \r\n\t"])
def test_a_batch_says_of_each_item_what_it_gives_twice_and_refuses_two_lists(
    client: TestClient[Any], space: bytes
) -> None:
    twice = b"{%b,%b}" % (TYRE, b'"injuries":[{"lean_deg":9,"lean_deg":4}]')
    item_list = b'"items"%b:%b[%b,{%b,"reference":"A:1"}]%b' % (space, space, twice, TYRE, space)
    headers = {"content-type": JSON}
    answer = client.post("/v1/repairability/batch", content=b"{%b}%b" % (item_list, space), headers=headers)
    (bad, good) = answer.json()["items"]
    assert [fault["pointer"] for fault in bad["problem"]["errors"]] == ["/items/0/injuries/0/lean_deg"]
    assert good["status"] == "ok"
    for two in (b"%b,%b" % (item_list, item_list), b'"items":[],%b' % item_list, b'%b,"items":[]' % item_list):
        answer = client.post("/v1/repairability/batch", content=b"{%b}%b" % (two, space), headers=headers)
        assert answer.status_code == 422
        assert [fault["pointer"] for fault in answer.json()["errors"]] == ["/items"]


@pytest.mark.parametrize("chunked", [False, True])
@pytest.mark.parametrize(
    ("path", "most"),
    [("/v1/repairability", CASE_BYTES_MAX), ("/v1/repairability/batch", Settings().max_body_bytes)],
)
def test_a_body_above_the_limit_is_413(client: TestClient[Any], path: str, most: int, *, chunked: bool) -> None:
    size = most + 1
    content: Any = iter([b" " * (size // 2), b" " * (size // 2), b" "]) if chunked else b" " * size
    answer = client.post(path, content=content, headers={"content-type": JSON})
    assert answer.status_code == 413
    assert f"{most} bytes" in answer.json()["detail"]


def test_a_case_that_cannot_be_is_422_at_its_place(client: TestClient[Any]) -> None:
    answer = send(client, case(tyre={"marking": "205/55R16 91I"}))
    assert answer.status_code == 422
    assert answer.json()["type"] == "/problems/impossible-case"
    assert [fault["pointer"] for fault in answer.json()["errors"]] == ["/tyre/marking"]


@pytest.mark.parametrize(
    ("query", "named"),
    [
        ("", {"marking": "required"}),
        ("marking=205/55R16&mark=1", {"mark": "did you mean `marking`?"}),
        ("marking=205/55R16&marking=205/55R16", {"marking": "given 2 times"}),
        ("marking=" + "x" * 81, {"marking": "at most 80 characters"}),
        ("marking=205/55R16&assessed_on=yesterday", {"assessed_on": "a date as YYYY-MM-DD"}),
        ("marking=205/55R16&vehicle_max_speed_kmh=501", {"vehicle_max_speed_kmh": "a number from 0 to 500"}),
        ("marking=205/55R16&vehicle_max_speed_kmh=nan", {"vehicle_max_speed_kmh": "a number from 0 to 500"}),
        ("marking=205/55R16 91I", {"marking": "I"}),
        ("marking=205 55 16", {"marking": "205/55R16"}),
        ("marking=205/55R16&date_code=6023&assessed_on=2026-11-24", {"date_code": "week 60"}),
        ("marking=205/55R16&date_code=1030&assessed_on=2026-11-24", {"date_code": "after 2026-11-24"}),
    ],
)
def test_a_parameter_at_fault_is_422_by_its_name(client: TestClient[Any], query: str, named: dict[str, str]) -> None:
    answer = client.get(f"/v1/tyre-markings?{query}")
    assert answer.status_code == 422
    details = {fault["parameter"]: fault["detail"] for fault in answer.json()["errors"]}
    assert details.keys() == named.keys()
    assert all(words in details[name] for name, words in named.items())


def test_an_operation_without_parameters_takes_none(client: TestClient[Any]) -> None:
    assert client.get("/v1/rulebooks?page=2").status_code == 422
