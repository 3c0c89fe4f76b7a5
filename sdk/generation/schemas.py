"""The document's schemas, made ready for the model generator.

The copy is looser than the document, so that an older client goes on working when the service widens a limit or adds a
field, and its words have names: a string enum becomes an open enum where it comes back in an answer, and a literal
type where it is only sent, so that a caller may write plain strings and still have them checked.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator
from typing import Any, NamedTuple, TypeAlias

from generation.docstrings import filled

Schema: TypeAlias = dict[str, Any]

REF = "#/components/schemas/"
VALIDATION = frozenset({
    "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "multipleOf", "minLength", "maxLength", "pattern",
    "minItems", "maxItems", "uniqueItems", "minProperties", "maxProperties", "title", "examples",
})  # fmt: skip
TYPED_FORMATS = frozenset({"date", "date-time"})
BRANCHES = ("anyOf", "oneOf", "allOf")


class Prepared(NamedTuple):
    """What the model generator is given.

    Attributes:
        schemas: The schemas, by name.
        sent: Names of the objects that are sent; they may come back too.
        received: Names of the objects that only come back.
        literals: Names of the words that become literal types; the other words become open enums.
    """

    schemas: dict[str, Schema]
    sent: frozenset[str]
    received: frozenset[str]
    literals: frozenset[str]


def prepare(document: dict[str, Any]) -> Prepared:
    """Make the schemas of an OpenAPI document ready for the model generator."""
    schemas: dict[str, Schema] = copy.deepcopy(document["components"]["schemas"])
    operations = [node for path in document["paths"].values() for node in path.values() if "responses" in node]
    sent = _reached(schemas, [node.get("requestBody") for node in operations])
    answered = _reached(schemas, [node["responses"] for node in operations] + [document["components"].get("responses")])
    objects = {name for name, schema in schemas.items() if "properties" in schema}
    for schema in schemas.values():
        _loosen(schema)
    _name_inline_words(schemas)
    literals = _settle_words(schemas, answered)
    for name, schema in schemas.items():
        for told in schema.get("properties", {}).values():
            if name not in sent:
                told.pop("const", None)
        _settle_properties(schema)
        _write_docstrings(schema)
    return Prepared(schemas, frozenset(objects & sent), frozenset(objects - sent), literals)


def _refs(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        ref = node.get("$ref")
        if isinstance(ref, str) and ref.startswith(REF):
            yield ref.removeprefix(REF)
        for part in node.values():
            yield from _refs(part)
    elif isinstance(node, list):
        for part in node:
            yield from _refs(part)


def _reached(schemas: dict[str, Schema], roots: list[Any]) -> set[str]:
    reached: set[str] = set()
    waiting = list(_refs(roots))
    while waiting:
        name = waiting.pop()
        if name not in reached:
            reached.add(name)
            waiting.extend(_refs(schemas[name]))
    return reached


def _parts(schema: Schema) -> Iterator[Schema]:
    """The schemas directly within a schema; a property that happens to be called `pattern` is not taken for one."""
    yield from schema.get("properties", {}).values()
    for branches in BRANCHES:
        yield from schema.get(branches, [])
    for inner in ("items", "additionalProperties"):
        if isinstance(schema.get(inner), dict):
            yield schema[inner]


def _within(schema: Schema) -> Iterator[Schema]:
    yield schema
    for part in _parts(schema):
        yield from _within(part)


def _loosen(schema: Schema) -> None:
    for node in _within(schema):
        for keyword in VALIDATION & node.keys():
            del node[keyword]
        if node.get("additionalProperties") is False:
            del node["additionalProperties"]
        if node.get("format") not in TYPED_FORMATS:
            node.pop("format", None)


def _is_words(schema: Schema) -> bool:
    return all(isinstance(word, str) for word in schema.get("enum", [None]))


def _name_inline_words(schemas: dict[str, Schema]) -> None:
    """Give each inline string enum a schema of its own, one for all places that share the same words."""
    named = {frozenset(schema["enum"]): name for name, schema in schemas.items() if _is_words(schema)}
    places: dict[frozenset[str], list[tuple[str, str, Schema]]] = {}
    for owner, schema in schemas.items():
        for told_as, told in schema.get("properties", {}).items():
            for node in filter(_is_words, _within(told)):
                singular = told_as.removesuffix("s") if told.get("type") == "array" else told_as
                places.setdefault(frozenset(node["enum"]), []).append((owner, singular, node))
    suggested = {words: min((told_as for _, told_as, _ in at), key=len) for words, at in places.items()}
    for words, at in places.items():
        if words not in named:
            name = _class_name(suggested[words])
            if name in schemas or list(suggested.values()).count(suggested[words]) > 1:
                name = at[0][0] + name
            named[words] = name
            of = ", ".join(sorted({f"`{owner}`" for owner, _, _ in at}))
            schemas[name] = {
                "type": "string",
                "enum": at[0][2]["enum"],
                "description": f"What `{suggested[words]}` of {of} may say.",
            }
        for _, _, node in at:
            del node["enum"], node["type"]
            node["$ref"] = REF + named[words]


def _class_name(property_name: str) -> str:
    return "".join(part.capitalize() for part in property_name.split("_"))


def _settle_words(schemas: dict[str, Schema], answered: set[str]) -> frozenset[str]:
    """Tell the words that are only sent, giving those of objects that are only sent a schema apart from an answer's."""
    words = {name for name, schema in schemas.items() if _is_words(schema)}
    open_words = {name for owner in answered for name in _refs(schemas[owner]) if name in words} | (words & answered)
    literals = words - open_words
    for owner, schema in list(schemas.items()):
        if owner in answered:
            continue
        for node in _within(schema):
            name = str(node.get("$ref", "")).removeprefix(REF)
            if name in open_words:
                twin = name + "Literal"
                schemas[twin] = copy.deepcopy(schemas[name])
                node["$ref"] = REF + twin
                literals.add(twin)
    return frozenset(literals)


def _settle_properties(schema: Schema) -> None:
    """Give every property a value when left out: null, unless the document has another default."""
    properties: dict[str, Schema] = schema.get("properties", {})
    for name, told in properties.items():
        for branch in told.get("anyOf", []):
            told.setdefault("description", branch.get("description", ""))
        if name in schema.get("required", []) or "default" in told:
            continue
        described = told.pop("description", "")
        properties[name] = {"anyOf": [told, {"type": "null"}], "default": None, "description": described}
    if properties:
        schema["required"] = list(properties)


def _write_docstrings(schema: Schema) -> None:
    for node in _within(schema):
        if not node.get("description"):
            node.pop("description", None)
    for told in (schema, *schema.get("properties", {}).values()):
        if "description" in told:
            told["description"] = filled(told["description"])
