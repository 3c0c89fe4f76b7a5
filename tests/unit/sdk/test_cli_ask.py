"""`mendgauge-client ask` and `decode`: an interview by someone who knows some of the answers, and markings read."""

from __future__ import annotations

import builtins
import io
import json
import re
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager

import httpx2
import pytest
from tests.unit.sdk.test_batches import answer

from mendgauge_client import Mendgauge, __version__
from mendgauge_client.cli import ask
from mendgauge_client.cli.main import main

pytestmark = pytest.mark.usefixtures("command")

MARKING = "205/55R16 91V"
SOUND = {
    "What kind of vehicle": "car",
    "Which axle": "front",
    "Does that axle steer": "yes",
    "inspection of the whole tyre": "none",
    "anything special about the tyre": "none",
    "temporary spare": "no",
    "run-flat": "no",
    "self-sealing": "no",
    "What happened to the tyre": "none",
    "through to the inside": "through",
    "in the tread, the shoulder": "tread",
    "repaired before": "none",
    "When was the tyre made": "2323",
    "How much tread is left": "5 mm",
    "How large is the injury": "3.5..4.5",
    "diameter": "3.5..4.5",
    "How far from the tread's centre line is the injury": "12",
    "How far does the channel lean": "5",
}
"""What a bench that has looked at the tyre knows, by what the questions have in them."""


class Person:
    """Answers questions by what is last on the screen; Enter alone where it knows nothing."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, knows: Mapping[str, str | list[str]]) -> None:
        self.screen = io.StringIO()
        self.asked: list[str] = []
        self._answers = 0
        self._knows = {about: [answer] if isinstance(answer, str) else list(answer) for about, answer in knows.items()}
        monkeypatch.setattr(sys, "stdout", self.screen)
        monkeypatch.setattr(builtins, "input", self._answer)

    def _answer(self, prompt: str) -> str:
        lines = reversed(self.screen.getvalue().splitlines())
        question = next(line for line in lines if line and not line.startswith(" "))
        if not self.asked or self.asked[-1] != question:
            self.asked.append(question)
        self._answers += 1
        assert self._answers < 200, "the interview has no end"
        self.screen.write(prompt)
        known = next((answers for about, answers in self._knows.items() if about in question), [""])
        answer = known.pop(0) if len(known) > 1 else known[0]
        self.screen.write(answer + "\n")
        if answer == "EOF":
            raise EOFError
        return answer

    @property
    def shown(self) -> str:
        return self.screen.getvalue()


def test_a_bench_that_answers_everything_gets_a_verdict_that_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, SOUND)
    assert main(["ask", MARKING, "--rulebook", "gb", "--local"]) == 0
    assert "The verdict stands: repairable." in person.shown
    assert re.search(r"^Verdict: repairable \(gb 2026\.2, \d{4}-\d\d-\d\d\)$", person.shown, re.MULTILINE)
    assert "Next step: repair" in person.shown
    assert len(person.asked) == len(set(person.asked)), "nothing is asked twice"
    assert len(person.asked) >= 5


def test_each_answer_is_followed_by_what_it_did(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, SOUND)
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--local"]) == 0
    after = person.shown.partition("inspection of the whole tyre find?")[2].splitlines()
    assert after[1].endswith("> none")
    assert after[2].startswith("  That settles: ")
    assert "bulge" in after[2]
    assert person.shown.count("That settles: ") >= 4


def test_a_bad_sign_ends_the_interview(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {"inspection of the whole tyre": "belt separation, Bulge"})
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--local"]) == 0
    assert "  ! " in person.shown
    assert "The verdict stands: not repairable." in person.shown
    assert "Next step: replace" in person.shown
    assert len(person.asked) == 1


def test_whoever_knows_nothing_is_asked_everything_once_and_hears_what_is_left(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    person = Person(monkeypatch, {})
    assert main(["ask", MARKING, "--rulebook", "gb", "--local"]) == 0
    assert len(person.asked) == len(set(person.asked)) > 10
    assert "It may still become repairable or specialist or not repairable." in person.shown
    assert "  - to establish: " in person.shown


def test_a_driver_on_the_phone_hears_what_to_do_until_the_tyre_is_seen_to(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {"What kind of vehicle": "car", "flat or losing air now": "yes"})
    assert main(["ask", MARKING, "--rulebook", "gb", "--local"]) == 0
    assert "Tell the driver: It is losing air. Do not drive on it. Put the spare on" in person.shown


def test_the_marking_and_the_rulebook_are_asked_for_until_they_can_be_used(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(
        monkeypatch,
        {
            "Under which rulebook": ["", "narnia", "gb"],
            "What does the sidewall say": ["", "no tyre", MARKING],
            "inspection of the whole": "bulge",
        },
    )
    assert main(["ask", "--local"]) == 0
    assert "This one is needed." in person.shown
    assert "  'narnia' is not one of au, de, fr, gb, in, jp, nz, us, za.\n" in person.shown
    assert "The verdict stands: not repairable." in person.shown


def test_what_cannot_be_is_refused_and_asked_again(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(
        monkeypatch,
        {
            **SOUND,
            "How far from the tread's centre line is the injury": ["far", "900", "12"],
            "inspection of the whole tyre": ["buldge", "none"],
        },
    )
    assert main(["ask", MARKING, "--rulebook", "gb", "--local"]) == 0
    assert "'far' is no number: write millimetres such as 4.5" in person.shown
    assert "That is not in the tread" in person.shown
    assert "did you mean bulge?\n" in person.shown
    assert "The verdict stands: repairable." in person.shown


def test_help_is_given_where_it_is_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {"How much tread is left": ["?", "5"], "inspection of the whole tyre": ["?", "none"]})
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--local"]) == 0
    assert "Measure with a depth gauge" in person.shown
    assert (
        "Inspect the tyre inside and out. Note everything you find, and when you have looked at all of it. Write none"
        in person.shown
    )


@pytest.mark.parametrize("answer", ["q", "stop", "EOF"])
def test_the_interview_can_be_stopped_at_any_time(answer: str, monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {"": answer})
    assert main(["ask", MARKING, "--rulebook", "gb", "--local"]) == 0
    assert len(person.asked) == 1
    assert "Verdict: inspect" in person.shown
    person = Person(monkeypatch, {"": answer})
    assert main(["ask", "--local"]) == 1
    assert "Without the marking and the rulebook nothing can be said." in person.shown


def demounted_questions(asked: list[str]) -> list[str]:
    return [question for question in asked if re.search("inspection of the whole|crown|earlier repairs", question)]


def test_at_the_vehicle_what_shows_on_the_rim_is_asked_first(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {"Is it off?": "no"})
    assert main(["ask", MARKING, "--rulebook", "gb", "--where", "vehicle", "--local"]) == 0
    assert demounted_questions(person.asked) == []
    assert any("How much tread is left" in question for question in person.asked)
    assert person.asked[-1] == "What is left shows only with the tyre off its rim. Is it off?"
    assert "Next step: " in person.shown
    person = Person(monkeypatch, {"Is it off?": ["perhaps", "yes"]})
    assert main(["ask", MARKING, "--rulebook", "gb", "--where", "vehicle", "--local"]) == 0
    off = person.asked.index("What is left shows only with the tyre off its rim. Is it off?")
    assert demounted_questions(person.asked[:off]) == []
    assert demounted_questions(person.asked[off:]) != []


BY_PHONE = {
    "in the tread, the shoulder": "tread",
    "string or plug": "no",
    "run-flat": "no",
    "What happened to the tyre": "none",
    "flat or losing air now": "no",
}


def test_a_driver_on_the_phone_is_asked_until_it_is_clear_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, BY_PHONE)
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--where", "phone", "--local"]) == 0
    assert person.asked == [
        "Is the injury in the tread, the shoulder, the sidewall or the bead?",
        "Was a string or plug put into this hole from outside?",
        "Is it a run-flat tyre?",
        "What happened to the tyre on the road?",
        "Is the tyre flat or losing air now?",
    ]
    assert "Next step: book in\n" in person.shown
    assert "Tell the driver: If it holds its pressure, drive slowly" in person.shown


def test_what_is_asked_by_itself_is_not_offered_for_a_whole_section_too(monkeypatch: pytest.MonkeyPatch) -> None:
    happened = ["?", "driven flatt", "driven flat"]
    person = Person(monkeypatch, BY_PHONE | {"What happened to the tyre": happened, "flat or losing air now": "yes"})
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--where", "phone", "--local"]) == 0
    assert "[none, or which of: driven flat, sealant used] > " in person.shown
    assert (
        "Ask the driver: was it driven flat, how far, and was any sealant, string or plug put in? Write" in person.shown
    )
    assert "'driven flatt' is none of driven flat, sealant used; did you mean driven flat?" in person.shown


def test_a_driver_who_knows_nothing_hears_what_to_do_all_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    person = Person(monkeypatch, {})
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "car", "--where", "phone", "--local"]) == 0
    assert not any("How much tread" in question or "off its rim" in question for question in person.asked)
    assert "Next step: ask first; if nobody can say: book in" in person.shown


def test_in_this_process_and_over_http_the_interview_is_the_same(address: str, monkeypatch: pytest.MonkeyPatch) -> None:
    shown = []
    for where in (["--local"], ["--url", address]):
        person = Person(monkeypatch, SOUND)
        assert main(["ask", MARKING, "--rulebook", "gb", *where]) == 0
        shown.append(person.shown)
    assert shown[0] == shown[1]


def test_a_question_of_a_newer_service_is_passed_over(monkeypatch: pytest.MonkeyPatch) -> None:
    question = {"asks": "?", "how": "Look.", "asked_at": "phone", "parts": [], "settles": ["band"]}
    asks = [{**question, "field": "/tyre/of_tomorrow"}, {**question, "field": "/tyre/tread_depth_mm", "asks": "Tread?"}]

    def respond(request: httpx2.Request) -> httpx2.Response:
        return httpx2.Response(
            200, json={"rulebooks": []} if request.method == "GET" else {**answer(None), "to_establish": asks}
        )

    @contextmanager
    def scripted(_: object) -> Iterator[Mendgauge]:
        http = httpx2.Client(transport=httpx2.MockTransport(respond))
        with Mendgauge("http://tyres.example", http_client=http) as service:
            yield service

    monkeypatch.setattr(ask, "chosen_service", scripted)
    person = Person(monkeypatch, {"Tread?": "5"})
    assert main(["ask", MARKING, "--rulebook", "gb"]) == 0
    assert person.asked == ["Tread?"]


def test_a_kind_of_vehicle_that_is_none_is_reported(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["ask", MARKING, "--rulebook", "gb", "--vehicle", "boat", "--local"]) == 2
    assert "'boat' is none of bus, car" in capsys.readouterr().err


def test_a_marking_is_read(address: str, capsys: pytest.CaptureFixture[str]) -> None:
    shown = []
    for where in (["--local"], ["--url", address]):
        assert main(["decode", MARKING, "--date-code", "2323", *where]) == 0
        shown.append(capsys.readouterr().out)
    assert shown[0] == shown[1]
    lines = {tuple(re.split(r"\s{2,}", line.strip())) for line in shown[0].splitlines()}
    # ETRTO Standards Manual, passenger car tyres: 205/55R16 is 205 mm wide and 632 mm across; load index 91 carries
    # 615 kg and symbol V 240 km/h (UN Regulation No. 30, annex 4 and paragraph 2.29).
    for line in (
        ("section width", "205 mm"),
        ("overall diameter regulation", "632 mm"),
        ("load single", "615 kg"),
        ("speed", "240 km/h"),
        ("made week", "23"),
        ("made year", "2023"),
    ):
        assert line in lines


def test_a_marking_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["decode", "315/80R22.5 156/150L (154/150M)", "--json", "--local"]) == 0
    assert json.loads(capsys.readouterr().out)["extra_services"][0]["speed_symbol"] == "M"
    assert main(["decode", "315/80R22.5 156/150L (154/150M)", "--local"]) == 0
    assert re.search(r"^  also +154/150M$", capsys.readouterr().out, re.MULTILINE)


def test_a_marking_that_is_none_is_reported(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["decode", "205/55R61 91V", "--local"]) == 1
    assert "61 is no rim code" in capsys.readouterr().err


@pytest.mark.parametrize("command", [[], ["check"], ["ask"], ["decode"]])
def test_help_lists_the_exit_codes(command: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([*command, "--help"])
    assert ended.value.code == 0
    shown = capsys.readouterr().out
    for code, says in ((0, "done"), (1, "at fault"), (2, "asked wrongly"), (3, "no answer"), (130, "interrupted")):
        assert re.search(rf"^  {code} .*{says}", shown, re.MULTILINE)


def test_it_runs_as_a_module_and_ends_quietly_when_nobody_reads_on() -> None:
    run = [sys.executable, "-m", "mendgauge_client"]
    shown = subprocess.run([*run, "--version"], capture_output=True, text=True, check=True)
    assert shown.stdout == f"mendgauge-client {__version__}\n"
    process = subprocess.Popen(
        [*run, "decode", MARKING, "--local"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert process.stdout is not None
    process.stdout.close()
    assert process.stderr is not None
    assert process.stderr.read() == ""
    assert process.wait() == 130
