"""The command `mendgauge serve` as an operator meets it: a process, a port, a log, signals."""

from __future__ import annotations

import json
import signal
import socket
import time
from collections.abc import Iterator

import httpx2
import pytest
from tests.contract.running import Service, serve

CASE = {"rulebook": "gb", "reference": "REFERENCE-SEEN", "tyre": {"marking": "205/55R16 91V"}}
REQUEST_KEYS = {
    *("event", "level", "time", "request_id", "client", "key"),
    *("method", "path", "operation", "status", "bytes", "ms", "verdict", "rulebook"),
}


def until_reached(service: Service) -> None:
    """Wait for the first worker to listen: of that, unlike a single process, workers log nothing."""
    for _ in range(200):
        try:
            service.client.get("/health/live")
        except httpx2.ConnectError:
            time.sleep(0.05)
        else:
            return
    raise AssertionError("no worker listens")


@pytest.fixture(scope="module")
def service() -> Iterator[Service]:
    with serve() as service:
        yield service


def test_it_answers_and_logs_one_json_line_without_the_body(service: Service) -> None:
    answer = service.client.post("/v1/repairability", json=CASE, headers={"Accept-Encoding": "identity"})
    line = service.until("request")
    assert answer.status_code == 200
    assert line.keys() == REQUEST_KEYS
    assert (line["path"], line["status"], line["bytes"]) == ("/v1/repairability", 200, len(answer.content))
    assert line["request_id"] == answer.headers["x-request-id"]
    assert (line["operation"], line["client"], line["key"]) == ("check_repairability", "127.0.0.1", None)
    used = answer.json()["rulebook"]
    assert (line["verdict"], line["rulebook"]) == (answer.json()["verdict"], f"{used['id']}@{used['edition']}")
    assert "REFERENCE-SEEN" not in json.dumps(service.lines)
    assert "server" not in answer.headers


def test_a_chunked_body_above_the_limit_is_413(service: Service) -> None:
    chunks = iter([b" " * 65_536] * 150)
    answer = service.client.post("/v1/repairability", content=chunks, headers={"content-type": "application/json"})
    assert answer.status_code == 413
    assert answer.json()["type"] == "/problems/body-too-large"


@pytest.mark.parametrize("sent", [b"THIS IS NO HTTP\r\n\r\n", b"GET / HTTP/1.1\r\nno colon\r\n\r\n"])
def test_bytes_that_are_no_http_are_a_problem_too(service: Service, sent: bytes) -> None:
    with socket.create_connection(("127.0.0.1", service.port), timeout=10) as connection:
        connection.sendall(sent)
        head, _, body = b"".join(iter(lambda: connection.recv(65_536), b"")).partition(b"\r\n\r\n")
    assert head.startswith(b"HTTP/1.1 400 ")
    assert b"content-type: application/problem+json" in head
    problem = json.loads(body)
    assert problem["type"] == "/problems/malformed-request"
    assert problem["request_id"].encode() in head


def test_a_client_that_hangs_up_is_no_failure_of_the_service(service: Service) -> None:
    with socket.create_connection(("127.0.0.1", service.port), timeout=10) as connection:
        connection.sendall(
            b"POST /v1/repairability HTTP/1.1\r\nhost: x\r\nx-request-id: hung-up\r\n"
            b"content-type: application/json\r\ncontent-length: 99\r\n\r\n{"
        )
    while (line := service.until("request")).get("request_id") != "hung-up":
        pass
    assert line["status"] == 400
    assert line["level"] == "info"


def test_on_sigterm_it_is_first_not_ready_then_stops() -> None:
    with serve(MENDGAUGE_DRAIN_SECONDS="1.5") as service:
        assert service.client.get("/health/ready").status_code == 200
        service.process.send_signal(signal.SIGTERM)
        service.until("not ready any more")
        answer = service.client.get("/health/ready")
        assert (answer.status_code, answer.json()["type"]) == (503, "/problems/unavailable")
        assert service.client.get("/health/live").status_code == 200
        assert service.client.post("/v1/repairability", json=CASE).status_code == 200
        service.until("Application shutdown complete")
        assert service.process.wait(timeout=20) in (0, -signal.SIGTERM)


def test_a_second_sigterm_stops_it_at_once() -> None:
    with serve(MENDGAUGE_DRAIN_SECONDS="300") as service:
        service.process.send_signal(signal.SIGTERM)
        service.until("not ready any more")
        service.process.send_signal(signal.SIGTERM)
        assert service.process.wait(timeout=20) in (0, -signal.SIGTERM)


def test_several_workers_share_the_port_and_stop_together() -> None:
    with serve("--workers", "2", MENDGAUGE_DRAIN_SECONDS="0") as service:
        for _ in range(2):
            service.until("Application startup complete")
        until_reached(service)
        assert service.client.post("/v1/repairability", json=CASE).status_code == 200
        service.process.send_signal(signal.SIGTERM)
        service.until("Stopping parent process")
        assert service.process.wait(timeout=20) == 0


def test_a_setting_misspelt_is_warned_of() -> None:
    with serve(MENDGAUGE_API_KEY="a-key-of-the-depot") as service:
        assert service.lines[0]["event"] == "MENDGAUGE_API_KEY is no setting; did you mean `MENDGAUGE_API_KEYS`?"
        assert service.lines[0]["level"] == "warning"
