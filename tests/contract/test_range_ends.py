"""Wherever the contract takes a range, its ends are held to the bounds of the bare number, and no end is a failure."""

from __future__ import annotations

import copy
import itertools
from collections.abc import Iterator
from typing import Any, Final

import msgspec
import pytest
from litestar.testing import TestClient
from msgspec import inspect

from mendgauge.api.example import EXAMPLE_CASE, EXAMPLE_PRICES
from mendgauge.case.case import Case
from mendgauge.case.shop import HouseMinutes
from mendgauge.core.vocabulary import Range

OPERATIONS: Final = ["repairability", "repair-units", "stem-trim", "service-limits", "work-plans", "quotes"]
CODES: Final = {"minutes": "wheel_off", "quantities": "cement"}
"""A code that the procedure has, for the sections whose names are codes."""

FAR: Final = (-1e308, -1e30, 1e30, 1e308)
SPANS: Final = (Range, HouseMinutes)

Place = tuple[str | int, ...]


def spans(kind: inspect.Type, place: Place = ()) -> Iterator[tuple[Place, type, float, float]]:
    """Yield every place of a range in the contract, the range's type, and the bounds of the bare number there."""
    match kind:
        case inspect.Metadata():
            yield from spans(kind.type, place)
        case inspect.UnionType(types=types):
            bare = [option for option in map(plain, types) if isinstance(option, inspect.FloatType)]
            for option in map(plain, types):
                if isinstance(option, inspect.StructType) and option.cls in SPANS:
                    (number,) = bare
                    low = number.ge if number.ge is not None else number.gt
                    assert low is not None, f"{place} has no least number"
                    assert number.le is not None, f"{place} has no largest number"
                    yield place, option.cls, low, number.le
                else:
                    yield from spans(option, place)
        case inspect.StructType(fields=fields):
            for field in fields:
                yield from spans(field.type, (*place, field.encode_name))
        case inspect.VarTupleType(item_type=item):
            yield from spans(item, (*place, 0))
        case inspect.DictType(value_type=value):
            yield from spans(value, (*place, CODES.get(str(place[-1]), "x")))


def plain(kind: inspect.Type) -> inspect.Type:
    return kind.type if isinstance(kind, inspect.Metadata) else kind


SPANS_OF_THE_CASE: Final = list(spans(inspect.type_info(Case)))


def case_with(place: Place, value: Any) -> dict[str, Any]:
    case: dict[str, Any] = msgspec.json.decode(msgspec.json.encode(EXAMPLE_CASE)) | copy.deepcopy(EXAMPLE_PRICES)
    part: Any = case
    for step, following in itertools.pairwise(place):
        if isinstance(part, list):
            part = part[int(step)]
        else:
            if not part.get(step):
                part[step] = [{}] if following == 0 else {}
            part = part[step]
    part[place[-1]] = value
    return case


def given(kind: type, low: float, high: float) -> dict[str, float]:
    return {"low": low, "high": high} if kind is Range else {"low": low, "likely": low, "high": high}


def test_there_are_places_of_a_range_in_every_part_of_the_case() -> None:
    parts = {place[0] for place, *_ in SPANS_OF_THE_CASE}
    assert {"vehicle", "position", "tyre", "injuries", "earlier_repairs", "history", "bench", "house_times"} <= parts


@pytest.mark.parametrize(("place", "kind", "low", "high"), SPANS_OF_THE_CASE, ids=lambda value: str(value))
def test_an_end_beyond_the_bounds_is_refused_and_one_within_is_no_failure(
    client: TestClient[Any], place: Place, kind: type, low: float, high: float
) -> None:
    beyond = [(far, high) if far < low else (low, far) for far in FAR] + [(far, far) for far in FAR]
    for ends in [*beyond, (low - 1, high), (low, high + 1)]:
        answer = client.post("/v1/repair-plans", json=case_with(place, given(kind, *ends)))
        assert answer.status_code == 422, (ends, answer.text[:300])
    for ends in [(low, high), (low, low), (high, high)]:
        for operation in OPERATIONS:
            answer = client.post(f"/v1/{operation}", json=case_with(place, given(kind, *ends)))
            assert answer.status_code in (200, 422), (operation, ends, answer.text[:300])
