"""`mendgauge-client check`: tables in, results out, and what it says of what cannot be used."""

from __future__ import annotations

import csv
import io
import json
import sys
from pathlib import Path

import pyarrow
import pytest
from pyarrow import parquet
from tests.unit.sdk.tables import DAY, EXAMPLE, KEEP, SOUND, lines, rows, write_csv

from mendgauge_client.cli import progress
from mendgauge_client.cli.forms import HEADER
from mendgauge_client.cli.main import main

pytestmark = pytest.mark.usefixtures("command")


def test_the_example_gives_a_result_a_row_and_a_summary_by_depot(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    output = tmp_path / "results.csv"
    assert main(["check", str(EXAMPLE), "--local", *DAY, *KEEP, "--output", str(output)]) == 1
    shown = capsys.readouterr()
    results = rows(output)
    given = rows(EXAMPLE)
    assert [result["row"] for result in results] == [str(number) for number in range(2, 2 + len(given))]
    for name in ("reference", "depot", "marking", "fleet_number"):
        assert [result[name] for result in results] == [tyre[name] for tyre in given]
    assert [result["verdict"] for result in results][:4] == ["repairable", "repairable", "specialist", ""]
    assert results[3]["problem"].startswith("column marking: 61 is no rim code")
    assert "row 5, column marking: 61 is no rim code" in shown.err
    table = [line.split("  ") for line in shown.out.splitlines()]
    assert [line[0].strip() for line in table] == ["depot", "Ferrisby", "Wexhollow", "Old Ferry", "all"]
    assert table[1][-1].strip() == "4"
    assert table[-1][-1].strip() == str(len(given))


def test_in_this_process_in_others_and_over_http_the_answers_are_the_same(
    address: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for form in ("csv", "jsonl"):
        results = []
        ways = {"local": ["--local"], "workers": ["--local", "--workers", "2"], "http": ["--url", address]}
        for name, where in ways.items():
            output = tmp_path / f"{name}.{form}"
            assert main(["check", str(EXAMPLE), *where, *DAY, *KEEP, "--output", str(output)]) == 1
            results.append((output.read_bytes(), capsys.readouterr()))
        assert results[0] == results[1] == results[2]
        assert len(results[0][0]) > 1000


def test_workers_are_of_this_machine(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLE), "--url", "http://127.0.0.1:1", "--workers", "2"]) == 2
    assert "--workers is of --local" in capsys.readouterr().err
    with pytest.raises(SystemExit):
        main(["check", str(EXAMPLE), "--local", "--workers", "0"])
    assert "not a whole number from 1 to 64" in capsys.readouterr().err


def test_json_lines_have_the_whole_answer(tmp_path: Path) -> None:
    output = tmp_path / "results.jsonl"
    assert main(["check", str(EXAMPLE), "--local", *DAY, *KEEP, "--output", str(output)]) == 1
    first, *_ = results = lines(output)
    assert first["kept"] == {"fleet_number": "114"}
    assert first["answer"]["rulebook"]["id"] == "gb"
    assert first["answer"]["assessed_on"] == "2026-11-24"
    assert first["problem"] is None
    assert [result["row"] for result in results if result["problem"]] == [5]
    assert results[3]["problem"][0]["column"] == "marking"
    assert results[3]["answer"] is None


@pytest.mark.parametrize("form", ["csv", "parquet"])
def test_the_question_to_ask_first_is_one_that_can_be_answered_there(form: str, tmp_path: Path) -> None:
    table = write_csv(
        tmp_path / "t.csv",
        {"marking": "205/55R16 91V", "vehicle": "car"},
        {"marking": "205/55R16 91V", "vehicle": "car", "region": "tread", "driver_asked": True},
    )
    asked = {}
    for where in ("phone", "vehicle", "bench"):
        output = tmp_path / f"{where}.{form}"
        assert main(["check", str(table), "--local", *DAY, "--where", where, "--output", str(output)]) == 0
        found = rows(output) if form == "csv" else parquet.read_table(output).to_pylist()
        asked[where] = [row["ask_first"] for row in found]
    assert asked["phone"][0] == "Is the injury in the tread, the shoulder, the sidewall or the bead?"
    assert asked["vehicle"][0] == asked["phone"][0]
    assert all(asked["bench"])


def test_the_answers_of_json_lines_say_as_much_as_is_asked_for(tmp_path: Path) -> None:
    for detail, more in ((None, []), ("brief", ["--detail", "brief"]), ("full", ["--detail", "full"])):
        output = tmp_path / f"{detail}.jsonl"
        assert main(["check", str(EXAMPLE), "--local", *DAY, *KEEP, *more, "--output", str(output)]) == 1
        answers = [line["answer"] for line in lines(output) if line["answer"]]
        assert {"rules_checked" in answer for answer in answers} == {detail == "full"}


def test_every_format_of_table_gives_the_same(tmp_path: Path) -> None:
    tyres = [{"reference": f"T-{number}", "depot": "Ferrisby", **SOUND} for number in range(3)]
    tyres[1]["hole_mm"] = None
    write_csv(tmp_path / "t.csv", *tyres)
    (tmp_path / "t.jsonl").write_text("\n\n".join(map(json.dumps, tyres)), encoding="utf-8")
    parquet.write_table(pyarrow.Table.from_pylist(tyres), tmp_path / "t.parquet")
    shown = []
    for form in ("csv", "jsonl", "parquet"):
        output = tmp_path / f"from_{form}.jsonl"
        assert main(["check", str(tmp_path / f"t.{form}"), "--local", *DAY, "--output", str(output)]) == 0
        shown.append([{name: part for name, part in line.items() if name != "row"} for line in lines(output)])
    assert shown[0] == shown[1] == shown[2]
    assert [line["answer"]["verdict"] for line in shown[0]] == ["repairable", "inspect", "repairable"]


def test_json_lines_may_hold_whole_cases(tmp_path: Path) -> None:
    case = {
        "rulebook": "gb",
        "tyre": {"marking": "205/55R16 91V", "traits": {"run_flat": True}},
        "injuries": [{"region": "tread", "diameter_mm": {"low": 3, "high": 4}}, {"region": "sidewall"}],
        "earlier_repairs": [],
    }
    table = tmp_path / "t.jsonl"
    misspelt = {"case": {"rulebook": "gb", "tyre": {"marking": "205/55R16 91V", "tread_dpeth_mm": 5}}}
    shown = [{"depot": "Ferrisby", "case": case}, {**case, "reference": "A"}, misspelt]
    table.write_text("\n".join(map(json.dumps, shown)), encoding="utf-8")
    output = tmp_path / "r.jsonl"
    assert main(["check", str(table), "--local", "--assessed-on", "2026-11-24", "--output", str(output)]) == 1
    first, second, third = lines(output)
    assert {**first["answer"], "reference": "A"} == second["answer"]
    assert [found["injury"] for found in first["answer"]["findings"] if found["outcome"] == "broken"] == [1]
    assert third["problem"] == [
        {"column": "case", "detail": "the case has no /tyre/tread_dpeth_mm; did you mean tread_depth_mm?"}
    ]


@pytest.mark.parametrize(
    ("changed", "shown"),
    [
        ({"hole_mm": "four"}, "row 3, column hole_mm: 'four' is no number: write millimetres such as 4.5"),
        ({"vehicle": "cra"}, "row 3, column vehicle: 'cra' is none of bus, car,"),
        ({"marking": ""}, "row 3, the marking is missing"),
        ({"marking": "what?"}, "row 3, column marking: "),
        ({"across_mm": "900"}, "row 3, column across_mm: That is not in the tread"),
        ({"date_code": "9926"}, "row 3, column date_code: "),
        ({"rulebook": "xy"}, "row 3, column rulebook: "),
    ],
)
def test_a_row_at_fault_is_reported_by_row_and_column_and_costs_no_other(
    changed: dict[str, str], shown: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sound = {"rulebook": "gb", **SOUND}
    table = write_csv(tmp_path / "t.csv", sound, {**sound, **changed}, sound)
    output = tmp_path / "r.csv"
    assert main(["check", str(table), "--local", "--output", str(output)]) == 1
    assert shown in capsys.readouterr().err
    assert [result["verdict"] for result in rows(output)] == ["repairable", "", "repairable"]


def test_a_spreadsheets_csv_is_read(tmp_path: Path) -> None:
    table = tmp_path / "t.csv"
    table.write_bytes("\ufeffReference;Size;Vehicle\r\nA;205/55R16 91V;car\r\n;;\r\nB;195/65R15 91H;van\r\n".encode())
    output = tmp_path / "r.csv"
    assert main(["check", str(table), "--local", *DAY, "--output", str(output)]) == 0
    assert [(result["row"], result["reference"]) for result in rows(output)] == [("2", "A"), ("4", "B")]


@pytest.mark.parametrize(
    ("content", "shown"),
    [
        (b"", "The table has no header"),
        (b"size,plate\n", "'plate' is no column of a tyre"),
        (b"reference\nA\n", "No column has the marking"),
        ("size\n205/55R16 91V é\n".encode("latin-1"), "The table is not in UTF-8 (byte 0xe9)"),
        ("size\n205/55R16 91V\n".encode("utf-16-le"), "say --encoding utf-16-le"),
    ],
)
def test_a_table_that_cannot_be_used_is_reported(
    content: bytes, shown: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    table = tmp_path / "t.csv"
    table.write_bytes(content)
    assert main(["check", str(table), "--local", *DAY]) == 2
    assert shown in capsys.readouterr().err


def test_rows_that_are_no_rows_are_reported(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "t.csv"
    table.write_text('size,vehicle\n205/55R16 91V,car,a,b\n"205/55R16" 91V,car\n205/55R16 91V,car\n', encoding="utf-8")
    assert main(["check", str(table), "--local", *DAY]) == 1
    shown = capsys.readouterr().err
    assert "row 2, it has 4 cells, and the header 2" in shown
    assert "row 3, it is not CSV" in shown
    twice = '{"size": "205/55R16 91V", "injury": {"diameter_mm": 4, "diameter_mm": 9}}'
    (tmp_path / "t.jsonl").write_text(f'{{"size": "205/55R16 91V"}}\n{{"size"\n[1]\n{twice}\n', encoding="utf-8")
    assert main(["check", str(tmp_path / "t.jsonl"), "--local", *DAY]) == 1
    shown = capsys.readouterr().err
    assert "row 2, it is no JSON object on a line of its own" in shown
    assert "row 3, it is no JSON object on a line of its own" in shown
    assert "row 4, `diameter_mm` is given twice in one object; give it once" in shown


@pytest.mark.parametrize(
    ("arguments", "shown"),
    [
        (["none.csv"], "none.csv cannot be read: No such file or directory."),
        (["tyres.txt"], "The ending of tyres.txt does not say what it is: give --format"),
        ([str(EXAMPLE), *KEEP, "--rulebook", "gb", "--vehicle", "boat"], "--vehicle: 'boat' is none of bus, car"),
        ([str(EXAMPLE), *KEEP, "--assessed-on", "today"], "--assessed-on: 'today' is no day"),
        (
            [str(EXAMPLE), *DAY, *KEEP, "--output", "results.xml"],
            "The ending of results.xml does not say how to write it: give --output-format",
        ),
        (
            [str(EXAMPLE), *DAY, *KEEP, "--output", "none/r.csv"],
            "none/r.csv cannot be written: No such file or",
        ),
        ([str(EXAMPLE), *DAY, *KEEP, "--resume"], "--resume goes on with a file of results: name it with --output."),
        (["-", "--format", "parquet"], "give it as a file"),
        ([str(EXAMPLE), "--format", "parquet"], "The table is not Parquet"),
    ],
)
def test_what_is_asked_for_wrongly_is_reported(
    arguments: list[str],
    shown: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["check", *arguments, "--local"]) == 2
    assert shown in capsys.readouterr().err


def test_without_a_service_it_says_where_to_name_one(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLE), *DAY, *KEEP]) == 2
    said = capsys.readouterr().err
    assert "Say where the service is" in said
    for way in ("--url", "MENDGAUGE_URL", "--local"):
        assert way in said


def test_without_the_service_package_local_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "mendgauge.server", None)
    assert main(["check", str(EXAMPLE), *DAY, *KEEP, "--local"]) == 2
    assert "install the package mendgauge, or name the address of a service with --url" in capsys.readouterr().err


def test_a_service_that_is_not_reached_is_an_exit_code_of_its_own(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLE), *KEEP, *DAY, "--url", "http://127.0.0.1:9", "--retries", "0"]) == 3
    assert "Check the service's address" in capsys.readouterr().err


def test_results_go_to_the_standard_output_apart_from_all_else(capfd: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(EXAMPLE), "--local", *DAY, *KEEP, "--output", "-"]) == 1
    shown = capfd.readouterr()
    assert [result["row"] for result in csv.DictReader(io.StringIO(shown.out))] == [str(n) for n in range(2, 11)]
    assert "Ferrisby" in shown.err


def test_a_table_from_the_standard_input(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    line = json.dumps({"size": "205/55R16 91V"})
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(line.encode())))
    assert main(["check", "-", "--format", "jsonl", "--local", *DAY]) == 0
    assert "(no depot)" in capsys.readouterr().out


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_shown_on_a_terminal_alone(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(progress, "EVERY_S", 0.0)
    ask = ["check", str(EXAMPLE), "--local", *DAY, *KEEP]
    assert main(ask) == 1
    assert "\r" not in capsys.readouterr().err
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    assert main(ask) == 1
    assert "[########################] 100%" in terminal.getvalue()
    assert "8 tyres" in terminal.getvalue() or "9 tyres" in terminal.getvalue()


@pytest.mark.parametrize(
    ("share", "shown"),
    [
        (None, "1,500 tyres  3 with a problem  50/s"),
        (0.25, "[######..................]  25%  1,500 tyres  3 with a problem  50/s  1:30 left"),
        (1.0, "[########################] 100%  1,500 tyres  3 with a problem  50/s  0:00 left"),
    ],
)
def test_what_progress_says(share: float | None, shown: str) -> None:
    assert progress.line(1500, 3, share, seconds=30) == shown


def test_the_columns_of_the_results_are_those_the_readme_lists() -> None:
    readme = (EXAMPLE.parents[1] / "README.md").read_text("utf-8")
    assert f"`{'`, `'.join(HEADER)}`" in " ".join(readme.split())
