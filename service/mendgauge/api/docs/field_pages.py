"""A page for each schema of the document: its fields, what each means, and what may stand in it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial
from typing import Any

import msgspec

from mendgauge.api.docs.page import Page, Place

SECTION = "Fields"


class Field(msgspec.Struct, frozen=True):
    """A field as a page shows it.

    Attributes:
        name: Its name.
        about: What it means, in Markdown.
        needed: Whether it must be there.
        form: What may stand in it, in Markdown.
    """

    name: str
    about: str
    needed: bool
    form: str


def field_pages(document: dict[str, Any]) -> Iterator[Page]:
    """Yield the page of every schema: those of requests first, the case before its parts."""
    schemas = document["components"]["schemas"]
    asked = _reached(schemas, ["TyreCase", "CaseBatch"])
    for name in [*asked, *(name for name in schemas if name not in asked)]:
        schema = schemas[name]
        fields = _fields(schema)
        yield Page(
            path=f"/docs/fields/{name}",
            title=name,
            section=SECTION,
            about=schema.get("description", "").partition("\n\n")[0],
            template="fields.html",
            content=partial(_content, document, name),
            words=" ".join(field.name for field in fields),
            places=tuple(Place(field.name, field.name, field.about) for field in fields) if name in asked else (),
        )


def _reached(schemas: Mapping[str, Any], names: list[str]) -> list[str]:
    """Return these schemas and all that they are made of, each once."""
    reached = list(names)
    for name in reached:
        reached += [part for part in dict.fromkeys(_names_in(schemas[name])) if part not in reached]
    return reached


def _names_in(node: Any) -> Iterator[str]:
    """Yield the names of the schemas that a part of the document refers to."""
    if isinstance(node, dict):
        if isinstance(reference := node.get("$ref"), str) and "/schemas/" in reference:
            yield reference.rpartition("/")[2]
        for part in node.values():
            yield from _names_in(part)
    elif isinstance(node, list):
        for part in node:
            yield from _names_in(part)


def _content(document: dict[str, Any], name: str) -> dict[str, Any]:
    schemas = document["components"]["schemas"]
    schema = schemas[name]
    operations = [one for methods in document["paths"].values() for one in methods.values()]
    return {
        "schema": schema,
        "fields": _fields(schema),
        "form": "" if "properties" in schema else form(schema),
        "part_of": [other for other in schemas if other != name and name in _names_in(schemas[other])],
        "taken_by": [one for one in operations if name in _names_in(one.get("requestBody"))],
        "given_by": [one for one in operations if name in _names_in(one["responses"]["200"])],
    }


def _fields(schema: Mapping[str, Any]) -> list[Field]:
    needed = schema.get("required", ())
    return [
        Field(name, described.get("description", ""), name in needed, form(described))
        for name, described in schema.get("properties", {}).items()
    ]


def form(schema: Mapping[str, Any]) -> str:
    """Return what may stand in a place, in Markdown.

    >>> form({"type": "number", "exclusiveMinimum": 0, "maximum": 500})
    'number, over 0, up to 500'
    >>> form({"type": "array", "items": {"$ref": "#/components/schemas/Injury"}, "maxItems": 20})
    'list of [Injury](/docs/fields/Injury), up to 20'
    >>> form({"enum": ["groove", "lug"], "type": "string"})
    'one of `groove`, `lug`'
    """
    kinds = ", ".join([_kind(schema), *_bounds(schema)])
    default = schema.get("default")
    return kinds if default in (None, [], {}) else f"{kinds}; `{msgspec.json.encode(default).decode()}` if left out"


def _kind(schema: Mapping[str, Any]) -> str:
    if reference := schema.get("$ref"):
        name = reference.rpartition("/")[2]
        return f"[{name}](/docs/fields/{name})"
    for several in ("anyOf", "oneOf"):
        if several in schema:
            return " or ".join(form(one) for one in schema[several] if one.get("type") != "null")
    words = schema.get("enum", schema.get("x-extensible-enum"))
    if words:
        return f"one of {', '.join(f'`{word}`' for word in words)}"
    if "const" in schema:
        return f"`{schema['const']}`"
    match schema.get("type"):
        case "array":
            return f"list of {form(schema['items'])}"
        case "object" if isinstance(more := schema.get("additionalProperties"), dict):
            return f"{form(more)} by name"
        case "string":
            return {"date": "day, such as `2026-11-24`"}.get(schema.get("format", ""), "text")
        case "boolean":
            return "`true` or `false`"
        case "integer":
            return "whole number"
        case kind:
            return str(kind or "anything")


def _bounds(schema: Mapping[str, Any]) -> Iterator[str]:
    named = {
        "minimum": "from {:,g}",
        "exclusiveMinimum": "over {:,g}",
        "maximum": "up to {:,g}",
        "exclusiveMaximum": "under {:,g}",
        "maxLength": "up to {:,} characters",
        "maxItems": "up to {:,}",
        "maxProperties": "up to {:,}",
    }
    yield from (words.format(schema[bound]) for bound, words in named.items() if bound in schema)
