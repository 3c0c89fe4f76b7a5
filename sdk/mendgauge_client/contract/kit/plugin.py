"""The options of the contract kit under pytest, added by `-p mendgauge_client.contract.kit.plugin`.

The package names no `pytest11` entry point: whoever merely installs the client keeps the options of their own tests.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from mendgauge_client._settings import KEY_VARIABLE, URL_VARIABLE

if TYPE_CHECKING:
    import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options."""
    group = parser.getgroup("mendgauge contract")
    group.addoption("--mendgauge-url", help=f"the address of the deployment; from {URL_VARIABLE} when left out")
    group.addoption(
        "--mendgauge-burst",
        type=int,
        default=0,
        metavar="N",
        help=f"send N requests at once to see that callers are limited; the key is read from {KEY_VARIABLE}",
    )
