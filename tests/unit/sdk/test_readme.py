"""The snippets of the client's README run as they stand, against the service."""

from __future__ import annotations

import io
import re
import shlex
import sys
from pathlib import Path

import pytest

from mendgauge_client.cli.fault import EXIT_CODES
from mendgauge_client.cli.main import main

SDK = Path(__file__).parents[3] / "sdk"
README = (SDK / "README.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"^(mendgauge-client .+)$", README, re.MULTILINE)
SNIPPETS = re.findall(r"^```python\n(.*?)^```", README, re.DOTALL | re.MULTILINE)


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
    shown = capsys.readouterr().out
    assert shown
    assert "no answer:" not in shown


@pytest.mark.parametrize("line", COMMANDS)
@pytest.mark.usefixtures("command")
def test_a_command_runs(
    line: str,
    address: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    (tmp_path / "tyres.csv").write_bytes((SDK / "examples" / "tyres.csv").read_bytes())
    (tmp_path / "case.json").write_text('{"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}')
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("MENDGAUGE_URL", address)
    monkeypatch.setattr(sys, "stdin", io.StringIO("none\n"))
    name, *arguments = shlex.split(line)
    assert name == "mendgauge-client"
    assert main(arguments) in (0, 1)
    assert capsys.readouterr().out


def test_the_exit_codes_are_those_of_the_help() -> None:
    in_help = dict(re.findall(r"^  (\d+) +(.+)$", EXIT_CODES, re.MULTILINE))
    assert dict(re.findall(r"^\| (\d+) \| (.+) \|$", README, re.MULTILINE)) == in_help
    assert len(in_help) == 5


def test_there_are_snippets() -> None:
    assert len(SNIPPETS) >= 7
    assert len(COMMANDS) >= 4
