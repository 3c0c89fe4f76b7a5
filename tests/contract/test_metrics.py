"""What `/metrics` says after calls that are known, of one process and of two."""

from __future__ import annotations

import os
import re
import signal
import socket
import time
from pathlib import Path

import httpx2
from tests.contract.running import serve
from tests.torture.stops import HALF_SENT

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}
FINE = "/v1/repairability"


def figures(client: httpx2.Client) -> dict[str, float]:
    """The samples of the service's own figures, by name and labels."""
    text = client.get("/metrics").raise_for_status().text
    return {name: float(value) for name, value in re.findall(r"^(mendgauge_\S+) (\S+)$", text, flags=re.MULTILINE)}


def test_requests_are_counted_by_path_template_and_status_whether_or_not_any_operation_is_reached() -> None:
    with serve() as service:
        client = service.client
        client.post(FINE, json=CASE)
        client.head("/v1/rulebooks/gb")
        client.get("/v1/rulebooks/xx")
        client.get("/nothing/a")
        client.delete(FINE)
        client.post(FINE, content=b"{", headers={"Content-Type": "application/json"})
        client.post(FINE, json=CASE, headers={"Host": "a:b:c"})
        found = figures(client)
    counted = {name: value for name, value in found.items() if name.startswith("mendgauge_requests_total")}
    assert counted == {
        'mendgauge_requests_total{path="/v1/repairability",status="200"}': 2,
        'mendgauge_requests_total{path="/v1/repairability",status="400"}': 1,
        'mendgauge_requests_total{path="/v1/rulebooks/{rulebook_id}",status="200"}': 1,
        'mendgauge_requests_total{path="/v1/rulebooks/{rulebook_id}",status="404"}': 1,
        'mendgauge_requests_total{path="none",status="404"}': 1,
        'mendgauge_requests_total{path="none",status="405"}': 1,
    }
    assert found['mendgauge_request_duration_seconds_count{path="/v1/repairability",status="200"}'] == 2
    assert 0 < found['mendgauge_request_duration_seconds_sum{path="/v1/repairability",status="200"}'] < 10


def test_verdicts_next_steps_and_missing_fields_are_counted_alone_in_plans_and_in_batches() -> None:
    with serve() as service:
        answer = service.client.post(FINE, json=CASE).json()
        service.client.post("/v1/repair-plans", json=CASE)
        service.client.post("/v1/repairability/batch", json={"items": [CASE, {}, CASE | {"detail": "full"}]})
        found = figures(service.client)
    rulebook = "{id}@{edition}".format(**answer["rulebook"])
    assert found[f'mendgauge_verdicts_total{{rulebook="{rulebook}",verdict="{answer["verdict"]}"}}'] == 4
    assert found[f'mendgauge_next_steps_total{{next_step="{answer["next_step"]}"}}'] == 4
    missing = {name for name in found if name.startswith("mendgauge_open_facts_total")}
    fields = {re.sub("/[0-9]+", "/*", one["field"]) for one in answer["to_establish"]}
    assert missing == {f'mendgauge_open_facts_total{{field="{field}"}}' for field in fields}
    assert {found[name] for name in missing} == {4}


def test_what_the_process_holds_is_shown() -> None:
    with serve() as service:
        with socket.create_connection(("127.0.0.1", service.port), timeout=20) as connection:
            connection.sendall(HALF_SENT + b" " * 39)
            until = time.monotonic() + 20
            while time.monotonic() < until and (found := figures(service.client))["mendgauge_bytes_under_way"] == 0:
                time.sleep(0.02)
            assert found["mendgauge_bytes_under_way"] == 40
            assert found["mendgauge_requests_in_flight"] == 2  # it, and the one that asks
            assert found["mendgauge_connections"] == 2
        assert found["mendgauge_log_lines_dropped_total"] == 0
        assert found["mendgauge_worker_starts_total"] == 1


def test_a_service_that_is_to_stop_is_not_ready() -> None:
    with serve(MENDGAUGE_DRAIN_SECONDS="300") as service:
        assert figures(service.client)["mendgauge_ready"] == 1
        service.process.send_signal(signal.SIGTERM)
        service.until("not ready any more")
        assert figures(service.client)["mendgauge_ready"] == 0


def test_workers_are_summed_a_killed_one_keeps_what_it_counted_and_the_folder_goes_with_the_service(
    tmp_path: Path,
) -> None:
    with serve("--workers", "2", TMPDIR=str(tmp_path), MENDGAUGE_DRAIN_SECONDS="0") as service:
        workers = service.started(2)
        for _ in range(40):
            with httpx2.Client(base_url=service.client.base_url, timeout=20) as client:
                client.post(FINE, json=CASE)
        counted = 'mendgauge_requests_total{path="/v1/repairability",status="200"}'
        # A request is counted once its answer is out, so its caller may look a moment too early.
        until = time.monotonic() + 20
        while (found := figures(service.client))[counted] < 40 and time.monotonic() < until:
            time.sleep(0.02)
        assert found[counted] == 40
        os.kill(min(workers), signal.SIGKILL)
        service.started(1)
        found = figures(service.client)
        assert found[counted] == 40
        assert found["mendgauge_requests_in_flight"] <= 1
        assert found["mendgauge_worker_starts_total"] == 3
        service.process.send_signal(signal.SIGTERM)
        service.process.wait(20)
    assert list(tmp_path.iterdir()) == []
