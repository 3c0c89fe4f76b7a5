"""The examples in the docstrings of the service hold, and every rule has one and names where its limit comes from."""

from __future__ import annotations

import doctest
from importlib import import_module
from pathlib import Path
from typing import get_args

import pytest

import mendgauge
from mendgauge.rulebooks import list_editions
from mendgauge.rulebooks.provision import Provision
from mendgauge.rulebooks.schema.book import Edition
from mendgauge.rules.engine import RuleDefinition
from mendgauge.tyre.tyre_class import TyreClass

SERVICE = Path(mendgauge.__file__).parent
WITH_EXAMPLES = sorted(
    ".".join(("mendgauge", *path.relative_to(SERVICE).with_suffix("").parts)).removesuffix(".__init__")
    for path in SERVICE.rglob("*.py")
    if ">>> " in path.read_text("utf-8")
)
RULES = sorted(
    f"mendgauge.rules.{room}.{path.stem}"
    for room in ("repair", "position")
    for path in (SERVICE / "rules" / room).glob("*.py")
    if path.stem != "__init__"
)


@pytest.mark.parametrize("name", WITH_EXAMPLES)
def test_the_examples_in_docstrings_hold(name: str) -> None:
    tried = doctest.testmod(import_module(name))
    assert tried.attempted > 0
    assert tried.failed == 0


@pytest.mark.parametrize("name", [*RULES, "mendgauge.rules.house"])
def test_every_rule_has_an_example(name: str) -> None:
    assert name in WITH_EXAMPLES


@pytest.mark.parametrize("name", RULES)
def test_every_rule_names_where_its_limit_comes_from(name: str) -> None:
    module = import_module(name)
    definitions = [
        one
        for value in vars(module).values()
        for one in (value if isinstance(value, tuple) else (value,))
        if isinstance(one, RuleDefinition)
    ]
    assert definitions
    documents = {
        document(edition, entry)
        for edition in list_editions()
        for of in get_args(TyreClass)
        for one in definitions
        for entry in one.provisions(edition, of)
    }
    says = " ".join((module.__doc__ or "").split()).lower()
    assert any(named.lower() in says for named in documents), documents


def document(edition: Edition, entry: Provision) -> str:
    """What a provision's source is called, without where it was read."""
    file = (
        edition.workshop if edition.source(entry) == str(edition.workshop.sources.get(entry.source)) else edition.book
    )
    return file.sources[entry.source].document
