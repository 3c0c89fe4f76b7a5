"""`mendgauge-client card` and `gauge`: pages saved, and what is wrong said in words."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest

from mendgauge_client.cli.main import main

pytestmark = pytest.mark.usefixtures("command")

CASE = {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}


def test_a_card_is_saved(tmp_path: Path) -> None:
    case, card = tmp_path / "case.json", tmp_path / "card.pdf"
    case.write_text(json.dumps(CASE))
    assert main(["card", str(case), "-o", str(card), "--local"]) == 0
    assert card.read_bytes().startswith(b"%PDF")


def test_a_case_comes_from_the_standard_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(json.dumps(CASE).encode())))
    card = tmp_path / "card.pdf"
    assert main(["card", "-", "-o", str(card), "--paper", "letter", "--local"]) == 0
    assert card.read_bytes().startswith(b"%PDF")


def test_a_gauge_is_saved(tmp_path: Path) -> None:
    gauge = tmp_path / "gauge.pdf"
    assert main(["gauge", "205/55R16 91V", "-o", str(gauge), "--local"]) == 0
    assert gauge.read_bytes().startswith(b"%PDF")


def test_what_is_at_fault_is_said(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    gauge = tmp_path / "gauge.pdf"
    assert main(["gauge", "205/55R16 91V", "--vehicle", "motorcycle", "-o", str(gauge), "--local"]) == 1
    assert "vehicle_kind: A tyre marked 205/55R16 91V does not go on a motorcycle." in capsys.readouterr().err
    assert not gauge.exists()


@pytest.mark.parametrize(("content", "said"), [(None, "cannot be read"), ("{", "is no case in JSON")])
def test_a_file_that_cannot_be_used(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: str | None, said: str
) -> None:
    case = tmp_path / "case.json"
    if content is not None:
        case.write_text(content)
    assert main(["card", str(case), "-o", str(tmp_path / "card.pdf"), "--local"]) == 2
    assert said in capsys.readouterr().err
    case.write_text(json.dumps(CASE))
    assert main(["card", str(case), "-o", str(tmp_path / "none" / "card.pdf"), "--local"]) == 2
    assert "cannot be written" in capsys.readouterr().err
