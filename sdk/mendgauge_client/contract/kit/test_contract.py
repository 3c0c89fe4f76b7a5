"""The checks of the contract as tests; see `mendgauge_client.contract.kit`."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from mendgauge_client.contract.kit.check import Check
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.suite import all_checks, outcome
from mendgauge_client.errors import SettingsError


@pytest.fixture(scope="module")
def deployment(request: pytest.FixtureRequest) -> Iterator[Deployment]:
    """Yield the deployment that the options name."""
    options = request.config
    try:
        deployment = Deployment(options.getoption("mendgauge_url"), burst=options.getoption("mendgauge_burst"))
    except SettingsError as error:
        raise pytest.UsageError(f"{error} (here: --mendgauge-url)") from error
    except ValueError as error:  # of `getoption`: there is no such option
        raise pytest.UsageError("load the options with -p mendgauge_client.contract.kit.plugin") from error
    with deployment:
        yield deployment


@pytest.mark.parametrize("check", [pytest.param(check, id=f"{check.group}: {check.name}") for check in all_checks()])
def test_the_deployment_keeps_the_contract(check: Check, deployment: Deployment) -> None:
    """Fail with the faults found; skip where the promise does not apply to this deployment."""
    made = outcome(check, deployment)
    if made.result == "not tried":
        pytest.skip(made.says)
    if made.result == "failed":
        pytest.fail(made.says, pytrace=False)
