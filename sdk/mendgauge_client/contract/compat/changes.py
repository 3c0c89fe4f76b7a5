"""What changed from one OpenAPI document to another, and whether a caller of the first would notice."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, TypeAlias

from mendgauge_client.contract.compat.change import Change, Kind
from mendgauge_client.contract.compat.schema_changes import SchemaComparison, resolved

Document: TypeAlias = dict[str, Any]
METHODS = ("get", "put", "post", "delete", "options", "head", "patch", "trace")


def changes(before: Document, after: Document) -> list[Change]:
    """Return every change from one document to another, those that break a caller first.

    Prose and examples are passed over. Schemas are compared where an operation reaches them, and as it uses them: in
    what is sent, in what is answered, or both.
    """
    return sorted(_Comparison(before, after).changes(), key=lambda change: not change.breaking)


def major(document: Document) -> int:
    """Return the major version of a document: the first number of `info.version` (semver.org).

    Raises:
        ValueError: The version does not begin with a number.
    """
    version = str(document.get("info", {}).get("version", ""))
    if not (found := re.match(r"([0-9]+)\.", version)):
        raise ValueError(f"the document's version must be of the form 1.2.3: {version!r} is not")
    return int(found[1])


class _Comparison:
    def __init__(self, before: Document, after: Document) -> None:
        self._before, self._after = before, after
        self._sent = SchemaComparison(before, after, sent=True)
        self._answered = SchemaComparison(before, after, sent=False)

    def changes(self) -> Iterator[Change]:
        was, now = operations(self._before), operations(self._after)
        for key, (place, operation) in was.items():
            if key not in now:
                yield Change(Kind.OPERATION_REMOVED, place, f"`{operation.get('operationId')}` is gone")
            else:
                yield from self._operation(place, operation, now[key][1])
        for key, (place, operation) in now.items():
            if key not in was:
                yield Change(Kind.ADDITION, place, f"new operation `{operation.get('operationId')}`")

    def _operation(self, place: str, before: Document, after: Document) -> Iterator[Change]:
        was, now = before.get("operationId"), after.get("operationId")
        if was != now:
            yield Change(Kind.OPERATION_REMOVED, place, f"`{was}` before, `{now}` now")
        if after.get("deprecated") and not before.get("deprecated"):
            yield Change(Kind.ADDITION, place, "is to go: it is marked as deprecated")
        yield from self._access(place, before, after)
        yield from self._parameters(place, before, after)
        yield from self._body(place, before, after)
        yield from self._answers(place, before["responses"], after["responses"])

    def _access(self, place: str, before: Document, after: Document) -> Iterator[Change]:
        was, now = _ways_in(self._before, before), _ways_in(self._after, after)
        if not all(any(way <= old for way in now) for old in was):
            yield Change(Kind.ACCESS, place, f"{_ways_shown(was)} before, {_ways_shown(now)} now")

    def _parameters(self, place: str, before: Document, after: Document) -> Iterator[Change]:
        was, now = _parameters_of(self._before, before), _parameters_of(self._after, after)
        for key, parameter in was.items():
            where = f"{place} {key}"
            if key not in now:
                yield Change(Kind.PARAMETER_REMOVED, where, "it is gone")
                continue
            if bool(parameter.get("required")) != bool(now[key].get("required")):
                required = bool(now[key].get("required"))
                says = "optional before" if required else "required before"
                yield Change(Kind.REQUIRED if required else Kind.ADDITION, where, says)
            yield from self._sent.compare(where, parameter.get("schema", {}), now[key].get("schema", {}))
        for key, parameter in now.items():
            if key not in was:
                required = bool(parameter.get("required"))
                yield Change(Kind.REQUIRED if required else Kind.ADDITION, f"{place} {key}", "new parameter")

    def _body(self, place: str, before: Document, after: Document) -> Iterator[Change]:
        was = resolved(self._before, before.get("requestBody", {}))
        now = resolved(self._after, after.get("requestBody", {}))
        if now.get("required") and not was.get("required"):
            yield Change(Kind.REQUIRED, f"{place} body", "optional before" if was else "new")
        elif was.get("required") and not now.get("required"):
            yield Change(Kind.ADDITION, f"{place} body", "required before")
        yield from self._content(f"{place} body", was, now, self._sent)

    def _answers(self, place: str, before: Document, after: Document) -> Iterator[Change]:
        for status, response in before.items():
            where = f"{place} {status}"
            if status in after:
                was, now = resolved(self._before, response), resolved(self._after, after[status])
                yield from _headers(where, was, now)
                yield from self._content(where, was, now, self._answered)
            else:
                # A refusal that comes no more hurts nobody.
                yield Change(Kind.ANSWER_REMOVED if status < "4" else Kind.ADDITION, where, "is answered no more")
        for status in after:
            if status not in before:
                yield Change(Kind.ADDITION, f"{place} {status}", "new answer")

    def _content(self, place: str, before: Document, after: Document, way: SchemaComparison) -> Iterator[Change]:
        was, now = before.get("content", {}), after.get("content", {})
        for media_type, content in was.items():
            if media_type not in now:
                yield Change(Kind.TYPE, place, f"{media_type} is gone")
            else:
                yield from way.compare(place, content.get("schema", {}), now[media_type].get("schema", {}))
        for media_type in now:
            if media_type not in was:
                yield Change(Kind.ADDITION, place, f"{media_type} is new")


def operations(document: Document) -> dict[str, tuple[str, Document]]:
    """Return the place and the node of each operation, by method and path without the names of its parameters."""
    return {
        f"{method} {re.sub('{[^{}]*}', '{}', path)}": (f"{method.upper()} {path}", item[method])
        for path, item in document["paths"].items()
        for method in METHODS
        if method in item
    }


def _parameters_of(document: Document, operation: Document) -> dict[str, Document]:
    found = [resolved(document, parameter) for parameter in operation.get("parameters", [])]
    return {f"{parameter['in']} parameter `{parameter['name']}`": parameter for parameter in found}


def _headers(place: str, before: Document, after: Document) -> Iterator[Change]:
    was, now = before.get("headers", {}), after.get("headers", {})
    for name in was:
        if name not in now:
            yield Change(Kind.FIELD_REMOVED, f"{place} header {name}", "it is gone")
    for name in now:
        if name not in was:
            yield Change(Kind.ADDITION, f"{place} header {name}", "new header")


def _ways_in(document: Document, operation: Document) -> list[frozenset[str]]:
    """Return each set of credentials that opens an operation; an empty one where it is open to all."""
    ways = operation["security"] if "security" in operation else document.get("security", [])
    return [frozenset(way) for way in ways] or [frozenset()]


def _ways_shown(ways: list[frozenset[str]]) -> str:
    return " or ".join(" with ".join(sorted(way)) or "open to all" for way in ways)
