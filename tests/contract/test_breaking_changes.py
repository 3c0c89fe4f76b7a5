"""What changed between two documents, and the gate that lets no breaking change through without a major version.

The cases are data: made-up changes to a made-up document, each beside the entry of the published list it stands for.
"""

from __future__ import annotations

import copy
import json
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from mendgauge_client.contract.compat.change import Kind
from mendgauge_client.contract.compat.changes import changes
from mendgauge_client.contract.compat.released import main

ROOT = Path(__file__).parents[2]
DATA = Path(__file__).parent / "changes"
BEFORE: dict[str, Any] = json.loads((DATA / "before.json").read_bytes())
CASES: list[dict[str, Any]] = tomllib.loads((DATA / "cases.toml").read_text("utf-8"))["case"]
PUBLISHED_BREAKING = {
    "Removing an entire operation",
    "Removing or renaming a parameter",
    "Removing or renaming a response field",
    "Adding a new required parameter",
    "Making a previously optional parameter required",
    "Changing the type of a parameter or response field",
    "Removing enum values",
    "Adding a new validation rule to an existing parameter",
    "Changing authentication or authorization requirements",
}
PUBLISHED_ADDITIVE = {
    "Adding an operation",
    "Adding an optional parameter",
    "Adding an optional request header",
    "Adding a response field",
    "Adding a response header",
    "Adding enum values",
}


def changed(case: dict[str, Any]) -> dict[str, Any]:
    """The document after the change of a case."""
    document = copy.deepcopy(BEFORE)
    *way, last = [part.replace("~1", "/").replace("~0", "~") for part in case["at"].split("/")[1:]]
    place: Any = document
    for part in way:
        place = place[int(part)] if isinstance(place, list) else place[part]
    if isinstance(place, list):
        place[int(last) : int(last) + 1] = [case["to"]] if "to" in case else []
    elif "to" in case:
        place[last] = case["to"]
    else:
        del place[last]
    return document


def name_of(case: dict[str, Any]) -> str:
    return f"{case.get('published', 'derived')}: {case['at']}"


@pytest.mark.parametrize("case", [pytest.param(case, id=name_of(case)) for case in CASES if "breaks" in case])
def test_a_change_that_breaks_callers_is_reported_where_it_is(case: dict[str, Any]) -> None:
    found = [change for change in changes(BEFORE, changed(case)) if change.breaking]
    assert (case["breaks"], case["place"]) in [(change.kind, change.place) for change in found]
    # Several fields or operations may be hit at once, but all in the same way, save where a field was replaced whole.
    assert {change.kind for change in found} <= {case["breaks"], Kind.FIELD_REMOVED}


@pytest.mark.parametrize("case", [pytest.param(case, id=name_of(case)) for case in CASES if "breaks" not in case])
def test_a_change_that_adds_is_reported_and_breaks_nobody(case: dict[str, Any]) -> None:
    found = changes(BEFORE, changed(case))
    assert {change.kind for change in found} <= {Kind.ADDITION}
    assert [change.place for change in found] == [case["place"]] * bool(case["place"])


def test_the_cases_cover_the_published_list() -> None:
    assert {case["published"] for case in CASES if "breaks" in case and "published" in case} == PUBLISHED_BREAKING
    assert {case["published"] for case in CASES if "breaks" not in case and "published" in case} == PUBLISHED_ADDITIVE
    assert {case["breaks"] for case in CASES if "breaks" in case} == set(Kind) - {Kind.ADDITION}


def test_the_same_document_has_no_changes() -> None:
    assert changes(BEFORE, copy.deepcopy(BEFORE)) == []


def test_prose_and_examples_are_passed_over() -> None:
    after = copy.deepcopy(BEFORE)
    after["info"]["description"] = "Ladders for all"
    after["paths"]["/ladders"]["post"]["summary"] = "May I have a ladder?"
    after["components"]["schemas"]["Wish"]["description"] = "What you want"
    after["components"]["schemas"]["Wish"]["properties"]["kind"]["examples"] = ["roof"]
    assert changes(BEFORE, after) == []


def test_a_path_is_the_same_however_its_parameters_are_called_and_they_are_not() -> None:
    after = copy.deepcopy(BEFORE)
    after["paths"]["/ladders/{id}"] = after["paths"].pop("/ladders/{ladder_id}")
    after["paths"]["/ladders/{id}"]["get"]["parameters"][0]["name"] = "id"
    assert [(change.kind, change.place) for change in changes(BEFORE, after) if change.breaking] == [
        (Kind.PARAMETER_REMOVED, "GET /ladders/{ladder_id} path parameter `ladder_id`"),
        (Kind.REQUIRED, "GET /ladders/{ladder_id} path parameter `id`"),
    ]


def test_a_schema_may_move_or_be_named_otherwise() -> None:
    after = json.loads(json.dumps(BEFORE).replace("schemas/Ladder", "schemas/Steps"))
    after["components"]["schemas"]["Steps"] = after["components"]["schemas"].pop("Ladder")
    assert changes(BEFORE, after) == []
    in_place = BEFORE["components"]["schemas"]["Range"]
    after["components"]["schemas"]["Wish"]["properties"]["reach_m"]["anyOf"][1] = in_place
    assert changes(BEFORE, after) == []


def test_of_the_real_document_nothing_can_go_unnoticed() -> None:
    before = json.loads((ROOT / "openapi" / "openapi.json").read_bytes())
    after = copy.deepcopy(before)
    for name, schema in after["components"]["schemas"].items():
        for field in list(schema.get("properties", {}))[-1:]:
            removed = schema["properties"].pop(field)
            assert (Kind.FIELD_REMOVED, f"{name}.{field}") in [change[:2] for change in changes(before, after)]
            schema["properties"][field] = removed
    for path, item in after["paths"].items():
        for method in list(item):
            removed = item.pop(method)
            assert [change[:2] for change in changes(before, after) if change.breaking] == [
                (Kind.OPERATION_REMOVED, f"{method.upper()} {path}")
            ]
            item[method] = removed


def released(folder: Path, *versions: str) -> Path:
    """A folder with the document released under these versions."""
    place = folder / "released"
    place.mkdir()
    for version in versions:
        document = {**BEFORE, "info": {**BEFORE["info"], "version": version}}
        (place / f"{version}.json").write_text(json.dumps(document), encoding="utf-8")
    return place


def candidate(folder: Path, version: str, *, case: dict[str, Any] | None = None) -> Path:
    document = changed(case) if case else BEFORE
    path = folder / "openapi.json"
    path.write_text(json.dumps({**document, "info": {"version": version}}), encoding="utf-8")
    return path


BREAKING = next(case for case in CASES if case.get("breaks") == Kind.WORD_REMOVED)
ADDING = next(case for case in CASES if case.get("published") == "Adding an operation")


@pytest.mark.parametrize(
    ("versions", "version", "case", "code", "message"),
    [
        ((), "0.1.0", None, 0, "nothing is released yet: no caller to break"),
        (("1.4.2",), "1.4.2", None, 0, "0 breaking and 0 other changes from 1.4.2 to 1.4.2"),
        (
            ("1.4.2",),
            "1.5.0",
            ADDING,
            0,
            "  adds    DELETE /ladders/{ladder_id}: addition: new operation `scrap_ladder`",
        ),
        (("1.4.2",), "1.4.2", BREAKING, 1, "  BREAKS  Wish.kind: word removed from a list: roof"),
        (("1.4.2",), "1.9.0", BREAKING, 1, "take the changes back, or make it version 2.0.0"),
        (("1.4.2",), "2.0.0", BREAKING, 0, "a new major version: 2.0.0 may break callers of 1.4.2"),
        (("1.4.2", "1.10.0", "1.9.0"), "1.10.0", None, 0, "from 1.10.0 to 1.10.0"),
        (("0.1.0",), "0.2.0", BREAKING, 1, "make it version 1.0.0"),
    ],
)
def test_the_gate(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    versions: tuple[str, ...],
    version: str,
    case: dict[str, Any] | None,
    code: int,
    message: str,
) -> None:
    assert main([str(released(tmp_path, *versions)), str(candidate(tmp_path, version, case=case))]) == code
    assert message in capsys.readouterr().out


def test_the_gate_says_what_it_cannot_read(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = released(tmp_path, "1.4.2")
    assert main([str(folder), str(tmp_path / "none.json")]) == 2
    assert "none.json cannot be read: No such file" in capsys.readouterr().err
    assert main([str(folder), str(candidate(tmp_path, "1.4.1"))]) == 2
    assert "the document has version 1.4.1, older than 1.4.2, which is released" in capsys.readouterr().err
    assert main([str(folder), str(candidate(tmp_path, "next"))]) == 2
    assert "the document's version must be of the form 1.2.3: 'next' is not" in capsys.readouterr().err
    (folder / "1.5.0.json").write_bytes((folder / "1.4.2.json").read_bytes())
    assert main([str(folder), str(candidate(tmp_path, "1.5.0"))]) == 2
    assert "must be called after its version, 1.4.2.json" in capsys.readouterr().err
    (folder / "1.5.0.json").write_text("[]", encoding="utf-8")
    assert main([str(folder), str(candidate(tmp_path, "1.5.0"))]) == 2
    assert "is no OpenAPI document: it needs `info.version` and `paths`" in capsys.readouterr().err


def test_the_committed_document_passes_the_gate() -> None:
    command = [
        sys.executable,
        "-m",
        "mendgauge_client.contract.compat.released",
        "openapi/released",
        "openapi/openapi.json",
    ]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    check = (ROOT / "Makefile").read_text("utf-8").partition("\ncheck:")[2].partition("\n\n")[0]
    assert " ".join(command[1:]) in check
