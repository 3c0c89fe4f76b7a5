"""String enums: what each is called, and whether it is open.

A word that comes back in an answer becomes an open enum, which keeps a word it does not know yet. A word that is only
sent becomes a literal type, so that a caller may write plain strings and still have them checked. Words that go both
ways become both, the literal with its name ending so.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping

from generation.walk import REF, Schema, refs, within


def is_words(schema: Schema) -> bool:
    """Return whether a schema lists strings."""
    return all(isinstance(word, str) for word in schema.get("enum", [None]))


def name_words(schemas: dict[str, Schema], names: Mapping[str, str]) -> None:
    """Give each enum listed in place a schema of its own, one for all places that list the same words.

    Args:
        schemas: The schemas, changed in place.
        names: Names to give, each by a place that lists the words, as `Schema.property`.
    """
    named = {frozenset(schema["enum"]): name for name, schema in schemas.items() if is_words(schema)}
    places: dict[frozenset[str], list[tuple[str, str]]] = {}
    nodes: list[Schema] = []
    for owner, schema in schemas.items():
        for field, value in schema.get("properties", {}).items():
            for node in filter(is_words, within(value)):
                nodes.append(node)
                places.setdefault(frozenset(node["enum"]), []).append((owner, field))
    listed = {frozenset(node["enum"]): node["enum"] for node in nodes}
    for words, at in places.items():
        if words not in named:
            named[words] = _name(at, names, {*schemas, *named.values()}, places)
            schemas[named[words]] = {
                "type": "string",
                "enum": listed[words],
                "description": f"What {', '.join(sorted({f'`{owner}.{field}`' for owner, field in at}))} may say.",
            }
    for node in nodes:
        node["$ref"] = REF + named[frozenset(node["enum"])]
        del node["enum"], node["type"]


def _name(
    at: list[tuple[str, str]],
    names: Mapping[str, str],
    taken: set[str],
    places: Mapping[frozenset[str], list[tuple[str, str]]],
) -> str:
    given = [names[place] for place in map(".".join, at) if place in names]
    if given:
        return given[0]
    field = min((field for _, field in at), key=len)
    name = "".join(part.capitalize() for part in field.split("_"))
    lists_of_that_name = sum(any(other == field for _, other in there) for there in places.values())
    return at[0][0] + name if name in taken or lists_of_that_name > 1 else name


def settle_words(schemas: dict[str, Schema], answered: set[str]) -> frozenset[str]:
    """Part the words that come back from those that are only sent.

    Args:
        schemas: The schemas, changed in place; every enum has one of its own.
        answered: Names of the schemas that come back.

    Returns:
        The names of the words that become literal types.
    """
    words = {name for name, schema in schemas.items() if is_words(schema)}
    come_back = words & (answered | {name for owner in answered for name in refs(schemas[owner])})
    literals = words - come_back
    for owner, schema in list(schemas.items()):
        for node in within(schema) if owner not in answered else ():
            name = str(node.get("$ref", "")).removeprefix(REF)
            if name in come_back:
                twin = f"{name}Literal"
                schemas[twin] = copy.deepcopy(schemas[name])
                node["$ref"] = REF + twin
                literals.add(twin)
    return frozenset(literals)
