"""JSON Schemas of the types that bodies are decoded to and answers encoded from, as msgspec sees them, made tidy."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import msgspec

from mendgauge.api.flaws import public_pattern

REF = "#/components/schemas/{name}"


def ref(model: type) -> dict[str, str]:
    """Return a reference to a type's schema."""
    return {"$ref": REF.format(name=model.__name__)}


def schemas(models: Iterable[type]) -> dict[str, Any]:
    """Return the schemas of these types and of all that they are made of, by name."""
    _, found = msgspec.json.schema_components(models, ref_template=REF)
    return {name: _tidy(schema) for name, schema in sorted(found.items())}


def schema(kind: Any) -> dict[str, Any]:
    """Return the schema of a single value."""
    tidy: dict[str, Any] = _tidy(msgspec.json.schema(kind))
    return tidy


def _tidy(schema: Any) -> Any:
    """Return a schema as its readers and generators like it, saying the same."""
    if isinstance(schema, list):
        return [_tidy(part) for part in schema]
    if not isinstance(schema, dict):
        return schema
    tidy = {key: value if key in ("default", "examples") else _tidy(value) for key, value in schema.items()}
    if "properties" in tidy:
        tidy["properties"] = {name: _tidy(part) for name, part in schema["properties"].items()}
    if tidy.get("required") == []:
        del tidy["required"]
    if isinstance(tidy.get("title"), str):  # the component's name again
        del tidy["title"]
    if tidy.get("default", "") is None:  # left out and null are one: not known
        del tidy["default"]
    if isinstance(pattern := tidy.get("pattern"), str):
        tidy["pattern"] = public_pattern(pattern)
    if words := tidy.get("enum"):
        tidy |= {"type": "string"} if all(isinstance(word, str) for word in words) else {}
        if len(words) == 1:
            tidy["const"] = tidy.pop("enum")[0]
    if "anyOf" in tidy:
        tidy = _about_the_whole(tidy)
    if "discriminator" in tidy:
        tidy["oneOf"] = tidy.pop("anyOf")
    return tidy


def _about_the_whole(union: dict[str, Any]) -> dict[str, Any]:
    """Lift what one branch says of the field to the field: the other branches are the same, given otherwise."""
    described = [branch for branch in union["anyOf"] if "description" in branch]
    if "description" in union or len(described) != 1:
        return union
    lifted = {key: described[0].pop(key) for key in ("description", "examples") if key in described[0]}
    return lifted | union
