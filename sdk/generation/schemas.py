"""The document's schemas, made ready for the model generator.

The copy is looser than the document, so that an older client goes on working when the service widens a limit or adds a
field; what may be left out is null when it is; and descriptions are filled to the line length of a docstring.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any, NamedTuple

from generation.docstrings import filled
from generation.walk import Schema, reached, within
from generation.words import name_words, settle_words

VALIDATION = frozenset({
    "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "multipleOf", "minLength", "maxLength", "pattern",
    "minItems", "maxItems", "uniqueItems", "minProperties", "maxProperties", "title", "examples",
})  # fmt: skip
TYPED_FORMATS = frozenset({"date", "date-time"})
OPEN_WORDS = "x-extensible-enum"
"""The words known today of a string that may hold others tomorrow, as the Zalando guidelines (rule 112) write it."""


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


def prepare(document: dict[str, Any], word_names: Mapping[str, str]) -> Prepared:
    """Make the schemas of an OpenAPI document ready for the model generator.

    Args:
        document: The document; it is left as it is.
        word_names: Names for enums listed in place, each by a place as `Schema.property`.
    """
    schemas: dict[str, Schema] = copy.deepcopy(document["components"]["schemas"])
    operations = [node for path in document["paths"].values() for node in path.values() if "responses" in node]
    sent = reached(schemas, [node.get("requestBody") for node in operations])
    answered = reached(schemas, [[node["responses"] for node in operations], document["components"].get("responses")])
    objects = {name for name, schema in schemas.items() if schema.get("type") == "object"}
    for schema in schemas.values():
        _loosen(schema)
    name_words(schemas, word_names)
    literals = settle_words(schemas, answered)
    for name, schema in schemas.items():
        if name not in sent:
            for node in within(schema):
                node.pop("const", None)
        _settle_properties(schema)
        _fill_descriptions(schema)
    return Prepared(schemas, frozenset(objects & sent), frozenset(objects - sent), literals)


def _loosen(schema: Schema) -> None:
    for node in within(schema):
        for keyword in VALIDATION & node.keys():
            del node[keyword]
        if node.get("additionalProperties") is False:
            del node["additionalProperties"]
        if OPEN_WORDS in node:
            node["enum"] = node.pop(OPEN_WORDS)
        if node.get("format") not in TYPED_FORMATS:
            node.pop("format", None)


def _settle_properties(schema: Schema) -> None:
    """Give every property a value when left out: null, unless the document has another default."""
    properties: dict[str, Schema] = schema.get("properties", {})
    for name, node in properties.items():
        described = [node["description"] for node in (node, *node.get("anyOf", [])) if "description" in node]
        if name not in schema.get("required", []) and "default" not in node:
            properties[name] = {"anyOf": [node, {"type": "null"}], "default": None}
        if described:
            properties[name]["description"] = described[0]
    if properties:
        # Of what is not required the generator would write that it may be absent, a third state beside null.
        schema["required"] = list(properties)


def _fill_descriptions(schema: Schema) -> None:
    for node in (schema, *schema.get("properties", {}).values()):
        if "description" in node:
            node["description"] = filled(node["description"])
