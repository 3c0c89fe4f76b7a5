"""Call a service from many sides until the file STOP is there; end with 1 if any call failed.

python docker/calls.py http://127.0.0.1:8340 STOP

Half of the callers are plain: a connection of the standard library that never tries again. The other half use the
Python client as it comes.
"""

from __future__ import annotations

import http.client
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import NamedTuple
from urllib.parse import urlsplit

from mendgauge_client import Mendgauge, Tyre, TyreCase

CALLERS = 4
CASE = TyreCase(rulebook="gb", tyre=Tyre(marking="205/55R16 91V"))
BODY = b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}}'


class Calls(NamedTuple):
    """How many calls were made, and what became of those that failed."""

    made: int
    failures: list[str]


def plain(address: str, stop: Path) -> Calls:
    """Call without ever trying again; a connection that was closed between two calls is opened anew."""
    where = urlsplit(address)
    connection = http.client.HTTPConnection(where.hostname or "", where.port, timeout=20)

    def ask() -> None:
        connection.request("POST", "/v1/repairability", BODY, {"Content-Type": "application/json"})
        answer = connection.getresponse()
        answer.read()
        if answer.status != 200:
            raise ConnectionError(f"status {answer.status}")

    return _until(stop, ask)


def with_the_client(address: str, stop: Path) -> Calls:
    """Call through the Python client, with the retries that it has by itself."""
    with Mendgauge(address) as client:
        return _until(stop, lambda: client.check_repairability(CASE))


def _until(stop: Path, ask: Callable[[], object]) -> Calls:
    made, failures = 0, []
    while not stop.exists():
        made += 1
        try:
            ask()
        except Exception as error:
            failures.append(repr(error))
    return Calls(made, failures)


def main(address: str, stop: Path) -> int:
    """Call from every side at once and say how many calls were made, and what failed."""
    failed = 0
    with ThreadPoolExecutor(2 * CALLERS) as pool:
        under_way = {
            call: [pool.submit(call, address, stop) for _ in range(CALLERS)] for call in (plain, with_the_client)
        }
        for call, callers in under_way.items():
            calls = [caller.result() for caller in callers]
            failures = [failure for one in calls for failure in one.failures]
            print(f"{call.__name__}: {sum(one.made for one in calls)} calls, {len(failures)} failed", *failures[:5])
            failed += len(failures)
    return failed > 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], Path(sys.argv[2])))
