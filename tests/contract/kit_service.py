"""A service whose proxy can be made to break the contract, and the contract kit's checks of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from typing import Any

from tests.contract.faulty import Fault, Faulty
from tests.contract.live import served

from mendgauge.server import create_app
from mendgauge.settings import Settings
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.suite import Outcome, all_checks, outcome

KEY = "a-key-of-the-depot"
CHECKS = {f"{check.group}: {check.name}": check for check in all_checks()}


class Service:
    """A service behind its proxy."""

    def __init__(self, proxy: Faulty, address: str) -> None:
        self.proxy, self.address = proxy, address

    def outcome(self, name: str, fault: Fault | None = None, **options: Any) -> Outcome:
        """What comes of one check while the proxy has a fault."""
        self.proxy.fault = fault
        try:
            with Deployment(self.address, **options) as deployment:
                return outcome(CHECKS[name], deployment)
        finally:
            self.proxy.fault = None


@contextmanager
def service_behind_proxy(*keys: str) -> Iterator[Service]:
    """A service, which asks for one of these keys if there are any."""
    stored = tuple(f"depot:{sha256(key.encode()).hexdigest()}" for key in keys)
    proxy = Faulty(create_app(Settings(api_keys=stored)))
    with served(proxy) as address:
        yield Service(proxy, address)
