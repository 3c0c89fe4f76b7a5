"""The demo keeps what it promises: its cases are the service's own words, and every verdict and next step occurs."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import msgspec
import pytest

from examples.board import deciding, first_question, print_board
from examples.intake import INTAKE, Intake, read_intake
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repairability import check_repairability
from mendgauge_client import Repairability

DEMO = [sys.executable, "-m", "examples.morning_intake"]
MISTYPED = "V-230"
"""The one tyre whose case contradicts itself, to show a refusal."""


@pytest.fixture(scope="module")
def intake() -> Intake:
    return read_intake()


def answered(case: Any) -> Repairability:
    """The service's answer as the client reads it, without the wire between."""
    sent = msgspec.json.decode(msgspec.json.encode(case), type=Case)
    return msgspec.json.decode(msgspec.json.encode(check_repairability(sent)), type=Repairability)


@pytest.fixture(scope="module")
def answers(intake: Intake) -> dict[str, Repairability]:
    sound = [tyre.case for tyre in intake.tyres if tyre.case.reference != MISTYPED]
    return {str(case.reference): answered(case) for case in sound}


def test_the_file_says_nothing_the_service_does_not_know() -> None:
    """Read by the service's own strict case: the client passes over a field that it does not know."""
    for tyre in json.loads(INTAKE.read_bytes())["tyres"]:
        msgspec.convert(tyre["case"], Case)


def test_each_tyre_has_a_number_of_its_own(intake: Intake) -> None:
    numbers = [tyre.case.reference for tyre in intake.tyres]
    assert None not in numbers
    assert len(set(numbers)) == len(numbers) >= 16


def test_one_case_is_refused_where_it_is_wrong(intake: Intake) -> None:
    (mistyped,) = [tyre.case for tyre in intake.tyres if tyre.case.reference == MISTYPED]
    with pytest.raises(CaseError, match="/injuries/0/across_mm"):
        answered(mistyped)


def test_every_verdict_and_next_step_occurs(answers: dict[str, Repairability]) -> None:
    assert {answer.verdict for answer in answers.values()} == {"repairable", "specialist", "not_repairable", "inspect"}
    assert {answer.next_step for answer in answers.values()} == {
        "ask_first",
        "book_in",
        "repair",
        "send_to_specialist",
        "replace",
    }


def test_the_fleet_is_mixed(intake: Intake) -> None:
    kinds = {tyre.case.vehicle.kind for tyre in intake.tyres if tyre.case.vehicle}
    assert kinds == {"car", "van", "truck", "bus", "trailer", "motorcycle"}
    assert {tyre.case.rulebook for tyre in intake.tyres} == {"gb", "us"}


def test_every_row_has_a_reason_with_a_source_and_a_question_while_it_is_open(
    answers: dict[str, Repairability],
) -> None:
    for number, answer in answers.items():
        found, question = deciding(answer), first_question(answer)
        firm = answer.verdict != "inspect"
        assert found is not None, number
        assert found.says, number
        assert found.source, number
        assert found.outcome in (("met",) if answer.verdict == "repairable" else ("broken", "open")), number
        assert (question is None) == firm, number
        if question and answer.next_step == "ask_first":
            assert question.asked_at != "bench", number


def test_the_board_shows_brief_answers_too(intake: Intake, capsys: pytest.CaptureFixture[str]) -> None:
    briefly = [
        answered(msgspec.structs.replace(tyre.case, detail="brief"))
        for tyre in intake.tyres
        if tyre.case.reference != MISTYPED
    ]
    sound = msgspec.structs.replace(intake, tyres=[tyre for tyre in intake.tyres if tyre.case.reference != MISTYPED])
    print_board(sound, briefly)
    shown = capsys.readouterr().out
    assert "All rules are met." in shown
    assert "summary (published summary)" in " ".join(shown.split())


@pytest.mark.parametrize("columns", ["100", "160"])
def test_it_prints_every_tyre_within_the_terminal_and_ends_well(intake: Intake, columns: str) -> None:
    environment = {
        **os.environ,
        "COLUMNS": columns,
        "MENDGAUGE_API_KEYS": "a-key-for-another-service",
        "http_proxy": "http://127.0.0.1:9",
    }
    done = subprocess.run(DEMO, env=environment, capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    lines = done.stdout.splitlines()
    assert max(map(len, lines)) <= int(columns)
    assert "…" not in done.stdout
    assert "\x1b" not in done.stdout
    starts = [line.split(maxsplit=1)[0] for line in lines if line.strip()]
    assert [starts.count(str(tyre.case.reference)) for tyre in intake.tyres] == [1] * len(intake.tyres)


@pytest.mark.parametrize(("number", "status"), [(signal.SIGTERM, 130), (signal.SIGKILL, -signal.SIGKILL)])
def test_ended_from_outside_it_takes_its_service_along(number: signal.Signals, status: int) -> None:
    with subprocess.Popen(DEMO, stdout=subprocess.DEVNULL) as demo:
        service = service_of(demo)
        demo.send_signal(number)
        assert demo.wait(timeout=60) == status
    while command_of(service):
        time.sleep(0.01)


def service_of(demo: subprocess.Popen[bytes]) -> int:
    children = Path(f"/proc/{demo.pid}/task/{demo.pid}/children")
    while demo.poll() is None:
        for child in map(int, children.read_text().split()):
            if b"mendgauge" in command_of(child)[1:3]:
                return child
        time.sleep(0.01)
    raise AssertionError("the demo ended before it started a service")


def command_of(pid: int) -> list[bytes]:
    """How a process was started; empty once it has ended."""
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().split(b"\0")[:-1]
    except (FileNotFoundError, ProcessLookupError):
        return []
