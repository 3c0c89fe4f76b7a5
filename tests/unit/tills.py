"""Golden tills: requests of the examples of quotes, with their price books changed, and what they are asked."""

from __future__ import annotations

import copy
import json
from pathlib import Path
from typing import Any, TypeAlias

import msgspec

from mendgauge.case.case import Case
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.quotes.answer import Alternative, Quote
from mendgauge.operations.quotes.bill import Line

Json: TypeAlias = dict[str, Any]

TILLS = Path(__file__).parents[2] / "openapi" / "examples" / "quote_repair"


def till(name: str, **changed: Any) -> Json:
    """The request of a golden till; fields of its price book changed, or left out for `None`."""
    request: Json = copy.deepcopy(json.loads((TILLS / f"{name}.json").read_bytes())["request"])
    book = request["price_book"] | changed
    return request | {"detail": "full", "price_book": {key: value for key, value in book.items() if value is not None}}


def quote(request: Json) -> Quote:
    return quote_repair(msgspec.convert(request, Case))


def money(lines: tuple[Line, ...]) -> list[tuple[str, str, str, str]]:
    return [(line.kind, line.net, line.tax, line.gross) for line in lines]


def alternative(of: Quote, code: str) -> Alternative:
    return next(one for one in of.alternatives if one.code == code)
