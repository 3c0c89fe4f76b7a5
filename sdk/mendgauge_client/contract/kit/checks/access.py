"""Keys and limits, where the deployment has them."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor

from mendgauge_client._retry import retry_after
from mendgauge_client.contract.kit.check import BrokenError, Check, NotTriedError
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.problem_shape import problem_in

GROUP = "access"
AT_ONCE = 16
WRONG_KEY = "contract-kit-wrong-key"


def checks() -> Iterator[Check]:
    """Yield the checks of this group. The one of limits comes last: it may use up what the caller is allowed."""
    yield Check(GROUP, "401 without a key, with WWW-Authenticate", _no_key)
    yield Check(GROUP, "401 with another key, with WWW-Authenticate", _wrong_key)
    yield Check(GROUP, "no key is needed to see whether the service is ready", _health_is_open)
    yield Check(GROUP, "429 with Retry-After to too many requests", _too_many)


def _no_key(deployment: Deployment) -> None:
    _refused(deployment, None)


def _wrong_key(deployment: Deployment) -> None:
    _refused(deployment, WRONG_KEY)


def _refused(deployment: Deployment, key: str | None) -> None:
    response = deployment.ask("GET", "/v1/rulebooks", key=key)
    if response.status_code == 200 and deployment.api_key is None:
        raise NotTriedError("this deployment asks for no key")
    problem_in(response, 401, "key-refused")
    if not response.headers.get("WWW-Authenticate", "").startswith("Bearer"):
        sent = response.headers.get("WWW-Authenticate")
        raise BrokenError(f"the WWW-Authenticate header must ask for Bearer (RFC 6750), and is {sent!r}")


def _health_is_open(deployment: Deployment) -> None:
    for path in ("/health/live", "/health/ready"):
        response = deployment.ask("GET", path, key=None)
        if response.status_code != 200:
            raise BrokenError(f"GET {path}: expected status 200, got {response.status_code}")


def _too_many(deployment: Deployment) -> str:
    if deployment.turned_away is None and not deployment.burst:
        raise NotTriedError("the deployment turned nobody away; --burst N sends N requests at once to see it do so")
    if deployment.turned_away is None:
        _burst(deployment)
    response = deployment.turned_away
    if response is None:
        raise NotTriedError(f"{deployment.burst} requests at once were all answered")
    problem_in(response, 429, "too-many-requests")
    sent = response.headers.get("Retry-After")
    if retry_after(sent) is None:
        raise BrokenError(f"the Retry-After header must be seconds or a date (RFC 9110, 10.2.3), and is {sent!r}")
    return f"Retry-After: {sent}"


def _burst(deployment: Deployment) -> None:
    def send(_: int) -> None:
        deployment.ask("GET", "/v1/tyre-markings?marking=205/55R16", patient=False)

    with ThreadPoolExecutor(AT_ONCE) as pool:
        list(pool.map(send, range(deployment.burst)))
