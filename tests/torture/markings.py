"""What a worker holds after weeks of the same markings and after very many distinct ones, and its longest collection.

Run as a module it is that worker: the application as it is served, with plans made in its own process, so that the
collector can be watched. It prints its memory in MB and its longest collection in milliseconds of CPU.
"""

from __future__ import annotations

import asyncio
import gc
import json
import subprocess
import sys
import time
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import islice
from math import prod
from pathlib import Path
from typing import Any, NamedTuple

import msgspec
from tests.bench.cases import FULL

from mendgauge.case.case import Case
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.rulebooks.loader import list_editions
from mendgauge.server import create_app

RSS_MB_MAX = 120.0
PAUSE_MS_MAX = 20.0

DAYS = 30
MARKINGS_A_DAY = 300
DISTINCT = 200_000

_ROOT = Path(__file__).parents[2]
_FIRST_DAY = date(2026, 11, 1)
_WIDTHS = range(135, 360, 5)
_ASPECTS = range(30, 85, 5)
_RIMS = range(13, 23)
_LOADS = range(70, 122)
_SYMBOLS = "QRSTHVWY"
_STRIDE = 1_000_003
"""Prime, and so visits every combination once."""


class Held(NamedTuple):
    """What a worker came to."""

    rss_mb: float
    pause_ms: float


def held(what: str, how_many: int) -> Held:
    """Run a worker through `weeks` of so many days, or through so many `distinct` markings."""
    command = [sys.executable, "-m", "tests.torture.markings", what, str(how_many)]
    done = subprocess.run(command, cwd=_ROOT, check=True, capture_output=True, text=True)
    return Held(*json.loads(done.stdout.splitlines()[-1]))


def markings() -> Iterator[str]:
    """Yield distinct markings of car and van tyres, in an order that is mixed and the same every time."""
    parts = (_SYMBOLS, _LOADS, _RIMS, _ASPECTS, _WIDTHS)
    size = prod(map(len, parts))
    for number in range(size):
        rest, chosen = number * _STRIDE % size, []
        for part in parts:
            rest, index = divmod(rest, len(part))
            chosen.append(part[index])
        symbol, load, rim, aspect, width = chosen
        yield f"{width}/{aspect}R{rim} {load}{symbol}"


def cases_of_weeks(days: int) -> Iterator[dict[str, Any]]:
    """Yield the cases of a shop that sees the same markings every day, under another rulebook each day."""
    seen = list(islice(markings(), MARKINGS_A_DAY))
    books = [edition.reference for edition in list_editions()]
    for day in range(days):
        for marking in seen:
            yield _case(marking, books[day % len(books)], _FIRST_DAY + timedelta(days=day))


def cases_of_distinct(how_many: int) -> Iterator[dict[str, Any]]:
    """Yield cases of which no two have the same marking."""
    books = [edition.reference for edition in list_editions()]
    for number, marking in enumerate(islice(markings(), how_many)):
        yield _case(marking, books[number % len(books)], _FIRST_DAY)


def _case(marking: str, book: str, on: date) -> dict[str, Any]:
    return {**FULL, "rulebook": book, "assessed_on": on.isoformat(), "tyre": {**FULL["tyre"], "marking": marking}}


def work(cases: Iterable[dict[str, Any]]) -> Held:
    """Plan every case as a worker would."""
    decode, encode = msgspec.json.Decoder(Case).decode, msgspec.json.encode
    longest = 0.0
    began = 0.0

    def watch(phase: str, _: dict[str, int]) -> None:
        nonlocal began, longest
        now = time.process_time()
        if phase == "start":
            began = now
        else:
            longest = max(longest, now - began)

    messages = iter(("lifespan.startup", "lifespan.shutdown"))

    async def receive() -> Any:
        message = next(messages)
        if message == "lifespan.shutdown":
            gc.callbacks.append(watch)
            for case in cases:
                encode(plan_repair(decode(encode(case))))
            gc.callbacks.remove(watch)
        return {"type": message}

    async def send(message: Any) -> None:
        if message["type"] == "lifespan.startup.failed":
            raise RuntimeError(message["message"])

    async def serve() -> None:
        app: Any = create_app()
        await app({"type": "lifespan", "asgi": {"version": "3.0"}, "state": {}}, receive, send)

    asyncio.run(serve())
    return Held(rss_mb(), longest * 1e3)


def rss_mb() -> float:
    """Return the memory that this process holds, MB (proc(5): `VmRSS` in kB)."""
    (line,) = [line for line in Path("/proc/self/status").read_text("utf-8").splitlines() if line.startswith("VmRSS:")]
    return int(line.split()[1]) * 1024 / 1e6


if __name__ == "__main__":
    _CASES = {"weeks": cases_of_weeks, "distinct": cases_of_distinct}
    print(json.dumps(work(_CASES[sys.argv[1]](int(sys.argv[2])))))
