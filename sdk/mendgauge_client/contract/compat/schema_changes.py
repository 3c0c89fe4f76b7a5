"""What changed between two schemas of one place, as whoever fills it in or reads it out sees it.

A value that is sent must not be refused where it passed before; a value that is answered must not surprise who read it
before. So the same change may break one way and not the other, and each comparison goes one way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, TypeAlias

from mendgauge_client.contract.compat.change import Change, Kind
from mendgauge_client.contract.compat.limits import Schema, limit_changes

ANYTHING = "any value"
WORDS = ("enum", "x-extensible-enum")
NUMBER_BOUNDS = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")
Kinds: TypeAlias = dict[str, tuple[str, Schema]]
"""By the kind of value: the name of its schema, empty where it has none, and the schema."""


class SchemaComparison:
    """Compares schemas of two documents, one way: as something sent, or as something answered.

    A schema that several places share is reported once, under its own name.
    """

    def __init__(self, before: dict[str, Any], after: dict[str, Any], *, sent: bool) -> None:
        self._before, self._after, self._sent = before, after, sent
        self._seen: set[tuple[str, str, str]] = set()

    def compare(self, place: str, before: Schema, after: Schema) -> Iterator[Change]:
        """Yield the changes from one schema to another, and in all that they are made of."""
        branches_was, branches_now = list(_branches(self._before, before)), list(_branches(self._after, after))
        tagged = len(branches_was) > 1 or len(branches_now) > 1
        was, now = kinds(branches_was, tagged=tagged), kinds(branches_now, tagged=tagged)
        yield from self._kinds(place, was, now)
        for kind in was:
            if kind in now:
                (name_was, schema_was), (name_now, schema_now) = was[kind], now[kind]
                if not name_was or not name_now:
                    yield from self._one_kind(place, schema_was, schema_now)
                elif (kind, name_was, name_now) not in self._seen:
                    self._seen.add((kind, name_was, name_now))
                    yield from self._one_kind(name_now, schema_was, schema_now)

    def _kinds(self, place: str, was: Kinds, now: Kinds) -> Iterator[Change]:
        """Yield what a value may be at all."""
        gone, new = [kind for kind in was if kind not in now], [kind for kind in now if kind not in was]
        narrower, wider = bool(gone) and ANYTHING not in now, bool(new) and ANYTHING not in was
        if narrower if self._sent else wider:
            yield Change(Kind.TYPE, place, f"{' or '.join(was)} before, {' or '.join(now)} now")
        elif gone or new:
            yield Change(Kind.ADDITION, place, f"{' or '.join(was)} before, {' or '.join(now)} now")

    def _one_kind(self, place: str, before: Schema, after: Schema) -> Iterator[Change]:
        """Yield the changes between two schemas that take the same kind of value."""
        yield from self._whole_numbers(place, before, after)
        yield from self._words(place, before, after)
        for limit in limit_changes(before, after):
            if self._sent:
                kind = Kind.RULE if limit.tighter else Kind.ADDITION
            else:  # a reader takes the form of an answer's text for its type, and its limits for the service's affair
                kind = Kind.TYPE if limit.rule == "format" and "format" in before else Kind.ADDITION
            yield Change(kind, place, limit.says)
        yield from self._fields(place, before, after)
        if "items" in before and "items" in after:
            yield from self.compare(f"{place}[]", before["items"], after["items"])

    def _whole_numbers(self, place: str, before: Schema, after: Schema) -> Iterator[Change]:
        was, now = before.get("type"), after.get("type")
        if {was, now} == {"integer", "number"}:
            breaking = now == ("integer" if self._sent else "number")
            yield Change(Kind.TYPE if breaking else Kind.ADDITION, place, f"{was} before, {now} now")

    def _words(self, place: str, before: Schema, after: Schema) -> Iterator[Change]:
        (was, was_closed), (now, now_closed) = _words_of(before), _words_of(after)
        if self._sent and now_closed and not was_closed:
            yield Change(Kind.RULE, place, f"takes only {', '.join(now)}")
        if not was or not now:
            return
        if gone := [word for word in was if word not in now]:
            yield Change(Kind.WORD_REMOVED, place, ", ".join(gone))
        if new := [word for word in now if word not in was]:
            yield Change(Kind.ADDITION, place, f"new words {', '.join(new)}")

    def _fields(self, place: str, before: Schema, after: Schema) -> Iterator[Change]:
        was, now = before.get("properties", {}), after.get("properties", {})
        for name in was:
            if name not in now:
                yield Change(Kind.FIELD_REMOVED, f"{place}.{name}", "it is gone")
            else:
                yield from self._presence(f"{place}.{name}", _required(before, name), _required(after, name))
                yield from self.compare(f"{place}.{name}", was[name], now[name])
        for name in now:
            if name not in was:
                required = self._sent and _required(after, name)
                yield Change(Kind.REQUIRED if required else Kind.ADDITION, f"{place}.{name}", "new field")
        yield from self._other_names(place, before.get("additionalProperties"), after.get("additionalProperties"))

    def _presence(self, place: str, before: bool, after: bool) -> Iterator[Change]:
        if before != after:
            broken = Kind.REQUIRED if self._sent else Kind.NOT_PROMISED
            breaks = after if self._sent else before
            yield Change(broken if breaks else Kind.ADDITION, place, "required now" if after else "optional now")

    def _other_names(self, place: str, before: Any, after: Any) -> Iterator[Change]:
        """Yield what stands under names that the schema does not list."""
        if isinstance(before, dict) and isinstance(after, dict):
            yield from self.compare(f"{place}.*", before, after)
        elif self._sent and after is False and before is not False:
            yield Change(Kind.RULE, place, "takes no other fields any more")


def kinds(branches: Iterable[tuple[str, Schema]], *, tagged: bool) -> Kinds:
    """Return the kinds of JSON value that the branches of a schema admit: `number`, `null`, `object (kind=car)`.

    Args:
        branches: The schemas, each with its name.
        tagged: Whether objects are distinguished by the fields that hold one word only, as those of a union are.
    """
    found: Kinds = {}
    for name, branch in branches:
        for kind, single in _single(branch):
            label = f"{kind}{_tags(branch)}" if tagged else kind
            alike = sum(other.startswith(label) for other in found)
            found[f"{label} {alike + 1}" if alike else label] = name, single
    return found


def resolved(document: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    """Return a node of a document, any reference followed."""
    while "$ref" in node:
        found: Any = document
        for part in node["$ref"].removeprefix("#/").split("/"):
            found = found[part.replace("~1", "/").replace("~0", "~")]
        node = found
    return node


def _branches(document: dict[str, Any], schema: Schema) -> Iterator[tuple[str, Schema]]:
    """Yield the branches of a schema, however deep, each with its name and with the bounds that stand beside it."""
    name, whole = _name(schema), resolved(document, schema)
    branches = whole.get("anyOf") or whole.get("oneOf")
    if branches is None:
        yield name, whole
        return
    bounds = {bound: whole[bound] for bound in NUMBER_BOUNDS if bound in whole}
    for branch in branches:
        for inner_name, inner in _branches(document, branch):
            bounded = bounds and inner.get("type") in ("number", "integer")
            yield inner_name, {**bounds, **inner} if bounded else inner


def _single(schema: Schema) -> Iterator[tuple[str, Schema]]:
    """Yield the schema for each kind of value that one without branches admits."""
    types = schema.get("type", [])
    if isinstance(types, str):
        yield _kind(types), schema
    elif types:
        for each in types:
            yield _kind(each), {**schema, "type": each}
    else:
        yield "object" if "properties" in schema else "string" if _words_of(schema)[0] else ANYTHING, schema


def _kind(type_name: str) -> str:
    return "number" if type_name == "integer" else type_name  # distinguished by `_whole_numbers`


def _tags(schema: Schema) -> str:
    tags = [f"{name}={part['const']}" for name, part in schema.get("properties", {}).items() if "const" in part]
    return f" ({', '.join(tags)})" if tags else ""


def _words_of(schema: Schema) -> tuple[list[str], bool]:
    """Return the words that a schema lists, none where it lists none, and whether it takes no others."""
    if "const" in schema:
        return [str(schema["const"])], True
    closed, opened = (schema.get(keyword, []) for keyword in WORDS)
    return [str(word) for word in closed or opened], bool(closed)


def _name(schema: Schema) -> str:
    return str(schema.get("$ref", "")).rpartition("/")[2]


def _required(schema: Schema, name: str) -> bool:
    return name in schema.get("required", [])
