"""JSON Schemas of the types that bodies are decoded to and answers encoded from, as generators of clients like them.

msgspec makes them; what is changed here says the same in a form that every generator tried takes: see
`openapi/README.md`, which compares them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, Final

import msgspec

from mendgauge.api.flaws import public_pattern

REF = "#/components/schemas/{name}"
_PUBLISHED_AS: Final = {"Case": "TyreCase"}
"""Types that are called otherwise in the document: `case` is a reserved word in most languages."""

_QUANTITIES: Final = {
    "mm": ("MeasuredLength", "A length, mm: a number, or a range where it is not known exactly."),
    "deg": ("MeasuredAngle", "An angle, degrees: a number, or a range where it is not known exactly."),
    "kg": ("MeasuredMass", "A mass, kg: a number, or a range where it is not known exactly."),
    "km": ("MeasuredDistance", "A distance, km: a number, or a range where it is not known exactly."),
    "kmh": ("MeasuredSpeed", "A speed, km/h: a number, or a range where it is not known exactly."),
    "c": ("MeasuredTemperature", "A temperature, °C: a number, or a range where it is not known exactly."),
    "percent": ("MeasuredPercent", "A share, percent: a number, or a range where it is not known exactly."),
}
"""By the unit that ends a field's name: the schema of its kind of quantity, and what that says of itself."""

_IN_MAPS: Final = {
    "Range": ("MeasuredQuantity", "A quantity, in the unit of what it is of: a number, or a range."),
    "HouseMinutes": ("HouseTime", "How long a step takes in this shop, minutes: a number, or its spread."),
}
"""By the object that may stand for a number in a map: the schema of the map's values, and what that says of itself."""

_NUMBER_BOUNDS: Final = ("minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum")


def ref(model: type) -> dict[str, str]:
    """Return a reference to the schema of a type."""
    return {"$ref": REF.format(name=_PUBLISHED_AS.get(model.__name__, model.__name__))}


def schemas(models: Iterable[type]) -> dict[str, Any]:
    """Return the schemas of these types and of all that they are made of, by name."""
    _, found = msgspec.json.schema_components(models, ref_template=REF)
    tidy = {_PUBLISHED_AS.get(name, name): _tidy(schema) for name, schema in found.items()}
    return dict(sorted({**tidy, **dict(_name_unions(tidy))}.items()))


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
    if isinstance(target := tidy.get("$ref"), str):
        name = target.rpartition("/")[2]
        tidy["$ref"] = REF.format(name=_PUBLISHED_AS.get(name, name))
    if tidy.get("required") == []:
        del tidy["required"]
    if isinstance(tidy.get("title"), str):  # the component's name again
        del tidy["title"]
    if tidy.get("default", "") is None:  # left out and null are one: not known
        del tidy["default"]
    if words := tidy.get("enum"):
        tidy |= {"type": "string"} if all(isinstance(word, str) for word in words) else {}
        if len(words) == 1:
            tidy["const"] = tidy.pop("enum")[0]
    if isinstance(pattern := tidy.get("pattern"), str):
        tidy["pattern"] = public_pattern(pattern)
    if "anyOf" in tidy:
        tidy = _about_the_whole(tidy)
    if "discriminator" in tidy:
        tidy["oneOf"] = tidy.pop("anyOf")
    return _sized(tidy)


def _sized(schema: dict[str, Any]) -> dict[str, Any]:
    """Return a number's schema with its format: without one, generators choose decimals or single precision."""
    if schema.get("type") == "number" and schema.get("multipleOf") == 1:  # counts something; JSON has 2.0 for 2
        return {**{key: value for key, value in schema.items() if key != "multipleOf"}, **_COUNT}
    return schema | {"number": {"format": "double"}, "integer": _COUNT}.get(str(schema.get("type")), {})


_COUNT: Final = {"type": "integer", "format": "int32"}


def _about_the_whole(union: dict[str, Any]) -> dict[str, Any]:
    """Lift what one branch says of the field to the field: the other branches are the same, given otherwise."""
    described = [branch for branch in union["anyOf"] if "description" in branch]
    if "description" in union or len(described) != 1:
        return union
    lifted = {key: described[0].pop(key) for key in ("description", "examples") if key in described[0]}
    return lifted | union


def _name_unions(schemas: dict[str, Any]) -> Iterator[tuple[str, dict[str, Any]]]:
    """Yield a schema for each kind of quantity that may be a number or an object, and make its fields refer to it.

    A union that stands in the field itself becomes a class of its own for every field, or loses its number. The bounds
    of the number differ from field to field and stay there, beside the reference; they say nothing of objects and null.
    """
    for owner in schemas.values():
        for name, field in owner.get("properties", {}).items():
            if union := _number_or_object(field):
                kind, says = _QUANTITIES[name.rpartition("_")[2]]
                number, other, *null = union
                field["anyOf"] = [{"$ref": REF.format(name=kind)}, *null]
                field |= {bound: number.pop(bound) for bound in _NUMBER_BOUNDS if bound in number}
                yield kind, {"description": says, "oneOf": [number, other]}
            for holder in (field, *field.get("anyOf", [])):
                values = holder.get("additionalProperties")
                if isinstance(values, dict) and (union := _number_or_object(values)):
                    kind, says = _IN_MAPS[union[1]["$ref"].rpartition("/")[2]]
                    holder["additionalProperties"] = {"$ref": REF.format(name=kind)}
                    yield kind, {"description": says, "oneOf": union}


def _number_or_object(schema: dict[str, Any]) -> list[dict[str, Any]]:
    """Return the branches of a schema that takes a number or an object; none of any other."""
    branches: list[dict[str, Any]] = schema.get("anyOf", [])
    is_one = len(branches) > 1 and branches[0].get("type") == "number" and "$ref" in branches[1]
    return branches if is_one else []
