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


def test_a_case_may_have_the_byte_order_mark_of_an_editor(tmp_path: Path) -> None:
    case, card = tmp_path / "case.json", tmp_path / "card.pdf"
    case.write_text(json.dumps(CASE), "utf-8-sig")
    assert main(["card", str(case), "-o", str(card), "--local"]) == 0


def test_the_standard_input_is_called_by_its_name(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"{")))
    assert main(["card", "-", "-o", "card.pdf", "--local"]) == 2
    assert capsys.readouterr().err.startswith("The standard input is no case in JSON")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "cannot be read"),
        (b"{", "is no case in JSON"),
        ('{"rulebook": "gb", "reference": "Münch"}'.encode("cp1252"), "is not in UTF-8: save it in that encoding."),
        (b"[" * 100_000, "is no case in JSON"),
        (
            b'{"rulebook": "gb", "tyre": {"marking": "205/55R16", "marking": "31x10.50R15"}}',
            "`marking` is given twice in one object",
        ),
    ],
)
def test_a_file_that_cannot_be_used(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], content: bytes | None, said: str
) -> None:
    case = tmp_path / "case.json"
    if content is not None:
        case.write_bytes(content)
    assert main(["card", str(case), "-o", str(tmp_path / "card.pdf"), "--local"]) == 2
    assert said in capsys.readouterr().err
    case.write_text(json.dumps(CASE))
    assert main(["card", str(case), "-o", str(tmp_path / "none" / "card.pdf"), "--local"]) == 2
    assert "cannot be written" in capsys.readouterr().err
