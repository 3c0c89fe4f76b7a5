"""Every field of the case stands in the registry, and what is derived from the registry fits the rest."""

from __future__ import annotations

from typing import get_args

import pytest

from mendgauge.case.case import Case
from mendgauge.case.contract import AskedAt, Instrument, describe
from mendgauge.case.fields import ENTRIES, FIELDS, SETTINGS, pattern_of
from mendgauge.case.instruments import Measuring
from mendgauge.judging.missing import FACTS
from mendgauge.wording import wording

QUESTIONS = wording("en-GB").questions


def test_a_field_without_an_entry_is_refused_by_name() -> None:
    entries = {pattern: entry for pattern, entry in ENTRIES.items() if pattern != "/injuries/*/lean_deg"}
    with pytest.raises(TypeError, match=r"field /injuries/\*/lean_deg of the case has no entry"):
        describe(Case, entries, SETTINGS)


def test_an_entry_without_a_field_is_refused_by_name() -> None:
    entries = {**ENTRIES, "/injuries/*/colour": ENTRIES["/injuries/*/lean_deg"]}
    with pytest.raises(TypeError, match=r"no field for these entries: /injuries/\*/colour\."):
        describe(Case, entries, SETTINGS)


def test_a_setting_without_a_field_is_refused_by_name() -> None:
    with pytest.raises(TypeError, match="no field for these entries: /house_colours"):
        describe(Case, ENTRIES, {*SETTINGS, "/house_colours"})


def test_instruments_are_those_of_the_contract() -> None:
    assert set(get_args(Instrument)) == set(Measuring.__struct_fields__)
    assert {field.entry.instrument for field in FIELDS.values()} - {None} == set(get_args(Instrument))


def test_only_a_measurement_is_taken_with_an_instrument() -> None:
    assert [field.pattern for field in FIELDS.values() if field.entry.instrument and field.measurement is None] == []


def test_every_fact_can_be_asked_for() -> None:
    worded = [field.pattern for field in FIELDS.values() if field.entry.facts]
    assert [pattern for pattern in worded if pattern not in QUESTIONS] == []


def test_every_question_is_for_a_field() -> None:
    assert [pattern for pattern in QUESTIONS if pattern not in FIELDS] == []


def test_every_place_to_ask_is_used() -> None:
    assert {field.entry.asked_at for field in FIELDS.values()} == set(get_args(AskedAt))


@pytest.mark.parametrize(
    "pattern",
    [
        "/vehicle/gross_mass_kg",
        "/injuries/*/emerges_in",
        "/tyre/traits/regrooved",
        "/inspection/liner_damage",
        "/inspection/perished",
        "/tyre/tread_depth_mm",
        "/injuries/*/lean_deg",
    ],
)
def test_no_driver_is_asked_by_phone_what_he_cannot_know(pattern: str) -> None:
    assert FIELDS[pattern].entry.asked_at != "phone"


def test_no_measurement_of_the_tyre_is_taken_by_phone() -> None:
    by_phone = {field.pattern for field in FIELDS.values() if field.measurement and field.entry.asked_at == "phone"}
    assert by_phone == {"/history/flat_distance_km"}


def test_every_fact_of_a_field_is_one_that_rules_may_depend_on() -> None:
    for field in FIELDS.values():
        for fact in field.entry.facts:
            assert any(name.rpartition(".")[2] == fact for name in FACTS), f"{field.pattern}: {fact}"


def test_a_pattern_stands_for_any_place_in_a_list() -> None:
    assert pattern_of("/in_service/axle_mates/2/tread_depth_mm") == "/in_service/axle_mates/*/tread_depth_mm"
    assert pattern_of("/tyre/marking") == "/tyre/marking"
