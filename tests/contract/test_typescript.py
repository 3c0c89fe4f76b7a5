"""A client in another language: TypeScript types made from the document, and a program that compiles against them."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest
from tests.contract.live import served
from tests.contract.node_tools import OPENAPI, installed, run

from mendgauge.api.docs.operation_pages import operation_pages
from mendgauge.api.docs.samples import HERE
from mendgauge.server import create_app, document

pytestmark = pytest.mark.generators

PROGRAM = OPENAPI / "typescript"
SAMPLES: dict[str, str] = {
    page.path.rpartition("/")[2]: page.content()["samples"]["TypeScript"]
    for page in operation_pages(json.loads(document()))
}
"""What the page of each operation shows."""

WRONG = [
    ('kind: "car"', 'kind: "boat"', "Type '\"boat\"' is not assignable to type"),
    ("tread_depth_mm: 5", 'tread_depth_mm: "5"', "Type 'string' is not assignable to type"),
    ("tread_depth_mm: 5", "tread_depth: 5", "'tread_depth' does not exist in type"),
    ('rulebook: "gb",', "", "Property 'rulebook' is missing in type"),
    ("answer.verdict", "answer.judgement", "Property 'judgement' does not exist on type"),
]
"""What the sample program says, what a wrong one says instead, and what the compiler says to that."""


class Compiled(NamedTuple):
    """The folder of the compiled program, and what the compiler printed about each file."""

    folder: Path
    printed: dict[str, str]


@pytest.fixture(scope="module")
def compiled(tmp_path_factory: pytest.TempPathFactory) -> Compiled:
    """Compile the sample program, the wrong ones and the pages' samples together: the compiler is slow to start."""
    folder = tmp_path_factory.mktemp("typescript")
    shutil.copytree(PROGRAM, folder, dirs_exist_ok=True)
    (folder / "package.json").write_text('{"type": "module"}', encoding="ascii")
    installed()
    run("node", "typescript/types.mjs", folder / "mendgauge.ts", cwd=OPENAPI)
    source = (folder / "ask.ts").read_text("utf-8")
    for number, (right, wrong, _) in enumerate(WRONG):
        assert right in source
        (folder / f"wrong{number}.ts").write_text(source.replace(right, wrong), encoding="utf-8")
    for operation, sample in SAMPLES.items():
        (folder / f"{operation}.ts").write_text(sample, encoding="utf-8")
    settings = json.loads((folder / "tsconfig.json").read_bytes())
    settings["files"] += [*(f"wrong{number}.ts" for number in range(len(WRONG))), *(f"{name}.ts" for name in SAMPLES)]
    (folder / "tsconfig.json").write_text(json.dumps(settings), encoding="ascii")
    output = run(installed() / "tsc", "--project", folder, cwd=folder, codes=(0, 2))
    by_file: dict[str, str] = {}
    for line in output.splitlines():
        if found := re.match(r"(\w+)\.ts\(", line):
            by_file[found[1]] = by_file.get(found[1], "") + line
    return Compiled(folder, by_file)


@pytest.fixture(scope="module")
def service() -> Iterator[str]:
    with served(create_app()) as address:
        yield address


def asked(compiled: Compiled, service: str, change: str) -> str:
    """Return what the sample program prints of its example, so changed."""
    program = (
        'import { checkRepairability, example, inWords } from "./ask.js";'
        f"const tyreCase = {{ ...example, {change} }};"
        f'checkRepairability("{service}", tyreCase).then(inWords).catch((error) => error.message).then(console.log);'
    )
    return run("node", "--input-type=module", "--eval", program, cwd=compiled.folder)


def test_the_program_compiles_and_is_answered(compiled: Compiled, service: str) -> None:
    assert "ask" not in compiled.printed
    verdict, *doubts = asked(compiled, service, "").splitlines()
    assert verdict == "inspect: ask_first"
    assert "Was a string or plug put into this hole from outside?" in doubts


def test_open_words_are_completed_and_stay_text(compiled: Compiled) -> None:
    types = (compiled.folder / "mendgauge.ts").read_text("utf-8")
    next_steps = re.findall(r"\bnext_step: (.+);", types)
    assert next_steps
    for words in next_steps:
        assert {'"ask_first"', '"replace"', "(string & {})"} <= set(words.split(" | "))


def test_the_program_shows_a_refusal(compiled: Compiled, service: str) -> None:
    title, fault = asked(compiled, service, 'tyre: { marking: "205/55R61" }').splitlines()
    assert title == "The request cannot be answered as it is"
    assert fault.startswith("/tyre/marking: ")


@pytest.mark.parametrize(("number", "message"), [(number, message) for number, (_, _, message) in enumerate(WRONG)])
def test_a_wrong_program_does_not_compile(compiled: Compiled, number: int, message: str) -> None:
    assert message in compiled.printed[f"wrong{number}"]


@pytest.mark.parametrize("operation", SAMPLES)
def test_a_sample_of_a_page_compiles_and_is_answered(operation: str, compiled: Compiled, service: str) -> None:
    assert operation not in compiled.printed
    program = (compiled.folder / f"{operation}.js").read_text("utf-8").replace(HERE, service)
    assert run("node", "--input-type=module", "--eval", program, cwd=compiled.folder)
