"""The contract kit on the command line; see `python -m mendgauge_client.contract.kit --help`."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import httpx2

from mendgauge_client._settings import KEY_VARIABLE, URL_VARIABLE
from mendgauge_client._version import __version__
from mendgauge_client.contract.kit.deployment import Deployment
from mendgauge_client.contract.kit.report import junit, summary, table
from mendgauge_client.contract.kit.suite import all_checks, outcome
from mendgauge_client.errors import SettingsError

KEPT, BROKEN, NOT_RUN = 0, 1, 2


def main(arguments: list[str] | None = None) -> int:
    """Check a deployment; returns the exit code."""
    chosen = _options().parse_args(arguments)
    try:
        deployment = Deployment(chosen.url, api_key=chosen.api_key, timeout=chosen.timeout, burst=chosen.burst)
    except SettingsError as error:
        sys.stderr.write(f"{error}\n")
        return NOT_RUN
    with deployment:
        if trouble := _out_of_reach(deployment):
            sys.stderr.write(f"{trouble}\n")
            return NOT_RUN
        sys.stdout.write(f"{deployment.base_url}, held against the contract of mendgauge-client {__version__}\n")
        outcomes = [outcome(check, deployment) for check in all_checks() if chosen.only in (None, check.group)]
    sys.stdout.write(f"{table(outcomes)}\n{summary(outcomes)}")
    if chosen.junit:
        try:
            chosen.junit.write_bytes(junit(outcomes, deployment.base_url))
        except OSError as error:
            sys.stderr.write(f"the JUnit file cannot be written to {chosen.junit}: {error.strerror}\n")
            return NOT_RUN
    return BROKEN if any(made.result == "failed" for made in outcomes) else KEPT


def _options() -> argparse.ArgumentParser:
    options = argparse.ArgumentParser(
        prog="python -m mendgauge_client.contract.kit",
        description="Check that a deployment of the service keeps the contract this client was made for.",
        epilog="Exit code 0: it does; 1: it does not; 2: it could not be checked.",
    )
    options.add_argument("url", nargs="?", help=f"its address; from {URL_VARIABLE} when left out")
    options.add_argument("--api-key", help=f"a key it takes; better given in {KEY_VARIABLE}, which no one else sees")
    options.add_argument("--timeout", type=float, default=30.0, help="seconds each request may take (30)")
    options.add_argument(
        "--burst", type=int, default=0, metavar="N", help="send N requests at once to see that callers are limited"
    )
    options.add_argument("--only", metavar="GROUP", choices=_groups(), help=f"check one of {', '.join(_groups())}")
    options.add_argument("--junit", type=Path, metavar="FILE", help="write the outcome as JUnit XML too")
    return options


def _groups() -> list[str]:
    return list(dict.fromkeys(check.group for check in all_checks()))


def _out_of_reach(deployment: Deployment) -> str:
    """Return why there is no use in checking; empty when there is."""
    try:
        deployment.ask("GET", "/health/live")
        turned_down = deployment.ask("GET", "/v1/rulebooks").status_code == 401
    except httpx2.RequestError as error:
        return f"{deployment.base_url} was not reached: {str(error) or type(error).__name__}"
    if not turned_down:
        return ""
    if deployment.api_key is None:
        return f"{deployment.base_url} asks for an API key: give one as --api-key or in {KEY_VARIABLE}"
    return f"{deployment.base_url} does not take the API key given"


if __name__ == "__main__":
    sys.exit(main())
