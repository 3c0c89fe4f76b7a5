"""A request body as JSON, with every number in it finite."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import msgspec

from mendgauge_client.errors import NotFiniteError


def encode(body: object) -> bytes:
    """Return a body as JSON.

    JSON has no NaN and no infinity, and null in their place would read as *not known*: in a house rule that drops the
    limit.

    Raises:
        NotFiniteError: A number in it is not finite.
    """
    content = msgspec.json.encode(body)
    # A field left at its default is not written, so hardly any body has a null: only those are looked through.
    if b"null" in content:
        for pointer, value in _not_finite("", msgspec.to_builtins(body, builtin_types=(msgspec.Raw,))):
            raise NotFiniteError(pointer, value)
    return content


def _not_finite(pointer: str, value: Any) -> Iterator[tuple[str, float]]:
    if isinstance(value, float) and not math.isfinite(value):
        yield pointer, value
    elif isinstance(value, dict):
        for name, inner in value.items():
            yield from _not_finite(f"{pointer}/{str(name).replace('~', '~0').replace('/', '~1')}", inner)
    elif isinstance(value, (list, tuple)):
        for place, inner in enumerate(value):
            yield from _not_finite(f"{pointer}/{place}", inner)
