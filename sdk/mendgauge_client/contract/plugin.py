"""The options of `pytest --pyargs mendgauge_client.contract`; the package's entry point tells pytest of them."""

from __future__ import annotations

from importlib.metadata import entry_points
from typing import TYPE_CHECKING

from mendgauge_client._transport import KEY_VARIABLE, URL_VARIABLE

if TYPE_CHECKING:
    import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the options."""
    group = parser.getgroup("mendgauge contract")
    if "base_url" not in entry_points(group="pytest11").names:  # a plugin of that name has the same option
        group.addoption("--base-url", help=f"the address of the deployment; from {URL_VARIABLE} when left out")
    group.addoption(
        "--contract-burst",
        type=int,
        default=0,
        metavar="N",
        help=f"send N requests at once to see that callers are limited; the key is read from {KEY_VARIABLE}",
    )
