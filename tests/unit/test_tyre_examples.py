"""The examples in the docstrings of the tyre's modules hold."""

from __future__ import annotations

import doctest
from importlib import import_module

import pytest


@pytest.mark.parametrize("name", ["marking", "speed", "load", "dimensions", "date_code"])
def test_examples_in_docstrings(name: str) -> None:
    result = doctest.testmod(import_module(f"mendgauge.tyre.{name}"))
    assert result.attempted > 0
    assert result.failed == 0
