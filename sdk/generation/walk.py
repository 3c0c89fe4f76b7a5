"""Ways through the schemas of a document."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, TypeAlias

Schema: TypeAlias = dict[str, Any]

REF = "#/components/schemas/"
BRANCHES = ("anyOf", "oneOf", "allOf")


def within(schema: Schema) -> Iterator[Schema]:
    """Yield a schema and every schema inside it; a property called `pattern` is not taken for one."""
    yield schema
    for part in _parts(schema):
        yield from within(part)


def _parts(schema: Schema) -> Iterator[Schema]:
    yield from schema.get("properties", {}).values()
    for branches in BRANCHES:
        yield from schema.get(branches, [])
    for inner in ("items", "additionalProperties"):
        if isinstance(schema.get(inner), dict):
            yield schema[inner]


def refs(node: Any) -> Iterator[str]:
    """Yield the names of the schemas that any part of a document refers to."""
    if isinstance(node, dict):
        ref = node.get("$ref")
        if isinstance(ref, str) and ref.startswith(REF):
            yield ref.removeprefix(REF)
        for part in node.values():
            yield from refs(part)
    elif isinstance(node, list):
        for part in node:
            yield from refs(part)


def reached(schemas: dict[str, Schema], root: Any) -> set[str]:
    """Return the names of the schemas that a part of a document refers to, however many steps away."""
    found: set[str] = set()
    waiting = list(refs(root))
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting.extend(refs(schemas[name]))
    return found
