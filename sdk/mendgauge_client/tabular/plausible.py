"""Values that are possible and hardly meant: a point that parts thousands, a slip of the pen."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from mendgauge_client.tabular.quantities import unit_of


@cache
def bounds() -> Mapping[str, tuple[float, float]]:
    """Return what a value usually lies between, by the name of the field."""
    listed = tomllib.loads(files(__package__).joinpath("plausible.toml").read_text("utf-8"))
    return {name: (float(low), float(high)) for name, (low, high) in listed.items()}


def doubt(pointer: str, written: Any, value: Any, *, decimal_comma: bool = False) -> str:
    """Return what is odd about a value; empty where nothing is.

    Args:
        pointer: The field.
        written: What the table has.
        value: What was read of it: a number, a range, or anything else.
        decimal_comma: Whether a comma parts the decimals, so that a point most likely parts thousands.
    """
    low, high = bounds().get(pointer.rpartition("/")[2], (float("-inf"), float("inf")))
    numbers = value.values() if isinstance(value, dict) else [value]
    numbers = [number for number in numbers if type(number) in (int, float)]
    odd = [number for number in numbers if not low <= number <= high]
    thousands = re.fullmatch(r"\s*(\d{1,3})([.,])(\d{3})(?![\d.,]).*", str(written))
    misleading = decimal_comma and thousands is not None and thousands[2] == "." and len(numbers) == 1
    if not odd and not misleading:
        return ""
    read = f"{written!r} is read as {(odd or numbers)[0]:g} {unit_of(pointer)[1]}".rstrip()
    usual = f", where {low:g} to {high:g} is usual" if odd else ""
    meant = f"; if {thousands[1]}{thousands[3]} is meant, write it so" if thousands else ""
    return f"{read}{usual}{meant}"
