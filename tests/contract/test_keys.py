"""Keys: who may ask, how often, and how the operator changes it while the service runs."""

from __future__ import annotations

import json
import signal
from pathlib import Path

import pytest
from litestar.testing import TestClient
from tests.contract.running import serve

from mendgauge.api.keys import KeyRing, KeysError, new_key
from mendgauge.api.rate import RateLimit
from mendgauge.server import create_app
from mendgauge.settings import Settings


def test_a_file_of_keys_is_read_again_on_sighup_and_the_log_names_the_caller(tmp_path: Path) -> None:
    (old, stored_old), (new, stored_new) = new_key("depot"), new_key("till-2")
    file = tmp_path / "keys"
    file.write_text(f"# who may ask\n{stored_old}\n")
    with serve(MENDGAUGE_KEYS_FILE=str(file)) as service:

        def status(key: str) -> int:
            answer = service.client.get("/v1/rulebooks", headers={"authorization": f"Bearer {key}"})
            return answer.status_code

        assert service.client.get("/v1/rulebooks").status_code == 401
        assert service.client.get("/health/ready").status_code == 200
        assert (status(old), status(new)) == (200, 401)
        file.write_text(f"{stored_old}\n{stored_new}\n")
        service.process.send_signal(signal.SIGHUP)
        assert service.until("keys reloaded")["names"] == ["depot", "till-2"]
        assert (status(old), status(new)) == (200, 200)
        file.write_text("")
        service.process.send_signal(signal.SIGHUP)
        assert "holds no key" in service.until("keys not reloaded")["why"]
        assert (status(old), status(new)) == (200, 200)
        service.process.send_signal(signal.SIGTERM)
        service.until("Finished server process")
        named = [line.get("key") for line in service.lines if line["event"] == "request"]
        assert named == [None, None, "depot", None, "depot", "till-2", "depot", "till-2"]
        logged = json.dumps(service.lines)
        assert old not in logged
        assert new not in logged
        assert stored_old.partition(":")[2] not in logged


@pytest.mark.parametrize("text", ["", "\n# depot:\n", "a-key-and-not-its-digest\n", "depot:0f0f\n"])
def test_a_file_without_a_usable_key_stops_the_start(text: str, tmp_path: Path) -> None:
    file = tmp_path / "keys"
    file.write_text(text)
    with pytest.raises(KeysError, match="mendgauge keys new NAME") as caught:
        KeyRing(file=str(file))
    assert "a-key-and" not in str(caught.value)


def test_a_name_may_have_two_keys_while_one_is_replaced(tmp_path: Path) -> None:
    (old, stored_old), (new, stored_new) = new_key("depot"), new_key("depot")
    file = tmp_path / "keys"
    file.write_text(f"{stored_old}\n{stored_new}\n")
    ring = KeyRing(file=str(file))
    assert (ring.name_of(old), ring.name_of(new), ring.name_of(old[:-1])) == ("depot", "depot", None)


def test_a_key_that_asks_too_often_waits_and_the_others_do_not() -> None:
    (busy, stored_busy), (other, stored_other) = new_key("busy"), new_key("other")
    settings = Settings(api_keys=(stored_busy, stored_other), rate_per_second=0.01, rate_burst=2)
    with TestClient(create_app(settings)) as client:

        def ask(key: str) -> tuple[int, str, str]:
            answer = client.get("/v1/rulebooks", headers={"authorization": f"Bearer {key}"})
            assert answer.headers["ratelimit-policy"] == '"key";q=2;w=200'
            return answer.status_code, answer.headers["ratelimit"], answer.headers.get("retry-after", "")

        assert ask(busy) == (200, '"key";r=1;t=100', "")
        assert ask(busy)[:2] == (200, '"key";r=0;t=200')
        status, left, retry_after = ask(busy)
        assert (status, left) == (429, '"key";r=0;t=200')
        assert 0 < int(retry_after) <= 100
        assert ask(other)[0] == 200
        refused = client.get("/v1/rulebooks", headers={"authorization": f"Bearer {busy}"}).json()
        assert refused["type"] == "/problems/too-many-requests"
        assert "ratelimit" not in client.get("/health/live").headers


def test_a_bucket_fills_at_its_rate_and_no_further_than_its_burst() -> None:
    now = 1000.0
    limit = RateLimit(rate=2, burst=3, clock=lambda: now)
    assert [limit.take("depot").retry_after for _ in range(4)] == [0, 0, 0, 1]
    now += 0.5
    assert [limit.take("depot").retry_after for _ in range(2)] == [0, 1]
    now += 3600
    assert [limit.take("depot").retry_after for _ in range(4)] == [0, 0, 0, 1]
