"""`mendgauge-client check` that was stopped: what came is kept, and `--resume` goes on where it was."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx2
import pytest
from tests.unit.sdk.tables import DAY, EXAMPLE, KEEP, SOUND, rows, write_csv
from tests.unit.sdk.test_batches import answered

from mendgauge_client import Mendgauge
from mendgauge_client.cli import check
from mendgauge_client.cli.main import main

pytestmark = pytest.mark.usefixtures("command")


@contextmanager
def scripted(answering: Any) -> Iterator[Mendgauge]:
    http = httpx2.Client(transport=httpx2.MockTransport(answering))
    with Mendgauge("http://tyres.example", http_client=http, retries=0) as service:
        yield service


class Failing:
    """A service that answers so many batches, and then no more."""

    def __init__(self, batches: int) -> None:
        self.left = batches

    def __call__(self, request: httpx2.Request) -> httpx2.Response:
        self.left -= 1
        return httpx2.Response(503) if self.left < 0 else answered(json.loads(request.content)["items"])


@pytest.mark.parametrize("form", ["csv", "jsonl"])
def test_a_check_that_was_stopped_goes_on_where_it_was(
    form: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tyres = [{"reference": str(number), "depot": f"D{number % 3}", "size": "205/55R16 91V"} for number in range(900)]
    tyres[17]["size"] = ""
    table = write_csv(tmp_path / "t.csv", *tyres)

    def run(batches: int, output: str, *more: str) -> int:
        monkeypatch.setattr(check, "chosen_service", lambda _: scripted(Failing(batches)))
        return main(["check", str(table), *DAY, "--output", str(tmp_path / f"{output}.{form}"), *more])

    assert run(99, "whole") == 1
    summary = capsys.readouterr().out
    assert run(2, "parts") == 3
    shown = capsys.readouterr()
    assert "the same again with --resume goes on" in shown.err
    assert "Try again" in shown.err
    assert shown.out == ""
    assert run(99, "parts", "--resume") == 1
    assert capsys.readouterr().out == summary
    assert (tmp_path / f"parts.{form}").read_bytes() == (tmp_path / f"whole.{form}").read_bytes()


@pytest.mark.parametrize("form", ["csv", "jsonl"])
def test_results_cut_off_anywhere_are_gone_on_with(form: str, tmp_path: Path) -> None:
    whole = tmp_path / f"whole.{form}"
    ask = ["check", str(EXAMPLE), "--local", *DAY, *KEEP]
    assert main([*ask, "--output", str(whole)]) == 1
    content = whole.read_bytes()
    for cut in (0, 1, 30, len(content) // 3, len(content) // 2, len(content) - 1, len(content)):
        part = tmp_path / f"part.{form}"
        part.write_bytes(content[:cut])
        assert main([*ask, "--output", str(part), "--resume"]) == 1
        assert part.read_bytes() == content, cut


def test_results_of_another_table_are_not_gone_on_with(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "r.csv"
    sound = {"reference": "A", **SOUND}
    ask = ["check", "--local", *DAY, "--output", str(output)]
    assert main([*ask, str(write_csv(tmp_path / "t.csv", sound, sound))]) == 0
    kept = output.read_bytes()
    for other in ([sound], [sound, {**sound, "reference": "B"}]):
        assert main([*ask, str(write_csv(tmp_path / "u.csv", *other)), "--resume"]) == 2
        assert "was not made from this table" in capsys.readouterr().err
    assert main([*ask, str(write_csv(tmp_path / "v.csv", {**sound, "x": 1})), "--keep", "x", "--resume"]) == 2
    assert "its columns are not those of this check" in capsys.readouterr().err
    assert output.read_bytes() == kept


def test_results_that_are_there_are_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = tmp_path / "r.csv"
    output.write_text("mine")
    assert main(["check", str(EXAMPLE), "--local", *DAY, *KEEP, "--output", str(output)]) == 2
    assert "is there already: --resume goes on with it" in capsys.readouterr().err
    assert output.read_text() == "mine"


def test_an_interrupt_keeps_what_came(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    table = write_csv(tmp_path / "t.csv", *[{"reference": str(n), "size": "205/55R16 91V"} for n in range(900)])

    def interrupted(request: httpx2.Request) -> httpx2.Response:
        items = json.loads(request.content)["items"]
        if items[0]["reference"] == "400":
            raise KeyboardInterrupt
        return answered(items)

    monkeypatch.setattr(check, "chosen_service", lambda _: scripted(interrupted))
    assert main(["check", str(table), *DAY, "--output", str(tmp_path / "r.csv")]) == 130
    assert len(rows(tmp_path / "r.csv")) == 400
    assert "400 results are in" in capsys.readouterr().err
