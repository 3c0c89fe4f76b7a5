"""A batch is its items: wherever they stand, whatever stands beside them, each is answered as it is alone."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import full_cases
from tests.property.effort import share

from mendgauge.api.body import decode
from mendgauge.api.controllers.batch import CaseBatch, outcomes
from mendgauge.api.controllers.repairability import RepairabilityOutcome
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability

SOUND: Final = full_cases().map(lambda drawn: drawn.case)
JUNK: Final = st.recursive(
    st.none() | st.booleans() | st.integers(-99, 99) | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=5,
)


@st.composite
def broken(draw: st.DrawFn) -> Any:
    """A case with junk in the place of one of its fields."""
    case = dict(draw(SOUND))
    case[draw(st.sampled_from(sorted(case)))] = draw(JUNK)
    return case


ITEMS: Final = st.lists(SOUND | broken() | JUNK, max_size=5)


def answered(items: list[Any]) -> list[RepairabilityOutcome]:
    batch: CaseBatch = decode(msgspec.json.encode({"items": items}), CaseBatch)
    return list(outcomes(batch, check_repairability, RepairabilityOutcome, "the-same-request"))


def unplaced(outcome: RepairabilityOutcome, index: int) -> RepairabilityOutcome:
    """An outcome as it would be of the first item."""
    encoded = msgspec.json.encode(outcome)
    return msgspec.json.decode(encoded.replace(f"/items/{index}".encode(), b"/items/0"), type=RepairabilityOutcome)


@share(0.2)
@given(ITEMS)
def test_every_item_has_the_outcome_it_has_alone(items: list[Any]) -> None:
    found = answered(items)
    assert len(found) == len(items)
    for index, (item, outcome) in enumerate(zip(items, found, strict=True)):
        (alone,) = answered([item])
        assert unplaced(outcome, index) == unplaced(alone, 0)


@share(0.2)
@given(ITEMS)
def test_an_item_has_an_answer_or_a_problem_that_points_into_it(items: list[Any]) -> None:
    for index, (item, outcome) in enumerate(zip(items, answered(items), strict=True)):
        assert (outcome.answer is None) != (outcome.problem is None)
        assert outcome.status == ("ok" if outcome.problem is None else "failed")
        if isinstance(item, dict) and isinstance(item.get("reference"), str):
            assert outcome.reference == item["reference"]
        if outcome.problem is None:
            assert outcome.answer == check_repairability(msgspec.convert(item, Case))
            continue
        assert outcome.problem.status < 500
        assert outcome.problem.errors
        for fault in outcome.problem.errors:
            assert fault.pointer is not None
            assert fault.pointer == f"/items/{index}" or fault.pointer.startswith(f"/items/{index}/")
            assert fault.detail
