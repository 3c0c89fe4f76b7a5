"""`mendgauge-client check` on tables as spreadsheets and data frames save them."""

from __future__ import annotations

import csv
import gzip
import io
from datetime import date, datetime
from pathlib import Path
from typing import Any

import httpx2
import pyarrow
import pytest
from pyarrow import parquet

from mendgauge_client import Mendgauge, Range, TyreCase, case_from_row
from mendgauge_client.cli.main import main
from mendgauge_client.cli.service import InProcess
from mendgauge_client.tabular.faults import RowError

pytestmark = pytest.mark.usefixtures("command")

DAY = ["--rulebook", "gb", "--assessed-on", "2026-11-24"]
GERMAN = """\
Nummer;Standort;Größe;Fahrzeug;Achse;Profiltiefe (mm);Loch;Stelle;Gesamtgewicht
F-201;Wexhöhe;205/55R16 91V;car;front;5,5;4,0;tread;1.900
F-202;Wexhöhe;195/65R15 91H;car;rear;n/a;3,5..4,5;tread;1.900,5
"""
NAMES = {
    "reference": "Nummer",
    "depot": "Standort",
    "size": "Größe",
    "vehicle": "Fahrzeug",
    "axle": "Achse",
    "tread": "Profiltiefe",
    "hole_mm": "Loch",
    "region": "Stelle",
    "/vehicle/gross_mass_kg": "Gesamtgewicht",
}


def options(names: dict[str, str]) -> list[str]:
    return [part for field, column in names.items() for part in ("--column", f"{field}={column}")]


class Asked:
    """Takes the place of a service, and keeps the cases it is asked about."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.cases: list[TyreCase] = []
        monkeypatch.setattr(Mendgauge, "check_repairability_of_each", self._each)

    def of(self, path: Path, *more: str) -> list[TyreCase]:
        """The cases that a check of a table asks about."""
        self.cases.clear()
        main(["check", str(path), *more])
        return list(self.cases)

    def _each(self, cases: Any, **_: Any) -> Any:
        self.cases += cases
        return iter(())


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> Asked:
    monkeypatch.setenv("MENDGAUGE_URL", "http://tyres.example")
    return Asked(monkeypatch)


def judged(path: Path, content: bytes, *more: str) -> Path:
    path.write_bytes(content)
    output = path.with_suffix(".results.csv")
    output.unlink(missing_ok=True)
    assert main(["check", str(path), "--local", *DAY, *more, "--output", str(output)]) == 0
    return output


@pytest.mark.parametrize(
    ("encoding", "more"),
    [
        ("utf-8", []),
        ("utf-8-sig", []),
        ("utf-16", []),
        ("utf-16-le", ["--encoding", "utf-16-le"]),
        ("cp1252", ["--encoding", "cp1252"]),
        ("utf-8-sig", ["--encoding", "utf-8"]),
    ],
)
def test_a_german_spreadsheet_is_read_in_whatever_encoding(encoding: str, more: list[str], tmp_path: Path) -> None:
    output = judged(tmp_path / "t.csv", GERMAN.encode(encoding), *options(NAMES), *more)
    first, second = csv.DictReader(io.StringIO(output.read_text("utf-8")))
    assert (first["reference"], first["depot"], second["marking"]) == ("F-201", "Wexhöhe", "195/65R15 91H")
    assert first["warning"].startswith("column Gesamtgewicht: '1.900' is read as 1.9 kilograms")
    assert second["warning"] == ""


def test_decimal_commas_ranges_and_what_is_not_known(tmp_path: Path, asked: Asked) -> None:
    (tmp_path / "t.csv").write_text(GERMAN, encoding="utf-8")
    first, second = asked.of(tmp_path / "t.csv", *DAY, *options(NAMES))
    assert (first.tyre.tread_depth_mm, second.tyre.tread_depth_mm) == (5.5, None)
    assert first.injuries is not None
    assert second.injuries is not None
    assert (first.injuries[0].diameter_mm, second.injuries[0].diameter_mm) == (4.0, Range(low=3.5, high=4.5))
    assert second.vehicle is not None
    assert second.vehicle.gross_mass_kg == 1900.5


def test_names_of_columns_come_from_a_file_too(tmp_path: Path, asked: Asked) -> None:
    (tmp_path / "t.csv").write_text(GERMAN, encoding="utf-8")
    listed = "".join(f"{field!r} = {column!r}\n" for field, column in NAMES.items())
    (tmp_path / "names.toml").write_text(listed.replace("'Profiltiefe'", "'Other'"), encoding="utf-8")
    names = ["--map", str(tmp_path / "names.toml"), "--column", "tread=Profiltiefe"]
    assert asked.of(tmp_path / "t.csv", *DAY, *names)[0].tyre.tread_depth_mm == 5.5


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "cannot be read: No such file"),
        ("tread = ", "is not TOML"),
        ("tread = 1", 'must name a column for each field: tread = "Profiltiefe"'),
        ("tred = 'Tiefe'", "'tred' is no column of a tyre; did you mean tread?"),
    ],
)
def test_a_file_of_names_that_cannot_be_used(
    content: str | None, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "t.csv").write_text("size,Tiefe\n205/55R16 91V,5\n", encoding="utf-8")
    if content is not None:
        (tmp_path / "names.toml").write_text(content, encoding="utf-8")
    assert main(["check", str(tmp_path / "t.csv"), "--local", *DAY, "--map", str(tmp_path / "names.toml")]) == 2
    assert says in capsys.readouterr().err


def test_a_name_for_a_column_needs_a_field_and_a_column(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["check", "t.csv", "--column", "tread"])
    assert "'tread' is not of the form tread=Profiltiefe" in capsys.readouterr().err


def test_inches_and_units_in_the_header(tmp_path: Path, asked: Asked) -> None:
    table = 'size,tread [32nds],hole_mm,max_speed_kmh (mph)\n205/55R16 91V,8,"1/4""",120\n'
    (tmp_path / "t.csv").write_text(table, encoding="utf-8")
    (case,) = asked.of(tmp_path / "t.csv", "--rulebook", "us")
    assert case.injuries is not None
    assert case.vehicle is not None
    assert (case.tyre.tread_depth_mm, case.injuries[0].diameter_mm) == (6.35, 6.35)
    assert case.vehicle.max_speed_kmh == 193.12128


@pytest.mark.parametrize("decimal", ["comma", "point"])
def test_the_decimal_sign_is_asked_for_where_the_separator_misleads(decimal: str, tmp_path: Path, asked: Asked) -> None:
    (tmp_path / "t.csv").write_text('size,tread\n205/55R16 91V,"4,5"\n', encoding="utf-8")
    cases = asked.of(tmp_path / "t.csv", *DAY, "--decimal", decimal)
    assert [case.tyre.tread_depth_mm for case in cases] == ([4.5] if decimal == "comma" else [])


def test_the_line_in_which_a_spreadsheet_names_its_separator_is_passed_over(tmp_path: Path) -> None:
    output = judged(tmp_path / "t.csv", b'sep=;\r\n"Size";"tread\r\n(mm)"\r\n205/55R16 91V;4,5\r\n')
    (result,) = csv.DictReader(io.StringIO(output.read_text("utf-8")))
    assert (result["row"], result["problem"]) == ("3", "")


def test_a_data_frame_is_read_as_it_is_saved(tmp_path: Path, asked: Asked) -> None:
    # What pandas writes of a frame with missing values: floats for whole numbers, times for days.
    (tmp_path / "t.csv").write_text(
        "reference,size,date,repairs,inspected,dot\n"
        "A,205/55R16 91V,2026-11-24 00:00:00,0.0,1.0,2323.0\n"
        "B,205/55R16 91V,,,,\n",
        encoding="utf-8",
    )
    written, empty = asked.of(tmp_path / "t.csv", "--rulebook", "gb")
    frame = {
        "size": ["205/55R16 91V"],
        "date": [datetime(2026, 11, 24)],
        "repairs": [0.0],
        "inspected": [1.0],
        "dot": [2323],
    }
    parquet.write_table(pyarrow.table(frame), tmp_path / "t.parquet")
    (stored,) = asked.of(tmp_path / "t.parquet", "--rulebook", "gb")
    for case in (written, stored):
        assert (case.assessed_on, case.earlier_repairs, case.tyre.date_code) == (date(2026, 11, 24), [], "2323")
        assert case.inspection is not None
        assert case.inspection.complete
    assert (empty.assessed_on, empty.earlier_repairs, empty.inspection) == (None, None, None)


def test_results_are_written_as_parquet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table = tmp_path / "t.csv"
    table.write_text("reference,size,plate\nA,205/55R16 91V,x\nB,205/55R61,y\n", encoding="utf-8")
    output = tmp_path / "r.parquet"
    ask = ["check", str(table), "--local", *DAY, "--keep", "plate", "--output", str(output)]
    assert main(ask) == 1
    results = parquet.read_table(output)
    first, second = results.to_pylist()
    assert (first["row"], first["verdict"], first["plate"]) == (2, "inspect", "x")
    assert first["assessed_on"] == date(2026, 11, 24)
    assert "repairable" in first["possible_verdicts"]
    assert (second["verdict"], second["problem"][:14]) == (None, "column size: 6")
    assert main(ask) == 2
    assert "is there already" in capsys.readouterr().err
    assert main([*ask, "--resume"]) == 2
    assert "--resume goes on with CSV or JSON lines" in capsys.readouterr().err
    assert main(["check", str(table), "--local", *DAY, "--keep", "plate", "--output-format", "parquet"]) == 2
    assert "name it with --output" in capsys.readouterr().err


@pytest.mark.parametrize("form", ["csv", "jsonl", "parquet"])
def test_a_start_that_fails_leaves_no_file(form: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    table, output = tmp_path / "t.csv", tmp_path / f"r.{form}"
    table.write_text("reference,size\nA,\nB,205/55R16 91V\n", encoding="utf-8")
    ask = ["check", str(table), *DAY, "--output", str(output)]
    assert main(ask) == 2  # no address is set
    assert main([*ask, "--url", "http://127.0.0.1:9", "--retries", "0"]) == 3
    table.write_bytes(table.read_bytes() + b"\xff,\n")
    assert main([*ask, "--local"]) == 2
    assert not output.exists()
    assert "results are in" not in capsys.readouterr().err


def test_an_application_in_this_process_may_pack_its_answers() -> None:
    content = gzip.compress(b"an answer")

    async def application(_: Any, __: Any, send: Any) -> None:
        headers = [(b"content-encoding", b"gzip"), (b"content-length", str(len(content)).encode())]
        await send({"type": "http.response.start", "status": 200, "headers": headers})
        await send({"type": "http.response.body", "body": content})

    with httpx2.Client(transport=InProcess(application)) as http:
        assert http.get("http://in-this-process").text == "an answer"


def test_a_row_is_a_case_without_casts() -> None:
    row = {"size": "205/55R16 91V", "Profiltiefe (mm)": "4,5", "hole_mm": "n/a", "repairs": "0.0", "plate": "FX 12"}
    case = case_from_row(row, rulebook="gb", columns={"tread": "Profiltiefe"}, keep=["plate"], decimal_comma=True)
    assert (case.rulebook, case.tyre.tread_depth_mm, case.earlier_repairs, case.injuries) == ("gb", 4.5, [], None)


@pytest.mark.parametrize(
    ("row", "columns", "column", "says"),
    [
        ({"size": "205/55R16 91V", "tread": "deep"}, None, "tread", "'deep' is no number"),
        ({"size": "205/55R16 91V", "plate": "x"}, None, "plate", "no column of a tyre"),
        ({"tread": "4"}, None, "", "the marking is missing"),
        ({"size": "x"}, {"tread": "a", "hole_mm": "a"}, "", "is to mean both"),
    ],
)
def test_a_row_that_is_no_case_says_why(row: dict[str, str], columns: Any, column: str, says: str) -> None:
    with pytest.raises(RowError, match=says) as caught:
        case_from_row(row, rulebook="gb", columns=columns)
    assert caught.value.faults[0].column == column
