"""Names that a JSON object gives twice: readers keep one of the values, and the other may be what forbids a repair."""

from __future__ import annotations

import json
from typing import Any


class GivenTwiceError(ValueError):
    """A name is given twice in one object."""


def refuse_names_given_twice(text: bytes | str) -> None:
    """Refuse a JSON text with a name twice in one object, at any depth.

    Raises:
        GivenTwiceError: It has one; the message says which.
    """
    json.loads(text, object_pairs_hook=_each_once)


def _each_once(pairs: list[tuple[str, Any]]) -> None:
    names: set[str] = set()
    for name, _ in pairs:
        if name in names:
            raise GivenTwiceError(f"`{name[:40]}` is given twice in one object; give it once")
        names.add(name)
