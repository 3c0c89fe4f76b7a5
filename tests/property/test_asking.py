"""Asking the first question, answering it, and asking again comes to an end: a firm verdict, nothing asked in vain."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any, Final

import msgspec
import pytest
from hypothesis import given, note
from hypothesis import strategies as st
from tests.property.cases import MARKINGS, TERSE_MARKINGS, Drawn, full_cases
from tests.property.effort import share
from tests.property.houses import with_house_rules
from tests.property.judging import Json, judge
from tests.property.settled import settled_cases
from tests.property.vague import WHOLE, YES_OR_NO, full_or_vague, get, put, vaguer

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
from mendgauge.rulebooks import list_editions

KNOWABLE: Final = tuple(group for group in WHOLE if group != "/injuries")
"""Groups that may be unknown: questions about the injuries are put one by one, once their number is known."""


@st.composite
def interviews(draw: st.DrawFn) -> tuple[Json, Json]:
    """A case with an answer to every question, whose verdict is firm, and what is known of it before the first."""
    drawn = draw(settled_cases())
    return drawn.case, draw(vaguer(drawn, drawn.case, KNOWABLE))


def is_missing(case: Json, field: str) -> bool:
    """Whether a field is not given, or given as a range."""
    value: Any = get(case, field)
    if field == "/position/axle" and value == "front":
        # The question may go on: does that axle steer? Of a trailer's front axle that does not follow.
        value = get(case, "/position/steered")
    group, name = field.rsplit("/", 1)
    known_absent = value is None and name in YES_OR_NO.get(group, ()) and (get(case, group) or {}).get("complete")
    return not known_absent and (value is None or isinstance(value, dict))


def answered(case: Json, hidden: Json, field: str) -> Json:
    """The case with the answer to a question; of a whole section what was found, and that it is all there is."""
    group, name = field.rsplit("/", 1)
    if field == "/position/axle":
        case = put(case, "/position/steered", get(hidden, "/position/steered"))
    if name == "region" and isinstance(get(case, f"{group}/across_mm"), dict):
        # A range that reaches beyond the region would contradict it, and is refused; whoever sees the one measures it.
        case = put(case, f"{group}/across_mm", get(hidden, f"{group}/across_mm"))
    if name != "complete":
        return put(case, field, get(hidden, field))
    found = {name: True for name in YES_OR_NO[group] if get(hidden, f"{group}/{name}")}
    other = {name: value for name, value in (get(case, group) or {}).items() if name not in YES_OR_NO[group]}
    return put(case, group, {**other, **found, "complete": True})


@share(0.3)
@given(interviews())
def test_asking_ends_in_a_firm_verdict_and_never_asks_what_is_known(interview: tuple[Json, Json]) -> None:
    hidden, case = interview
    asked: list[str] = []
    answer = judge(case)
    while answer.verdict == "inspect":
        assert answer.to_establish, "undecided, and nothing to ask"
        for question in answer.to_establish:
            assert is_missing(case, question.field), question.field
        field = answer.to_establish[0].field
        note(f"asked for {field}")
        assert field not in asked
        asked.append(field)
        case = answered(case, hidden, field)
        answer = judge(case)
    assert answer.verdict == judge(hidden).verdict


@st.composite
def undecided_cases(draw: st.DrawFn) -> Json:
    """A case known more or less well, one in two of a tyre made ten years ago to the week."""
    drawn: Drawn = draw(with_house_rules(draw(full_cases(markings=MARKINGS + TERSE_MARKINGS))))
    case = draw(full_or_vague(drawn))
    if draw(st.booleans()):
        on = date.fromisoformat(case["assessed_on"])
        year, week, _ = (on - timedelta(days=3653 + draw(st.integers(-8, 8)))).isocalendar()
        case = put(case, "/tyre/date_code", f"{min(week, 52):02d}{year % 100:02d}")
    return case


@share(0.3)
@given(undecided_cases())
def test_what_is_undecided_leaves_something_to_ask(case: Json) -> None:
    answer = judge(case)
    assert (answer.verdict != "inspect") or answer.to_establish


NEWEST: Final = tuple({edition.book.id: edition.reference for edition in reversed(list_editions())}.values())


@pytest.mark.parametrize("book", NEWEST)
@pytest.mark.parametrize("marking", ["205/55R16 91V", "205/75R16C 110/108R", "315/80R22.5 156/150L"])
def test_a_driver_is_asked_what_happened_on_the_road(book: str, marking: str) -> None:
    """How far it was driven flat, at what pressure it was found, whether it loses air, whether sealant went in."""
    answer = check_repairability(
        msgspec.convert({"rulebook": book, "detail": "full", "tyre": {"marking": marking}}, Case)
    )
    if answer.verdict == "inspect":
        by_phone = [ask for ask in answer.to_establish if ask.asked_at == "phone"]
        assert {field for ask in by_phone for field in (ask.field, *ask.parts)} >= {
            "/history/driven_flat",
            "/history/flat_distance_km",
            "/history/losing_air",
            "/history/sealant_used",
        }
