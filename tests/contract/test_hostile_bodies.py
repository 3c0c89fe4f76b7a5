"""What a body costs is bounded by the contract, not by its sender; and nothing of it comes back at length."""

from __future__ import annotations

import contextlib
import gzip
import json
import re
import tracemalloc
import zlib
from collections.abc import Callable, Iterator
from typing import Any

import msgspec
import pytest
from litestar.testing import TestClient
from msgspec import inspect

from mendgauge.api import flaws
from mendgauge.api.body import CASE_BYTES_MAX, decode
from mendgauge.api.controllers.batch import CaseBatch, outcomes
from mendgauge.api.controllers.repairability import RepairabilityOutcome
from mendgauge.api.flaws import FLAWS_MAX, contract_flaws
from mendgauge.api.problems import Refusal
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.settings import Settings

MB = 1_000_000
HEAD = b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"},'
JSON = {"Content-Type": "application/json"}


def filled(before: bytes, part: bytes, after: bytes, size: int) -> bytes:
    """A body of nearly `size` bytes: a part as often as it fits between two others."""
    return before + part * ((size - len(before) - len(after)) // len(part)) + after


LISTS = [
    (b'"house_rules":{"refuse_special_tyres":[1', b",1", b"]}}", "/house_rules/refuse_special_tyres"),
    (b'"house_rules":{"refuse_regions":["tread"', b',"tread"', b"]}}", "/house_rules/refuse_regions"),
    (b'"injuries":[{}', b",{}", b"]}", "/injuries"),
    (b'"injuries":[[]', b",[]", b"]}", "/injuries"),
    (b'"earlier_repairs":[{}', b",{}", b"]}", "/earlier_repairs"),
    (b'"stock":[{}', b",{}", b"]}", "/stock"),
    (b'"price_book":{"fees":[{}', b",{}", b"]}}", "/price_book/fees"),
]


@pytest.mark.parametrize(("before", "part", "after", "pointer"), LISTS)
def test_a_list_is_measured_before_it_is_read(before: bytes, part: bytes, after: bytes, pointer: str) -> None:
    body = filled(HEAD + before, part, after, CASE_BYTES_MAX)
    with pytest.raises(Refusal) as refused:
        decode(body, Case)
    faults = {fault.pointer: fault.detail for fault in refused.value.faults}
    assert re.search("got a list of [0-9]{5,} items", faults[pointer])
    assert not any((fault.pointer or "").startswith(f"{pointer}/") for fault in refused.value.faults)


def test_no_flaw_is_looked_for_beyond_those_that_are_named() -> None:
    """Of a million wrong prices under names of the caller's own, the contract's most are read, and ten are named."""
    judged: list[Any] = []
    passes = flaws._passes

    def counted(value: Any, model: Any) -> bool:
        judged.append(value)
        return passes(value, model)

    body = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "price_book": {"fees": [{"price": 1}] * 50}}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(flaws, "_passes", counted)
        found = contract_flaws(body, Case)
    assert len(found) == FLAWS_MAX
    assert len(judged) < 60


@pytest.mark.parametrize(
    ("before", "part", "after"),
    [
        (b'{"items":[1', b",1", b"]}"),
        (b'{"items":[[]', b",[]", b"]}"),
        (b'{"items":[{}', b",{}", b"]}"),
        (b'{"itms":[[]', b",[]", b"]}"),
        (b'{"items":{"a":[]', b',"a":[]', b"}}"),
        (b"[[]", b",[]", b"]"),
        (b'{"items":[{"injuries":[{}', b",{}", b"]}]}"),
        (b'{"items":[{"x":[[]', b",[]", b"]}]}"),
        (b'{"items":[', b"[", b""),
        (b'{"', b"k", b'":1}'),
        (b'{"items":[{"reference":"', b"k", b'"}]}'),
    ],
    ids=lambda part: part.decode(),
)
def test_a_batch_of_any_shape_takes_no_memory_beside_its_bytes(before: bytes, part: bytes, after: bytes) -> None:
    body = filled(before, part, after, 8 * MB)
    tracemalloc.start()
    with contextlib.suppress(Refusal):
        list(outcomes(decode(body, CaseBatch), check_repairability, RepairabilityOutcome, "DEPOT-3"))
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 32 * MB


@pytest.mark.parametrize(
    "part",
    [b"[],", b"{},", b'{"a":[]},', b"1,", b'"",', b"null,"],
    ids=lambda part: part.decode(),
)
@pytest.mark.parametrize("place", [b'"injuries":[', b'"stock":[', b'"unknown":['])
def test_a_case_of_any_shape_takes_little_memory(place: bytes, part: bytes) -> None:
    body = filled(HEAD + place, part, b"0]}", CASE_BYTES_MAX)
    tracemalloc.start()
    with pytest.raises(Refusal):
        decode(body, Case)
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert peak < 64 * MB


def longest(kind: dict[str, Any], named: dict[str, Any]) -> int:
    """The bytes of the longest value of a schema, written closely and every character escaped."""
    if "$ref" in kind:
        return longest(named[kind["$ref"].rpartition("/")[2]], named)
    if options := kind.get("anyOf") or kind.get("oneOf"):
        return max(longest(option, named) for option in options)
    if "const" in kind or "enum" in kind:
        return max(len(json.dumps(word)) for word in kind.get("enum", [kind.get("const")]))
    match kind.get("type"):
        case "array":
            return 2 + int(kind["maxItems"]) * (1 + longest(kind["items"], named))
        case "object" if "properties" in kind:
            return 2 + sum(len(name) + 4 + longest(part, named) for name, part in kind["properties"].items())
        case "object":
            return 2 + int(kind["maxProperties"]) * (64 + longest(kind["additionalProperties"], named))
        case "string":
            return 2 + 6 * int(kind.get("maxLength", 20))
        case _:
            return 24  # as many digits as a float has


def test_the_longest_case_that_the_contract_admits_is_taken(client: TestClient[Any]) -> None:
    named = client.get("/openapi.json").json()["components"]["schemas"]
    assert 100_000 < longest(named["TyreCase"], named) < CASE_BYTES_MAX


KEY = "k" * (CASE_BYTES_MAX // 2)


@pytest.mark.parametrize(
    "body",
    [
        {KEY: 1},
        {"tyre": {KEY: 1}},
        {"house_times": {"quantities": {KEY: 1}}},
        {"house_times": {"minutes": {KEY: {"low": 3, "likely": 2, "high": 1}}}},
        {"house_times": {"minutes": {KEY: "x"}}},
        {"price_book": {"currency": "GBP", "consumables": {KEY: "x"}}},
        {"reference": KEY},
        {"rulebook": KEY},
        {"tyre": {"marking": KEY}},
        {"assessed_on": KEY},
    ],
    ids=lambda body: re.sub("k+", "KEY", json.dumps(body)),
)
@pytest.mark.parametrize("batch", [False, True])
def test_a_long_key_or_text_never_comes_back(client: TestClient[Any], body: dict[str, Any], *, batch: bool) -> None:
    case = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}} | body
    path, sent = ("/v1/quotes", case) if not batch else ("/v1/repair-plans/batch", {"items": [case], KEY: 1})
    answer = client.post(path, json=sent)
    assert answer.status_code == 422
    assert len(answer.content) < 4000
    assert "k" * 600 not in answer.text
    if batch:
        answer = client.post(path, json={"items": [case]})
        assert "k" * 600 not in answer.text


@pytest.mark.parametrize("path", ["/%00", "/" + "k" * 5000, "/docs/%00", "/docs/" + "k" * 5000, "/v1/rulebooks/%00"])
def test_names_that_no_file_can_have_are_404(client: TestClient[Any], path: str) -> None:
    answer = client.get(path)
    assert answer.status_code == 404
    assert len(answer.content) < 1500


def test_long_names_of_parameters_and_rulebooks_do_not_come_back(client: TestClient[Any]) -> None:
    for path in (f"/v1/tyre-markings?{'k' * 5000}=1", f"/v1/rulebooks/{'k' * 5000}", f"/problems/{'k' * 5000}"):
        answer = client.get(path)
        assert answer.status_code in (404, 422)
        assert len(answer.content) < 1500


def patterns(kind: inspect.Type) -> Iterator[str]:
    match kind:
        case inspect.Metadata():
            yield from patterns(kind.type)
        case inspect.UnionType(types=types):
            for option in types:
                yield from patterns(option)
        case inspect.StructType(fields=fields):
            for field in fields:
                yield from patterns(field.type)
        case inspect.VarTupleType(item_type=item):
            yield from patterns(item)
        case inspect.DictType(key_type=key, value_type=value):
            yield from patterns(key)
            yield from patterns(value)
        case inspect.StrType(pattern=str(pattern)):
            yield pattern


SAMPLES = ["gb", "gb@2026.1", "GBP", "20", "29.00", "https://bench.example", f"depot:{64 * '0'}"]


@pytest.mark.parametrize("model", [Case, Settings])
def test_no_pattern_lets_a_line_break_pass_at_the_end(model: type[msgspec.Struct]) -> None:
    found = {*patterns(inspect.type_info(model))}
    assert found
    for pattern in found:
        fitting = [sample for sample in SAMPLES if re.search(pattern, sample)]
        assert fitting, f"add a sample for {pattern}"
        assert not any(re.search(pattern, f"{sample}\n") for sample in fitting)


def test_the_document_writes_the_same_patterns_as_json_schema_does(client: TestClient[Any]) -> None:
    written = {*re.findall(r'"pattern":\s*"((?:[^"\\]|\\.)*)"', client.get("/openapi.json").text)}
    assert written
    assert all(pattern.endswith("$") for pattern in written)


@pytest.mark.parametrize(
    ("place", "value"),
    [(("rulebook",), "gb\n"), (("price_book", "currency"), "GBP\n"), (("price_book", "inspection"), "12.00\n")],
)
def test_a_line_break_at_the_end_is_refused(client: TestClient[Any], place: tuple[str, ...], value: str) -> None:
    case: dict[str, Any] = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}, "price_book": {"currency": "GBP"}}
    part = case
    for name in place[:-1]:
        part = part[name]
    part[place[-1]] = value
    answer = client.post("/v1/quotes", json=case)
    assert answer.status_code == 422
    assert [fault["pointer"] for fault in answer.json()["errors"]] == ["/" + "/".join(place)]


CASE = HEAD[:-1] + b"}"


def twice(body: bytes) -> bytes:
    """Two members of one gzip file (RFC 1952, 2.2)."""
    return gzip.compress(body[:20]) + gzip.compress(body[20:])


@pytest.mark.parametrize("pack", [gzip.compress, twice])
@pytest.mark.parametrize("coding", ["gzip", "x-gzip", "GZIP"])
def test_a_body_packed_with_gzip_is_taken(client: TestClient[Any], pack: Callable[[bytes], bytes], coding: str) -> None:
    plain = client.post("/v1/repairability", content=CASE, headers=JSON)
    packed = client.post("/v1/repairability", content=pack(CASE), headers=JSON | {"Content-Encoding": coding})
    assert (packed.status_code, packed.content) == (200, plain.content)


@pytest.mark.parametrize(
    ("body", "says"),
    [
        (CASE, "not gzip"),
        (gzip.compress(CASE)[:-4], "too early"),
        (gzip.compress(CASE) + b"more", "not gzip"),
        (zlib.compress(CASE), "not gzip"),
        (gzip.compress(b""), "no body"),
        (gzip.compress(b"") * 25_000, "more than 16 members"),
    ],
    ids=["plain", "cut short", "with a tail", "zlib", "of nothing", "of many members"],
)
def test_a_body_that_is_not_what_its_coding_makes_is_400(client: TestClient[Any], body: bytes, says: str) -> None:
    answer = client.post("/v1/repairability", content=body, headers=JSON | {"Content-Encoding": "gzip"})
    assert answer.status_code == 400
    assert says in answer.json()["detail"]


@pytest.mark.parametrize(("path", "most"), [("", CASE_BYTES_MAX), ("/batch", Settings().max_body_bytes)])
def test_a_bomb_is_refused_at_the_limit_of_what_it_unpacks_to(client: TestClient[Any], path: str, most: int) -> None:
    stream = zlib.compressobj(9, zlib.DEFLATED, 31)
    bomb = b"".join(stream.compress(b" " * MB) for _ in range(200)) + stream.flush()
    tracemalloc.start()
    answer = client.post(f"/v1/repairability{path}", content=bomb, headers=JSON | {"Content-Encoding": "gzip"})
    _, peak = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert answer.status_code == 413
    assert f"{most} bytes" in answer.json()["detail"]
    assert peak < 3 * most + 2 * MB


@pytest.mark.parametrize("path", ["/v1/repairability", "/v1/service-limits", "/v1/job-cards"])
def test_a_day_from_which_no_day_can_be_counted_on_is_refused(client: TestClient[Any], path: str) -> None:
    case: dict[str, Any] = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
    assert client.post(path, json={**case, "assessed_on": "2199-12-31"}).status_code == 200
    refused = client.post(path, json={**case, "assessed_on": "9999-12-31"})
    assert refused.status_code == 422
    assert [fault["pointer"] for fault in refused.json()["errors"]] == ["/assessed_on"]
