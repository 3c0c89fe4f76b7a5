"""Every sample on the pages of the operations does what it says: sent to a running service, it is answered."""

from __future__ import annotations

import contextlib
import io
import json
import shlex
from collections.abc import Iterator
from pathlib import Path
from urllib.request import Request, urlopen

import pytest
from tests.contract.live import served

from mendgauge.api.docs.operation_pages import operation_pages
from mendgauge.api.docs.samples import HERE
from mendgauge.server import create_app, document

PAGES = {page.path.rpartition("/")[2]: page for page in operation_pages(json.loads(document()))}


def sample(operation: str, language: str, address: str) -> str:
    """The sample of an operation, as a page shows it that came from an address."""
    text: str = PAGES[operation].content()["samples"][language]
    assert HERE in text
    return text.replace(HERE, address)


@pytest.fixture(scope="module")
def service() -> Iterator[str]:
    with served(create_app()) as address:
        yield address


@pytest.mark.parametrize("operation", PAGES)
def test_the_python_sample_runs(operation: str, service: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)  # some write a file
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(sample(operation, "Python", service), operation, "exec"), {})
    assert printed.getvalue() or [*tmp_path.iterdir()]


@pytest.mark.parametrize("operation", PAGES)
def test_the_curl_sample_is_answered(operation: str, service: str) -> None:
    command, *words = shlex.split(sample(operation, "curl", service))
    assert command == "curl"
    options = {word: words[place + 1] for place, word in enumerate(words) if word in ("--data", "--header", "--output")}
    (address,) = [word for word in words if word.startswith(service)]
    data = options.get("--data")
    headers = dict([options["--header"].split(": ")]) if "--header" in options else {}
    with urlopen(Request(address, None if data is None else data.encode(), headers)) as answer:
        assert answer.status == 200
        assert answer.read()
