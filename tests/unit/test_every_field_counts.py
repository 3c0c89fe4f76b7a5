"""Every field of the case can change some answer: two cases that differ in it alone, and are answered differently.

The cases are the requests of the golden examples, with the field set to one value and another. A case that is refused
is no answer.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest
from msgspec import inspect
from tests.sound_case import BASE, EARLIER

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.repair_plans import plan_repair

SAYS_WHAT_STANDS_BESIDE: Final = ("/stock/*/kind", "/stock/*/patch_shape")
"""Fields of which each value asks for other fields beside it, so that no two cases differ in them alone."""

OPERATIONS: Final[tuple[Callable[..., Any], ...]] = (plan_repair, quote_repair)
"""A plan holds the answers of the operations that it is made of; a quote holds what a repair is compared with."""

OTHER_VALUES: Final[dict[str, list[Any]]] = {
    "/rulebook": ["us"],
    "/price_book/flat_rates/*/covers": [["unit", "consumable"]],
    "/price_book/consumables": [
        {"cement": "1", "cleaner": "1", "sealer": "1", "cutter_wear": "1", "buffing_head_wear": "1", "valve": "1"}
    ],
}
"""Values for fields of which the contract's examples and the golden requests have one alone."""

EXAMPLES: Final = Path(__file__).parents[2] / "openapi" / "examples"
PRICES: Final = {
    "currency": "GBP",
    "labour": {"per_hour": "54.00", "covers": ["unit", "consumable"]},
    "flat_rates": [{"code": "REPAIR", "title": "Repair", "price": "31.25", "covers": ["unit", "consumable"]}],
    "taxes": [{"name": "VAT", "percent": "10"}],
}
"""A tenth of 31.25 is halfway between two pennies."""

RECTANGULAR: Final = {
    "code": "P-60x80",
    "kind": "patch",
    "patch_shape": "rectangular",
    "patch_width_mm": 60,
    "patch_length_mm": 80,
    "construction": "radial",
}
NUMBERS: Final = (0, 0.5, 1, 2, 3, 4, 6, 8, 10, 15, 25, 30, 45, 60, 90, 100, 180, 300, 500, 640, 1000, 5000)


def _requests() -> Iterator[dict[str, Any]]:
    for file in sorted(EXAMPLES.rglob("*.json")):
        example = json.loads(file.read_bytes())
        if example["status"] == 200 and "rulebook" in example["request"] and "tyre" in example["request"]:
            yield {"assessed_on": "2026-11-24", "detail": "full", **example["request"]}


REQUESTS: Final = [
    *_requests(),
    {**BASE, "earlier_repairs": [EARLIER]},
    {**BASE, "earlier_repairs": [{**EARLIER, "proper": None}]},
    {**BASE, "stock": [RECTANGULAR]},
    {**BASE, "price_book": PRICES},
    {**BASE, "price_book": {**PRICES, "discount": {"title": "Fleet discount", "amount": "5.00"}}},
]


def _plain(of: inspect.Type) -> tuple[inspect.Type, ...]:
    if isinstance(of, inspect.Metadata):
        return _plain(of.type)
    return tuple(one for each in of.types for one in _plain(each)) if isinstance(of, inspect.UnionType) else (of,)


def _examples(of: inspect.Type) -> list[Any]:
    """What the contract gives as examples of a value."""
    if isinstance(of, inspect.Metadata):
        return [*((of.extra_json_schema or {}).get("examples", [])), *_examples(of.type)]
    return [one for each in of.types for one in _examples(each)] if isinstance(of, inspect.UnionType) else []


def _fields(of: inspect.Type, below: str = "") -> Iterator[tuple[str, inspect.Type]]:
    """Every field that holds a value, by its pattern."""
    for option in _plain(of):
        if isinstance(option, inspect.StructType) and {field.name for field in option.fields} != {"low", "high"}:
            for field in option.fields:
                yield from _fields(field.type, f"{below}/{field.name}")
            return
        if isinstance(option, inspect.VarTupleType) and isinstance(option.item_type, inspect.StructType):
            yield below, of
            yield from _fields(option.item_type, f"{below}/*")
            return
    yield below, of


FIELDS: Final = dict(_fields(inspect.type_info(Case)))


def _values(of: inspect.Type) -> list[Any]:
    """A few values of a field, not given at all among them."""
    values: list[Any] = [None, *_examples(of)]
    for option in _plain(of):
        if isinstance(option, inspect.BoolType):
            values += [True, False]
        elif isinstance(option, inspect.LiteralType):
            values += option.values
        elif isinstance(option, inspect.FloatType):
            values += NUMBERS
        elif isinstance(option, inspect.StrType):
            values += ["7.77", "another"]
        elif isinstance(option, inspect.VarTupleType):
            values += [[], [{}], *([one] for one in _values(option.item_type) if one is not None)]
        elif isinstance(option, inspect.DictType):
            values += [{}]
        elif isinstance(option, inspect.DateType):
            values += ["2020-01-01", "2026-12-01"]
    return values


def _set(within: Any, path: list[str], value: Any) -> Iterator[Any]:
    """Yield copies with a value at a path, one for each place in a list that `*` stands for."""
    part, rest = path[0], path[1:]
    if part == "*":
        for index, item in enumerate(within or ()):
            for changed in _set(item, rest, value):
                yield [*within[:index], changed, *within[index + 1 :]]
    elif rest:
        for changed in _set((within or {}).get(part), rest, value):
            yield {**(within or {}), part: changed}
    elif value is None:
        yield {name: inner for name, inner in (within or {}).items() if name != part}
    else:
        yield {**(within or {}), part: value}


def _answer(operation: Callable[..., Any], case: dict[str, Any]) -> bytes | None:
    try:
        return msgspec.json.encode(operation(msgspec.convert(case, Case), date(2026, 11, 24)))
    except (CaseError, msgspec.ValidationError):
        return None


def _variants(case: dict[str, Any], pattern: str) -> Iterator[list[dict[str, Any]]]:
    """Yield groups of cases that differ in one place of a field alone."""
    path = pattern.strip("/").split("/")
    values = [*_values(FIELDS[pattern]), *OTHER_VALUES.get(pattern, ())]
    for changed in zip(*(_set(case, path, value) for value in values), strict=True):
        yield [case, *changed]


def _counts(pattern: str, requests: list[dict[str, Any]]) -> bool:
    """Whether two values of a field are answered differently, in some case and by some operation."""
    for case in requests:
        for variants in _variants(case, pattern):
            for operation in OPERATIONS:
                answers = (answer for one in variants if (answer := _answer(operation, one)) is not None)
                first = next(answers, None)
                if any(answer != first for answer in answers):
                    return True
    return False


@pytest.mark.parametrize("pattern", [one for one in FIELDS if one not in SAYS_WHAT_STANDS_BESIDE])
def test_a_field_can_change_some_answer(pattern: str) -> None:
    assert _counts(pattern, REQUESTS)


@pytest.mark.parametrize("pattern", SAYS_WHAT_STANDS_BESIDE)
def test_a_field_says_what_must_stand_beside_it(pattern: str) -> None:
    """One value is answered, another refused for what stands or is missing beside it."""
    (variants,) = _variants({**BASE, "stock": [RECTANGULAR]}, pattern)
    assert {_answer(plan_repair, one) is None for one in variants} == {True, False}
