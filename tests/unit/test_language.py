"""Names and texts say what a person of the field would: neither `told` nor what was heard in no shop."""

from __future__ import annotations

import ast
import io
import re
import subprocess
import tokenize
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGES = ("service/mendgauge", "sdk/mendgauge_client", "sdk/generation")
TOLD = re.compile(r"(?:^|[^a-z])(?:told|tells|telling)(?:$|[^a-z])", re.IGNORECASE)
HEARD_IN_NO_SHOP = (
    "which at most its maker's word lets be repaired",
    "the case cannot be as told",
    "for the injury as it was told",
    "nothing was told of a replacement",
    "tell the speed of the tyres",
    "by the word of the tyre's maker",
    "no word of this rulebook was found",
    "is no retread",
    "this is none",
    "do not pass 80 km/h",
    "repaired apart",
    "cords tired",
    "a parting tread",
    "it does, but…",
    "look twice",
    "as far as he confirms",
    "does it come loose?",
)
NOT_WRITTEN_HERE = re.compile(
    r"\.lock$|package-lock|tests/texts\.py$|tests/unit/test_language\.py$"
    r"|rulebooks/[a-z]+-2026\.1\.toml$|openapi/released/"
)
"""The lists of these phrases, and what is released and stays as it is."""


def tracked(*under: str) -> list[Path]:
    listed = subprocess.run(["git", "ls-files", "-z", "--", *under], cwd=ROOT, capture_output=True, check=True)
    names = [name for name in listed.stdout.decode().split("\0") if name and not NOT_WRITTEN_HERE.search(name)]
    return [ROOT / name for name in names if (ROOT / name).is_file()]


MODULES = [path for path in tracked(*PACKAGES) if path.suffix == ".py"]


def named_or_described(source: str) -> list[str]:
    """Every identifier and docstring of a module."""
    tokens = tokenize.generate_tokens(io.StringIO(source).readline)
    names = [token.string for token in tokens if token.type == tokenize.NAME]
    nodes = ast.walk(ast.parse(source))
    holders = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)
    docstrings = [ast.get_docstring(node) or "" for node in nodes if isinstance(node, holders)]
    return names + docstrings


def test_there_are_modules_and_files_to_look_at() -> None:
    assert len(MODULES) > 150
    assert named_or_described('def told() -> None:\n    """Tells."""\n') == ["def", "told", "None", "", "Tells."]


@pytest.mark.parametrize("name", ["told", "as_told", "_NOT_TOLD", "What a finding tells of.", "most telling first"])
def test_the_word_is_found(name: str) -> None:
    assert TOLD.search(name)


@pytest.mark.parametrize("path", MODULES, ids=lambda path: str(path.relative_to(ROOT)))
def test_no_name_and_no_docstring_says_told(path: Path) -> None:
    assert [text for text in named_or_described(path.read_text("utf-8")) if TOLD.search(text)] == []


def test_what_is_heard_in_no_shop_stands_in_no_file() -> None:
    found = []
    for path in tracked():
        try:
            text = " ".join(path.read_text("utf-8").lower().split())
        except UnicodeDecodeError:
            continue
        found += [f"{path.relative_to(ROOT)}: {phrase}" for phrase in HEARD_IN_NO_SHOP if phrase in text]
    assert found == []
