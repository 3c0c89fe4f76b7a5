"""How much memory a stream of cases takes in the client: `python -m examples.memory 1000000 [--plans]`.

The service is stood in for by one that gives every case the same answer, a whole one from the golden examples: what is
measured is the client alone. Prints the peak of the process's memory, imports and interpreter included. Linux only.
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx2
import msgspec

from mendgauge_client import Mendgauge, TyreCase, bench_case, tread_puncture

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"


def main() -> None:
    options = argparse.ArgumentParser(description="Measure the memory that a stream of cases takes in the client.")
    options.add_argument("cases", type=int, help="how many cases to stream")
    options.add_argument("--plans", action="store_true", help="ask for repair plans instead of verdicts")
    chosen = options.parse_args()
    operation = "plan_repair" if chosen.plans else "check_repairability"
    http = httpx2.Client(transport=httpx2.MockTransport(Stub(answer_of(operation))))
    begun = time.monotonic()
    with Mendgauge("http://tyres.example", http_client=http) as service:
        ask = service.plan_repairs_of_each if chosen.plans else service.check_repairability_of_each
        answered = sum(result.answer is not None for result in ask(cases(chosen.cases)))
    took = time.monotonic() - begun
    json.dump({"answered": answered, "peak_mb": round(peak_bytes() / 1e6, 1), "seconds": round(took, 1)}, sys.stdout)
    sys.stdout.write("\n")


def peak_bytes() -> int:
    """Return the most memory this program has had; `getrusage` would count what started it too."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return int(status.partition("VmHWM:")[2].split()[0]) * 1024


def cases(count: int) -> Iterator[TyreCase]:
    """Yield cases that each carry a bench's whole inspection."""
    for number in range(count):
        hole = tread_puncture(4.0, across_mm=20, around_mm=number % 1900, lean_deg=5, object="nail")
        yield bench_case("gb", "205/55R16 91V", hole, vehicle="car", tread_depth_mm=5.0, reference=f"T-{number}")


def answer_of(operation: str) -> bytes:
    """Return the longest answer of the golden examples of an operation."""
    examples = [json.loads(file.read_bytes()) for file in sorted((EXAMPLES / operation).glob("*.json"))]
    answers = [msgspec.json.encode(example["response"]) for example in examples if example["status"] == 200]
    return max(answers, key=len)


class Stub:
    """A service that gives every case of a batch the same answer."""

    def __init__(self, answer: bytes) -> None:
        self._outcome = b'{"status":"ok","reference":null,"problem":null,"answer":' + answer + b"}"
        self._items = msgspec.json.Decoder(dict[str, list[msgspec.Raw]])

    def __call__(self, request: httpx2.Request) -> httpx2.Response:
        count = len(self._items.decode(request.content)["items"])
        return httpx2.Response(200, content=b'{"items":[' + b",".join([self._outcome] * count) + b"]}")


if __name__ == "__main__":
    main()
