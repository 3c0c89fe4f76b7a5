"""What the generator makes of a document: names, types, docstrings, and what it refuses."""

from __future__ import annotations

import copy
import importlib.util
import json
import subprocess
import sys
from pathlib import Path
from types import ModuleType
from typing import Any

import msgspec
import pytest

GENERATE = Path(__file__).parents[3] / "sdk" / "generate.py"


def ref(name: str) -> dict[str, str]:
    return {"$ref": f"#/components/schemas/{name}"}


def words(*given: str) -> dict[str, Any]:
    return {"type": "string", "enum": [*given]}


def struct(properties: dict[str, Any], required: list[str], **more: Any) -> dict[str, Any]:
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False, **more}


def maybe(*schemas: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"anyOf": [*schemas, {"type": "null"}], **more}


def answering(name: str, description: str = "The answer.") -> dict[str, Any]:
    return {"description": description, "content": {"application/json": {"schema": ref(name)}}}


DOCUMENT: dict[str, Any] = {
    "openapi": "3.1.0",
    "info": {"title": "Benches", "version": "1.0.0"},
    "paths": {
        "/v1/benches": {
            "post": {
                "operationId": "judge_bench",
                "summary": 'Is "this bench" fit? Say "yes"',
                "description": 'A path such as C:\\new, and """three quotes""".\n\nA second paragraph.',
                "requestBody": {"content": {"application/json": {"schema": ref("Question")}}},
                "responses": {
                    "200": answering("Verdict"),
                    "422": {"$ref": "#/components/responses/Broken"},
                    "503": {"description": "Not ready."},
                },
            }
        },
        "/v1/benches/batch": {
            "post": {
                "operationId": "judge_benches_in_batch",
                "summary": "Which of these benches are fit?",
                "requestBody": {"content": {"application/json": {"schema": ref("Benches")}}},
                "responses": {"200": answering("BenchesJudged")},
            }
        },
        "/v1/benches/{bench-id}": {
            "get": {
                "operationId": "get_bench",
                "parameters": [
                    {"name": "kind", "in": "query", "schema": words("old", "new"), "description": "Which kind."},
                    {"name": "on", "in": "query", "schema": {"type": "string", "format": "date"}},
                    {"name": "tag", "in": "query", "schema": {"type": "array", "items": {"type": "integer"}}},
                    {"name": "bench-id", "in": "path", "required": True, "schema": {"type": "string"}},
                    {"name": "If-None-Match", "in": "header", "schema": {"type": "string"}},
                    {"$ref": "#/components/parameters/RequestId"},
                ],
                "responses": {"200": answering("Verdict"), "304": {"description": "The copy at hand is good."}},
            }
        },
    },
    "components": {
        "parameters": {"RequestId": {"name": "X-Request-Id", "in": "header", "schema": {"type": "string"}}},
        "responses": {
            "Broken": {
                "description": "`/problems/a`: The contract is broken. Mend it.\n\n`/problems/b`: It cannot be. Look.",
                "content": {"application/problem+json": {"schema": ref("Problem")}},
            }
        },
        "schemas": {
            "Range": struct({"low": {"type": "number"}, "high": {"type": "number"}}, ["low", "high"]),
            "Question": struct(
                {
                    "name": {"type": "string", "maxLength": 3, "pattern": "^[a-z]+$", "examples": ["abc"]},
                    "width_mm": maybe({"type": "number", "minimum": 0, "description": "Its width, mm."}, ref("Range")),
                    "colours": {"type": "array", "items": words("red", "blue"), "maxItems": 2, "default": []},
                    "state": maybe(words("good", "bad"), description="The state it is in."),
                    "title": maybe({"type": "string"}, description="A property called like a keyword."),
                    "pattern": maybe(words("plain", "checked")),
                    "strict": {"type": "boolean", "default": False},
                    "parts": maybe({"type": "array", "items": ref("Part")}),
                    "odd": maybe(ref("Odd")),
                },
                ["name"],
                description="What is asked.",
            ),
            "Benches": struct({"items": {"type": "array", "items": ref("Question"), "maxItems": 10}}, ["items"]),
            "BenchesJudged": struct({"items": {"type": "array", "items": ref("BenchJudged")}}, ["items"]),
            "BenchJudged": struct(
                {"answer": maybe(ref("Verdict")), "problem": maybe(ref("Problem"))}, ["answer", "problem"]
            ),
            "Odd": struct(
                {"class": {"type": "string"}, "field": {"type": "string"}, "import": maybe({"type": "string"})},
                ["class", "field"],
            ),
            "Part": struct({"pattern": maybe(words("oak", "pine")), "colour": words("red", "blue")}, ["colour"]),
            "Verdict": struct(
                {
                    "verdict": words("fit", "unfit"),
                    "possible_verdicts": {"type": "array", "items": words("fit", "unfit")},
                    "state": words("good", "bad"),
                    "next_step": {"type": "string", "x-extensible-enum": ["use", "mend"]},
                    "unit": {"type": "string", "const": "mm"},
                    "observed": maybe(ref("Range")),
                    "judged_on": {"type": "string", "format": "date"},
                },
                ["verdict", "possible_verdicts", "state", "next_step", "unit", "observed", "judged_on"],
            ),
            "FaultAt": struct(
                {"detail": {"type": "string"}, "pointer": {"type": "string"}, "parameter": {"type": "string"}},
                ["detail"],
            ),
            "Problem": struct(
                {
                    **{name: {"type": "string"} for name in ("type", "title", "detail", "request_id")},
                    "status": {"type": "integer"},
                    "errors": {"type": "array", "items": ref("FaultAt"), "default": []},
                },
                ["type", "title", "detail", "request_id", "status"],
            ),
        },
    },
}
VERDICT = {
    "verdict": "fit",
    "possible_verdicts": ["fit"],
    "state": "good",
    "next_step": "use",
    "unit": "mm",
    "observed": None,
    "judged_on": "2026-11-24",
}


def generate(document: dict[str, Any], folder: Path) -> subprocess.CompletedProcess[str]:
    (folder / "openapi.json").write_text(json.dumps(document), encoding="utf-8")
    command = [sys.executable, str(GENERATE), "--document", str(folder / "openapi.json"), "--into", str(folder)]
    return subprocess.run(command, capture_output=True, text=True, check=False, cwd=folder)


def loaded(folder: Path, name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"made_{name}", folder / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("made")
    done = generate(DOCUMENT, made)
    assert done.returncode == 0, done.stderr
    return made


@pytest.fixture(scope="module")
def models(folder: Path) -> Any:
    return loaded(folder, "models")


@pytest.fixture(scope="module")
def client(folder: Path) -> str:
    return (folder / "client.py").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def client_docs(folder: Path) -> dict[str, str]:
    """The docstrings of the clients just made, with the models just made in the place of the committed ones."""
    program = """
import importlib.util, inspect, json, sys
import mendgauge_client
for name in ("models", "client"):
    spec = importlib.util.spec_from_file_location(f"mendgauge_client.{name}", f"{name}.py")
    made = sys.modules[spec.name] = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(made)
print(json.dumps({
    f"{client.__name__}.{name}": inspect.getdoc(getattr(client, name))
    for client in (made.Mendgauge, made.AsyncMendgauge)
    for name in ("judge_bench", "get_bench", "judge_benches_of_each")
}))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=folder)
    docs: dict[str, str] = json.loads(done.stdout)
    return docs


def test_what_is_left_out_is_not_sent_and_an_empty_list_is(models: Any) -> None:
    sent = msgspec.json.encode(models.Question(name="x", parts=[]))
    assert msgspec.json.decode(sent) == {"name": "x", "parts": []}


def test_a_measured_number_is_a_number_or_a_range(models: Any) -> None:
    for width in (4, 4.5, models.Range(low=3, high=5), None):
        sent = msgspec.json.encode(models.Question(name="x", width_mm=width))
        assert msgspec.json.decode(sent, type=models.Question).width_mm == width


def test_limits_are_the_services_to_check(models: Any) -> None:
    read = msgspec.json.decode(b'{"name": "LONGER THAN ALLOWED", "width_mm": -1}', type=models.Question)
    assert (read.name, read.width_mm) == ("LONGER THAN ALLOWED", -1)


def test_a_word_that_comes_back_is_an_open_enum(models: Any) -> None:
    answer = msgspec.convert(VERDICT, models.Verdict)
    assert answer.verdict is models.VerdictVerdict.FIT
    assert answer.verdict == "fit"
    newer = msgspec.convert(VERDICT | {"verdict": "almost", "next_step": "paint"}, models.Verdict)
    assert (newer.verdict, newer.next_step) == ("almost", "paint")
    assert isinstance(newer.verdict, models.VerdictVerdict)
    assert isinstance(newer.next_step, models.NextStep)
    assert newer.verdict != models.VerdictVerdict.FIT
    assert msgspec.json.decode(msgspec.json.encode(newer)) == VERDICT | {"verdict": "almost", "next_step": "paint"}


def test_a_list_shares_the_words_of_its_items(models: Any) -> None:
    assert models.Verdict.__annotations__["possible_verdicts"] == "list[VerdictVerdict]"


def test_a_word_that_is_only_sent_is_a_literal(models: Any) -> None:
    assert models.Colour.__args__ == ("red", "blue")
    assert models.Question.__annotations__["colours"] == "list[Colour]"


def test_a_word_that_goes_both_ways_is_a_literal_to_send_and_an_enum_to_read(models: Any) -> None:
    assert models.Question.__annotations__["state"] == "StateLiteral | None"
    assert models.Verdict.__annotations__["state"] == "State"
    assert models.StateLiteral.__args__ == ("good", "bad")
    assert [*models.State] == ["good", "bad"]


def test_different_words_under_one_name_are_distinguished_by_their_owner(models: Any) -> None:
    assert models.QuestionPattern.__args__ == ("plain", "checked")
    assert models.PartPattern.__args__ == ("oak", "pine")


def test_a_field_called_like_a_word_of_python_keeps_its_name_on_the_wire(models: Any) -> None:
    sent = msgspec.json.encode(models.Odd(class_="a", field="b", import_="c"))
    assert msgspec.json.decode(sent) == {"class": "a", "field": "b", "import": "c"}
    assert msgspec.json.encode(models.Odd(class_="a", field="b")) == b'{"class":"a","field":"b"}'


def test_a_newer_service_may_add_fields_and_change_a_constant(models: Any) -> None:
    newer = msgspec.convert(VERDICT | {"unit": "inch", "colour": "red"}, models.Verdict)
    assert newer.unit == "inch"


def test_answers_cannot_be_changed_and_questions_can(models: Any) -> None:
    question, answer = models.Question(name="x"), msgspec.convert(VERDICT, models.Verdict)
    question.name = "y"
    with pytest.raises(AttributeError):
        answer.unit = "inch"


def test_prose_becomes_docstrings(models: Any, client_docs: dict[str, str]) -> None:
    assert models.Question.__doc__ == "What is asked."
    source = Path(models.__file__).read_text(encoding="utf-8")
    assert '    """Its width, mm."""' in source
    doc = client_docs["Mendgauge.judge_bench"]
    assert doc.splitlines()[0] == 'Is "this bench" fit? Say "yes"'
    assert 'A path such as C:\\new, and """three quotes""".\n\nA second paragraph.\n\nArgs:\n' in doc
    assert doc == client_docs["AsyncMendgauge.judge_bench"]


def test_a_method_says_what_it_takes_gives_and_raises(client: str) -> None:
    for line in (
        "def judge_bench(",
        "question: Question,",
        "timeout: float | None = None,",
        "request_id: str | None = None,",
        "headers: Mapping[str, str] | None = None,",
        "question: What is asked.",
        "Verdict: The answer.",
        "InvalidRequestError: 422, `/problems/a`: The contract is broken. `/problems/b`: It cannot be.",
        "UnavailableError: 503, Not ready.",
        "NotChangedError: 304, The copy at hand is good.",
        "kind: Which kind.",
        "kind: Literal['old', 'new'] | None = None,".replace("'", '"'),
        "on: date | None = None,",
        "tag: Sequence[int] | None = None,",
        "if_none_match: str | None = None,",
        'path=f"/v1/benches/{segment(bench_id)}",',
        'params={"kind": kind, "on": on, "tag": tag},',
        'headers={"If-None-Match": if_none_match},',
    ):
        assert line in client


def test_a_batch_gets_a_method_for_any_number(client: str, client_docs: dict[str, str]) -> None:
    for line in (
        "def judge_benches_of_each(",
        "cases: Iterable[Question],",
        "cases: Iterable[Question] | AsyncIterable[Question],",
        ") -> Iterator[CaseResult[Verdict]]:",
        ") -> AsyncIterator[CaseResult[Verdict]]:",
        'path="/v1/benches/batch",',
        "answer=Verdict,",
    ):
        assert line in client
    doc = client_docs["Mendgauge.judge_benches_of_each"]
    assert doc.startswith("Which of these benches are fit?\n\nAs `judge_benches_in_batch`, for any number of cases")
    assert doc == client_docs["AsyncMendgauge.judge_benches_of_each"]


def test_the_same_document_gives_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    assert generate(DOCUMENT, tmp_path).returncode == 0
    for name in ("models.py", "client.py"):
        assert (tmp_path / name).read_bytes() == (folder / name).read_bytes()


def without(document: dict[str, Any], *path: str, **put: Any) -> dict[str, Any]:
    changed = copy.deepcopy(document)
    node = changed
    for part in path:
        node = node[part]
    node.update(put)
    return changed


JUDGE = ("paths", "/v1/benches", "post")


@pytest.mark.parametrize(
    ("document", "shown"),
    [
        (without(DOCUMENT, *JUDGE, operationId="judge-bench"), "POST /v1/benches needs an operationId"),
        (without(DOCUMENT, *JUDGE, responses={"204": {"description": "Done."}}), "judge_bench needs application/json"),
        (without(DOCUMENT, *JUDGE, responses={"503": {"description": "No."}}), "judge_bench needs one success"),
        (without(DOCUMENT, *JUDGE, parameters=[{"name": "x", "in": "query", "schema": {}}]), "cannot be of the type"),
        (without(DOCUMENT, *JUDGE, operationId="judge_in_batch"), "judge_in_batch is called a batch, and has not the"),
        (without(DOCUMENT, "components", "schemas", Reply=struct({}, [])), "the schemas Reply are called"),
    ],
)
def test_what_has_no_form_in_the_client_is_reported(document: dict[str, Any], shown: str, tmp_path: Path) -> None:
    done = generate(document, tmp_path)
    assert done.returncode == 1
    assert shown in done.stderr
    assert "Traceback" not in done.stderr
    assert list(tmp_path.glob("*.py")) == []
