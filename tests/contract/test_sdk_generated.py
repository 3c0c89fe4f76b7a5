"""The committed client is the one that the committed document makes, and reads the document's own examples."""

from __future__ import annotations

import inspect
import json
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_type_hints

import msgspec
import pytest

import mendgauge_client
from mendgauge_client import AsyncMendgauge, Mendgauge, models
from mendgauge_client.contract.kit.checks.document import shown_example

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "sdk" / "mendgauge_client"
DOCUMENT: dict[str, Any] = json.loads((ROOT / "openapi" / "openapi.json").read_text("utf-8"))


def operations() -> Iterator[dict[str, Any]]:
    for methods in DOCUMENT["paths"].values():
        yield from methods.values()


def test_the_client_is_made_from_the_document(tmp_path: Path) -> None:
    subprocess.run(
        [sys.executable, str(ROOT / "sdk" / "generate.py"), "--into", str(tmp_path)], check=True, cwd=tmp_path
    )
    made = {path.name: path.read_bytes() for path in tmp_path.iterdir()}
    assert made.keys() == {"client.py", "models.py"}
    for name, content in made.items():
        assert content == (PACKAGE / name).read_bytes(), f"{name} is not what openapi/ makes: run `make sdk`"


def test_every_operation_has_a_method_in_both_clients() -> None:
    named = {operation["operationId"] for operation in operations()}
    for client in (Mendgauge, AsyncMendgauge):
        assert named <= set(dir(client))


def test_every_schema_has_a_model() -> None:
    assert set(DOCUMENT["components"]["schemas"]) <= set(models.__all__)
    assert set(models.__all__) <= set(mendgauge_client.__all__)


def test_the_names_given_to_words_are_all_in_use() -> None:
    names = tomllib.loads((ROOT / "sdk" / "generation" / "word_names.toml").read_text("utf-8"))
    assert set(names.values()) <= set(models.__all__)


def model_of(operation: dict[str, Any], argument: int | None) -> type[msgspec.Struct]:
    """The model that a method takes as that argument, or gives."""
    method = getattr(Mendgauge, operation["operationId"])
    name = "return" if argument is None else list(inspect.signature(method).parameters)[argument]
    model: type[msgspec.Struct] = get_type_hints(method)[name]
    return model


def example_of(body: dict[str, Any]) -> Any:
    return shown_example(DOCUMENT, body)


ASKED = [
    pytest.param(example_of(operation["requestBody"]), model_of(operation, 1), id=operation["operationId"])
    for operation in operations()
    if example_of(operation.get("requestBody", {})) is not None
]
ANSWERED = [
    pytest.param(example_of(operation["responses"]["200"]), model_of(operation, None), id=operation["operationId"])
    for operation in operations()
    if example_of(operation["responses"]["200"]) is not None
]


@pytest.mark.parametrize(("example", "model"), ANSWERED)
def test_the_answers_shown_in_the_document_are_read_whole(example: Any, model: type[msgspec.Struct]) -> None:
    assert msgspec.to_builtins(msgspec.convert(example, model)) == example


@pytest.mark.parametrize(("example", "model"), ASKED)
def test_the_requests_shown_in_the_document_can_be_sent(example: Any, model: type[msgspec.Struct]) -> None:
    sent = msgspec.json.decode(msgspec.json.encode(msgspec.convert(example, model)))
    assert sent == without_defaults(example, sent)


def without_defaults(value: Any, sent: Any) -> Any:
    """A request without what it need not say: null, and false where the client left it out as what holds anyway."""
    if isinstance(value, dict):
        kept = {name: part for name, part in value.items() if part is not None and (part is not False or name in sent)}
        return {name: without_defaults(part, sent.get(name)) for name, part in kept.items()}
    if isinstance(value, list):
        return [without_defaults(part, other) for part, other in zip(value, sent, strict=True)]
    return value


def test_there_are_examples() -> None:
    assert ASKED
    assert ANSWERED


def test_the_client_imports_nothing_of_the_service() -> None:
    program = "import sys, mendgauge_client; print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    loaded = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True).stdout.split()
    assert "mendgauge_client" in loaded
    # The HTTP client waits until it is needed: it would take most of the time that importing takes.
    assert not {"mendgauge", "litestar", "httpx2", "asyncio"} & set(loaded)


def test_a_name_at_the_top_says_by_itself_what_it_is_of() -> None:
    """Words whose type would only be called `To` or `Code` have the name of what they belong to."""
    assert {"Code", "CoversVehicle", "Kind", "Of", "On", "To", "When"}.isdisjoint(mendgauge_client.__all__)
    assert min(map(len, mendgauge_client.__all__)) > 2
