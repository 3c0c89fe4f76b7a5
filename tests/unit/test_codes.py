"""A caller's own codes come back in every answer as they were sent, and nothing reads them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec
import pytest
from tests.sound_case import BASE

from mendgauge.case.case import CODE_MAX, CODE_TEXT_MAX, CODES_MAX, Case
from mendgauge.operations.quotes import quote_repair
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_units import choose_repair_units
from mendgauge.operations.repairability import check_repairability
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.work_plans import plan_work

CODES = {"reason_for_repair": "08", "79/LRI~": " as sent ", "Schlüssel": ""}
PRICES = {"currency": "GBP", "labour": {"per_hour": "54.00", "covers": ["unit", "consumable"]}}
OPERATIONS = [
    quote_repair,
    plan_repair,
    choose_repair_units,
    check_repairability,
    find_service_limits,
    trim_stems,
    plan_work,
]


def case(**sections: Any) -> Case:
    return msgspec.convert({**BASE, "price_book": PRICES, **sections}, Case)


@pytest.mark.parametrize("operation", OPERATIONS, ids=lambda operation: operation.__name__)
def test_codes_come_back_as_they_were_sent_and_change_nothing(operation: Callable[[Case], Any]) -> None:
    sent, bare = (msgspec.to_builtins(operation(one)) for one in (case(codes=CODES), case()))

    def without(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: without(entry) for key, entry in value.items() if key != "codes"}
        return [without(entry) for entry in value] if isinstance(value, (list, tuple)) else value

    assert sent["codes"] == CODES
    assert "codes" not in bare
    assert without(sent) == without(bare)


@pytest.mark.parametrize(
    "codes",
    [
        {str(number): "" for number in range(CODES_MAX + 1)},
        {"": "text"},
        {"k" * (CODE_MAX + 1): "text"},
        {"key": "t" * (CODE_TEXT_MAX + 1)},
        {"key": 8},
    ],
)
def test_codes_are_bounded(codes: dict[str, Any]) -> None:
    with pytest.raises(msgspec.ValidationError, match=r"\$\.codes"):
        case(codes=codes)
