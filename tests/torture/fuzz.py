"""Bodies that no honest caller sends, by the hundred thousand, from the golden cases and a fixed seed."""

from __future__ import annotations

import gzip
import json
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from copy import deepcopy
from itertools import count, repeat
from pathlib import Path
from random import Random
from typing import Any, Final, TypeAlias

from tests.torture.table import Row
from tests.torture.wire import LATENCY_SECONDS_MAX, Caller, request

_EXAMPLES: Final = Path(__file__).parents[2] / "openapi" / "examples"
_PATHS: Final = {
    "check_repairability": "/v1/repairability",
    "choose_repair_units": "/v1/repair-units",
    "trim_stems": "/v1/stem-trim",
    "find_service_limits": "/v1/service-limits",
    "plan_work": "/v1/work-plans",
    "quote_repair": "/v1/quotes",
    "plan_repair": "/v1/repair-plans",
}
_SEED: Final = 20261126
_KINDS: Final = {
    "values swapped for others": 100_000,
    "fields dropped, added, doubled": 50_000,
    "bytes changed, cut, not UTF-8": 45_000,
    "nested deep": 4_000,
    "compressed bombs and broken packings": 960,
    "texts of 10 MB": 40,
}
"""What is done to a body, and how often: 200,000 in all."""

Place: TypeAlias = tuple[str | int, ...]

_NUMBERS: Final = (1e308, -1e308, 1e-320, 0, -0.0, -1, 2**63, 10**400, 0.1 + 0.2, float("nan"), float("-inf"))
_TEXTS: Final = ("", " ", "\x00", "\ud800", "x" * 5000, "205/55R61", "9999-12-31", "1e5", "null", "⁶⁵", "\u202e", "🛞")
_OTHERS: Final[tuple[Any, ...]] = (
    None,
    True,
    [],
    {},
    [[]],
    {"low": 2, "high": 1},
    {"low": 1e308, "high": 1e308},
    [None] * 50,
)
_VALUES: Final = (*_NUMBERS, *_TEXTS, *_OTHERS)
_BYTES: Final = (b"\xff", b"\xc0\xaf", b"\xed\xa0\x80", b"\x00", b'"', b"{", b"]", b"\\u", b"1e999", b"\xef\xbb\xbf")


def fuzzed(ports: Sequence[int]) -> Iterator[Row]:
    """Send bodies of each kind, shared among services; none may cost a 5xx but 503, an answer, or a second."""
    with ProcessPoolExecutor(len(ports)) as pool:
        for kind, how_many in _KINDS.items():
            shares = pool.map(_sent, ports, count(_SEED), repeat(kind), repeat(how_many // len(ports)))
            took = [seconds for share in shares for seconds in share]
            yield Row(f"fuzzed bodies: {kind}", took, LATENCY_SECONDS_MAX, "s")


def _sent(port: int, seed: int, kind: str, how_many: int) -> list[float | None]:
    """Return how long the answer to each of many bodies took; none where it was not in order."""
    random = Random(f"{seed} {kind}")
    goldens = _goldens()
    caller = Caller(port)
    took: list[float | None] = []
    for _ in range(how_many):
        path, text = random.choice(goldens)
        body, *headers = _body(kind, random, text)
        answer, seconds = caller.ask(request(path, body, *headers))
        took.append(seconds if answer is not None and answer.in_order else None)
    return took


def _goldens() -> list[tuple[str, str]]:
    """Return path and body of every golden example of an operation that takes a case."""
    examples = [json.loads(file.read_bytes()) for file in sorted(_EXAMPLES.glob("*/*.json"))]
    return [
        (_PATHS[example["operation"]], json.dumps(example["request"]))
        for example in examples
        if example["operation"] in _PATHS
    ]


def _body(kind: str, random: Random, text: str) -> tuple[Any, ...]:
    """Return a body made from a golden one, and the headers that go with it."""
    match kind:
        case "values swapped for others":
            case = json.loads(text)
            for _ in range(random.choice((1, 1, 2, 5))):
                holder, key = _place(random, case)
                holder[key] = deepcopy(random.choice(_VALUES))
            return (_encoded(case),)
        case "fields dropped, added, doubled":
            return (_reshaped(random, text),)
        case "bytes changed, cut, not UTF-8":
            body = text.encode()
            at = random.randrange(len(body))
            end = random.choice((at, at, at + 1, at + random.randint(0, 40), len(body)))
            return (body[:at] + random.choice((*_BYTES, b"")) + body[end:],)
        case "nested deep":
            opened = random.choice((b"[", b'{"a":', b'[{"a":', b'{"injuries":['))
            depth = random.choice((20, 100, 1000, 10_000, 40_000))
            return (b'{"rulebook":"gb","tyre":' + opened * depth,)
        case "compressed bombs and broken packings":
            return _packed(random, text)
        case _:
            filling = random.choice(("x", "\\u0041", "é", "\\ud800", '","', "9"))
            return (f'{{"rulebook":"{filling * (10_000_000 // len(filling.encode()))}"}}'.encode(),)


def _place(random: Random, case: Any) -> tuple[Any, Any]:
    """Return a container somewhere in a case, and a key of it."""
    holder, key = {"": case}, ""
    found: tuple[Any, Any] = (case, random.choice(list(case)))
    while isinstance(value := holder[key], dict | list) and value:
        holder, key = value, random.choice(list(value) if isinstance(value, dict) else range(len(value)))  # type: ignore[assignment]
        found = (holder, key)
        if random.random() < 0.3:
            break
    return found


def _reshaped(random: Random, text: str) -> bytes:
    case = json.loads(text)
    holder, key = _place(random, case)
    change = random.randrange(4)
    if change == 0:
        del holder[key]
    elif change == 1:
        (holder if isinstance(holder, dict) else case)[random.choice(("unknown", "", "Rulebook", "x" * 300))] = 1
    elif change == 2 and isinstance(holder, list):
        holder *= random.choice((2, 60, 1000))
    else:  # the same name twice, the second with another value
        name = json.dumps(random.choice(list(case)))
        return text[:-1].encode() + f",{name}:{json.dumps(random.choice((None, 1, 'gb', [])))}}}".encode()
    return _encoded(case)


def _packed(random: Random, text: str) -> tuple[bytes, str]:
    header = "Content-Encoding: " + random.choice(("gzip", "gzip", "gzip", "x-gzip", "deflate", "gzip, gzip", "br"))
    whole = gzip.compress(text.encode(), 1)
    packed = random.choice((whole, _BOMB, _BOMB, whole[: random.randrange(len(whole))], whole + b"x", text.encode()))
    return packed, header


def _encoded(case: Any) -> bytes:
    """Return a case as JSON, with NaN, infinities and lone surrogates as they are."""
    return json.dumps(case, ensure_ascii=False).encode("utf-8", "surrogatepass")


_BOMB: Final = gzip.compress(bytes(100_000_000), 9)
