"""Bodies at their worst, one by one: what each costs the process in CPU, and what it leaves as its peak in memory."""

from __future__ import annotations

import http.client
import zlib
from collections.abc import Iterator

MB = 1_000_000
CASE_BYTES = 524_288
BATCH_BYTES = 8_388_608
CPU_SECONDS_MAX = 0.2
PEAK_MB_MAX = 200

CASE = b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}}'
HEAD = CASE[:-1] + b","

_OF_A_CASE = [
    (HEAD + b'"house_rules":{"refuse_special_tyres":[1', b",1", b"]}}"),
    (HEAD + b'"injuries":[{}', b",{}", b"]}"),
    (HEAD + b'"injuries":[[]', b",[]", b"]}"),
    (HEAD + b'"injuries":[{"x":1}', b',{"x":1}', b"]}"),
    (HEAD + b'"stock":[{"kind":1}', b',{"kind":1}', b"]}"),
    (HEAD + b'"price_book":{"fees":[{"price":1}', b',{"price":1}', b"]}}"),
    (HEAD + b'"house_times":{"quantities":{"a":"', b"x", b'"}}}'),
    (HEAD + b'"', b"k", b'":1}'),
    (HEAD + b'"a":[', b"[", b""),
    (HEAD + b'"a":[{}', b",{}", b"]}"),
    (HEAD + b'"a":', b"1", b"}"),
    (HEAD + b'"a":"', b"\\u0041", b'"}'),
    (b"", b" ", CASE[:-1]),
    (b"[1", b",1", b"]"),
]
_OF_A_BATCH = [
    (b'{"items":[1', b",1", b"]}"),
    (b'{"items":[[]', b",[]", b"]}"),
    (b'{"itms":[[]', b",[]", b"]}"),
    (b'{"items":{"a":1', b',"a":1', b"}}"),
    (b'{"', b"k", b'":1}'),
    (b'{"items":[' + HEAD + b'"injuries":[{}', b",{}", b"]}]}"),
    (b'{"items":[', b"[", b""),
    (b"[{}", b",{}", b"]"),
    (b'{"items":[],"a":"', b"\\u0041", b'"}'),
    (b"", b" ", b"{"),
]


def hostile() -> Iterator[tuple[str, bytes, str]]:
    """Yield path, body and content coding, each body as large as its operation takes and once larger."""
    for size in (CASE_BYTES, BATCH_BYTES):
        yield from (("/v1/quotes", filled(*parts, size), "identity") for parts in _OF_A_CASE)
    yield from (("/v1/repair-plans/batch", filled(*parts, BATCH_BYTES), "identity") for parts in _OF_A_BATCH)
    for path in ("/v1/quotes", "/v1/repair-plans/batch"):
        packer = zlib.compressobj(9, zlib.DEFLATED, 31)
        yield path, b"".join(packer.compress(bytes(MB)) for _ in range(1000)) + packer.flush(), "gzip"


def filled(before: bytes, part: bytes, after: bytes, size: int) -> bytes:
    """Return a body of nearly `size` bytes: a part as often as it fits between two others."""
    return before + part * ((size - len(before) - len(after)) // len(part)) + after


def post(port: int, path: str, body: bytes, coding: str = "identity") -> int:
    """Send a body and return the status of its answer once all of it is read."""
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=300)
    try:
        connection.request("POST", path, body, {"Content-Type": "application/json", "Content-Encoding": coding})
        answer = connection.getresponse()
        while answer.read(65_536):
            pass
        return answer.status
    finally:
        connection.close()
