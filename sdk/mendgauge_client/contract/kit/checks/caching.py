"""Rulebooks never change once released, so a copy may be kept and asked about by its ETag."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from mendgauge_client.contract.kit.check import BrokenError, Check
from mendgauge_client.contract.kit.deployment import Deployment

GROUP = "caching"
PATHS = ("/v1/rulebooks", "/v1/rulebooks/gb")


def checks() -> Iterator[Check]:
    """Yield the checks of this group."""
    for path in PATHS:
        yield Check(GROUP, f"GET {path}: 304 to a copy that is good", partial(_not_changed, path))
        yield Check(GROUP, f"HEAD {path}: as GET, without the body", partial(_head, path))


def _not_changed(path: str, deployment: Deployment) -> None:
    whole = deployment.ask("GET", path)
    etag = whole.headers.get("ETag")
    if not etag:
        raise BrokenError("the answer has no ETag")
    again = deployment.ask("GET", path, headers={"If-None-Match": etag})
    if again.status_code != 304 or again.content:
        raise BrokenError(f"asked with If-None-Match: {etag}, expected 304 without a body, got {again.status_code}")
    other = deployment.ask("GET", path, headers={"If-None-Match": '"another"'})
    if other.status_code != 200 or other.content != whole.content:
        raise BrokenError(f"asked with another ETag, expected the same content again, got {other.status_code}")


def _head(path: str, deployment: Deployment) -> None:
    got, head = deployment.ask("GET", path), deployment.ask("HEAD", path)
    if head.status_code != got.status_code or head.content:
        raise BrokenError(f"expected {got.status_code} without a body, got {head.status_code}")
    for name in ("Content-Type", "ETag"):
        if head.headers.get(name) != got.headers.get(name):
            raise BrokenError(f"{name}: GET sends {got.headers.get(name)!r}, HEAD {head.headers.get(name)!r}")
