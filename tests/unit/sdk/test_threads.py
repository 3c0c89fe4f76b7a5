"""A client may be used from many threads, from its first call on."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

EXAMPLE = Path(__file__).parents[3] / "openapi" / "examples" / "plan_repair" / "everything_for_the_counter.json"
PROGRAM = """
import sys
from threading import Barrier, Thread
import httpx2
from mendgauge_client import Mendgauge, Tyre, TyreCase

sys.setswitchinterval(1e-6)  # threads take turns as often as they can
answer = sys.stdin.buffer.read()
transport = httpx2.MockTransport(lambda request: httpx2.Response(200, content=answer))
client = Mendgauge("http://tyres.example", http_client=httpx2.Client(transport=transport))
together = Barrier(8)

def call():
    together.wait()
    client.plan_repair(TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V")))
    answered.append(1)

answered = []
threads = [Thread(target=call) for _ in range(8)]
for thread in threads:
    thread.start()
for thread in threads:
    thread.join()
print(len(answered))
"""


def test_first_answers_may_come_together() -> None:
    """In a process of its own, for it is the first answers that count, and what went wrong was the end of it."""
    answer = json.dumps(json.loads(EXAMPLE.read_bytes())["response"])
    for _ in range(3):
        done = subprocess.run(
            [sys.executable, "-c", PROGRAM], input=answer, capture_output=True, text=True, check=False
        )
        assert (done.returncode, done.stdout) == (0, "8\n"), done.stderr
