from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from litestar.testing import TestClient

from mendgauge.server import create_app


@pytest.fixture(scope="session")
def client() -> Iterator[TestClient[Any]]:
    """The whole service in process, started and ready; what fails in it is answered, as in service."""
    with TestClient(create_app(), raise_server_exceptions=False) as client:
        yield client
