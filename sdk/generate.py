"""Make `mendgauge_client/models.py` and `mendgauge_client/client.py` from the OpenAPI document.

    python sdk/generate.py [--document openapi/openapi.json] [--into sdk/mendgauge_client]

The same document gives the same bytes. What is made is committed, and a test makes it again and compares.
"""

from __future__ import annotations

import argparse
import ast
import json
import subprocess
import sys
import tomllib
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import jinja2

from generation.docstrings import each_docstring, method_docstring
from generation.operations import UnsupportedError, read_operations
from generation.schemas import Prepared, prepare

HERE = Path(__file__).resolve().parent
TEMPLATES = HERE / "templates"
PACKAGE = "mendgauge_client"
LITERAL = "Literal"
"""How the name ends of an enum's words as literals: `ShapeLiteral` beside `Shape`."""
HEADER = '"""{} Made by sdk/generate.py from openapi/openapi.json: change those, not this."""'
MODEL_OPTIONS = [
    "--input-file-type=openapi",
    "--output-model-type=msgspec.Struct",
    "--target-python-version=3.11",
    "--use-specialized-enum",
    "--capitalise-enum-members",
    "--deserialize-default-values=enum",
    "--output-datetime-class=datetime",
    "--output-date-class=date",
    "--use-type-alias",
    "--use-default",
    "--use-schema-description",
    "--use-field-description",
    "--keyword-only",
    "--disable-timestamp",
    "--no-formatters",
    f"--additional-imports={PACKAGE}._base.OpenWord",
    f"--custom-template-dir={TEMPLATES / 'models'}",
]


def main(arguments: list[str] | None = None) -> None:
    options = argparse.ArgumentParser(description="Make the Python client from the OpenAPI document.")
    options.add_argument("--document", type=Path, default=HERE.parent / "openapi" / "openapi.json")
    options.add_argument("--into", type=Path, default=HERE / PACKAGE)
    chosen = options.parse_args(arguments)
    document = json.loads(chosen.document.read_bytes())
    try:
        made = {"client.py": client(document), "models.py": models(document)}
    except UnsupportedError as error:
        sys.exit(f"the client cannot be made from {chosen.document}: {error}")
    write(made, chosen.into)


def write(made: dict[str, str], folder: Path) -> None:
    """Write texts to files of a folder, each under its name."""
    for name, text in made.items():
        target = folder / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, encoding="utf-8", newline="\n")


def models(document: dict[str, Any]) -> str:
    """Return the models module of a document."""
    made = _run_model_generator(prepare(document, word_names()))
    body = ast.parse(made).body
    names = {node.name for node in body if isinstance(node, ast.ClassDef)}
    names |= {ast.unparse(node.target) for node in body if isinstance(node, ast.AnnAssign)}
    if taken := names & names_taken():
        raise UnsupportedError(f"it has itself what the schemas {', '.join(sorted(taken))} are called; rename them")
    return formatted(f"{_taking_enums(made, names)}\n__all__ = {sorted(names)}\n")


def _taking_enums(made: str, names: set[str]) -> str:
    """Let a type checker take an enum wherever its words are taken as literals.

    To msgspec they stay literals: it decodes no union of two kinds of string.
    """
    lines = made.splitlines()
    body = ast.parse(made).body
    for node in reversed(body):
        if isinstance(node, ast.AnnAssign) and (enum := ast.unparse(node.target).removesuffix(LITERAL)) in names:
            given = ast.unparse(node)
            if given.startswith(enum + LITERAL):
                both = ["if TYPE_CHECKING:", f"    {given} | {enum}", "else:", f"    {given}"]
                lines[node.lineno - 1 : node.end_lineno] = both
    future = "from __future__ import annotations\n"
    return "\n".join(lines).replace(future, f"{future}from typing import TYPE_CHECKING\n", 1)


def _run_model_generator(prepared: Prepared) -> str:
    bases = {
        **dict.fromkeys(sorted(prepared.sent), f"{PACKAGE}._base.RequestStruct"),
        **dict.fromkeys(sorted(prepared.received), f"{PACKAGE}._base.AnswerStruct"),
    }
    document = {
        "openapi": "3.1.0",
        "info": {"title": "", "version": ""},
        "paths": {},
        "components": {"schemas": prepared.schemas},
    }
    with TemporaryDirectory() as folder:
        source, target = Path(folder, "document.json"), Path(folder, "models.py")
        source.write_text(json.dumps(document), encoding="utf-8")
        _run(
            "datamodel_code_generator",
            *MODEL_OPTIONS,
            f"--custom-file-header={HEADER.format('What is sent and what comes back.')}",
            f"--base-class-map={json.dumps(bases)}",
            f"--enum-field-as-literal-map={json.dumps(dict.fromkeys(sorted(prepared.literals), 'literal'))}",
            f"--input={source}",
            f"--output={target}",
        )
        return target.read_text(encoding="utf-8")


def client(document: dict[str, Any]) -> str:
    """Return the client module of a document."""
    operations = read_operations(document, errors_of_statuses())
    named = {operation.answer for operation in operations if not operation.forms}
    named |= {argument.type for operation in operations for argument in operation.placed("body")}
    named |= {model for operation in operations if operation.batch for model in operation.batch[1:3]}
    named |= {"Detail"} if any(operation.detailed for operation in operations) else set()
    templates = jinja2.Environment(
        loader=jinja2.FileSystemLoader(TEMPLATES),
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        autoescape=False,
    )
    templates.filters["method_docstring"] = method_docstring
    templates.filters["each_docstring"] = each_docstring
    made = templates.get_template("client.py.jinja2").render(
        header=HEADER.format("The clients, sync and async."), operations=operations, models=sorted(named)
    )
    return formatted(made)


def word_names() -> dict[str, str]:
    """Return the names given to words that the document lists in place."""
    return tomllib.loads((HERE / "generation" / "word_names.toml").read_text("utf-8"))


def names_taken() -> set[str]:
    """Return every class of the client beside its models, which none of these may be called like."""
    others = [path for path in (HERE / PACKAGE).glob("*.py") if path.name != "models.py"]
    bodies = [ast.parse(path.read_text("utf-8")).body for path in others]
    return {node.name for body in bodies for node in body if isinstance(node, ast.ClassDef)}


def errors_of_statuses() -> dict[int, str]:
    """Return the names of the error classes by status, read from the source of the errors module.

    It cannot be imported here: the package it belongs to needs the modules that are about to be made.
    """
    for node in ast.parse((HERE / PACKAGE / "errors.py").read_text("utf-8")).body:
        if isinstance(node, ast.AnnAssign) and ast.unparse(node.target) == "CLASS_OF_STATUS":
            assert isinstance(node.value, ast.Dict)
            pairs = zip(node.value.keys, node.value.values, strict=True)
            return {int(ast.unparse(status)): ast.unparse(error) for status, error in pairs if status}
    raise LookupError("the errors module has no CLASS_OF_STATUS")


def formatted(source: str) -> str:
    """Python source as ruff leaves it, whatever settings lie about."""
    settings = ["--isolated", "--config=line-length=120", "--config=target-version='py311'", "-"]
    sorting = ["--fix", "--quiet", "--select=F401,I", f"--config=lint.isort.known-first-party=['{PACKAGE}']"]
    return _run("ruff", "format", *settings, given=_run("ruff", "check", *sorting, *settings, given=source))


def _run(module: str, *arguments: str, given: str | None = None) -> str:
    done = subprocess.run(
        [sys.executable, "-m", module, *arguments], input=given, capture_output=True, text=True, check=False
    )
    if done.returncode:
        sys.exit(f"{module} failed:\n{done.stderr}")
    return done.stdout


if __name__ == "__main__":
    main()
