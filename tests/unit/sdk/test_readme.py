"""The snippets of the client's README run as they stand, against the service."""

from __future__ import annotations

import re
import socket
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
import uvicorn

from mendgauge.server import create_app

README = (Path(__file__).parents[3] / "sdk" / "README.md").read_text(encoding="utf-8")
SNIPPETS = re.findall(r"^```python\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


@pytest.fixture(scope="module")
def address() -> Iterator[str]:
    """The service on a free port."""
    server = uvicorn.Server(uvicorn.Config(create_app(), log_config=None, access_log=False, lifespan="on"))
    listening = socket.create_server(("127.0.0.1", 0))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join()
    listening.close()


@pytest.mark.parametrize("number", range(len(SNIPPETS)))
def test_a_snippet_runs(
    number: int, address: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("MENDGAUGE_URL", address)
    monkeypatch.delenv("MENDGAUGE_API_KEY", raising=False)
    names: dict[str, object] = {"__name__": "snippet"}
    for snippet in SNIPPETS[: number + 1]:
        capsys.readouterr()
        exec(compile(snippet.replace("http://127.0.0.1:8340", address), "sdk/README.md", "exec"), names)
    told = capsys.readouterr().out
    assert told
    assert "no answer:" not in told


def test_there_are_snippets() -> None:
    assert len(SNIPPETS) >= 5
