"""A fleet's own rules: each at its limit, beyond it and not known; and refused where they are looser than the book."""

from __future__ import annotations

from typing import Any

import pytest
from tests.sound_case import EARLIER, answer, finding, finding_of

from mendgauge.core.errors import CaseError

INJURY, TYRE = "injuries/0", "tyre"


@pytest.mark.parametrize(
    ("house", "rule", "changes", "expected"),
    [
        (
            {"max_injury_mm": 4},
            "house_injury_size",
            {},
            ("repairable", "met", (4.0, 4.0, "mm"), (4.0, "mm", "at_most", True), 0.0),
        ),
        (
            {"max_injury_mm": 3.5},
            "house_injury_size",
            {},
            ("not_repairable", "broken", (4.0, 4.0, "mm"), (3.5, "mm", "at_most", True), -0.5),
        ),
        (
            {"max_injury_mm": 4},
            "house_injury_size",
            {f"{INJURY}/diameter_mm": {"low": 3.5, "high": 4.5}},
            ("inspect", "open", (3.5, 4.5, "mm"), (4.0, "mm", "at_most", True), -0.5),
        ),
        (
            {"max_repairs": 1},
            "house_repair_count",
            {},
            ("repairable", "met", (1.0, 1.0, "repairs"), (1.0, "repairs", "at_most", True), 0.0),
        ),
        (
            {"max_repairs": 1},
            "house_repair_count",
            {"earlier_repairs": [EARLIER | {"around_mm": 1500}]},
            ("not_repairable", "broken", (2.0, 2.0, "repairs"), (1.0, "repairs", "at_most", True), -1.0),
        ),
        (
            {"max_repairs": 0},
            "house_repair_count",
            {f"{INJURY}/depth": "rubber_only", f"{INJURY}/stage": None, f"{INJURY}/measured_from": None},
            ("repairable", "met", (0.0, 0.0, "repairs"), (0.0, "repairs", "at_most", True), 0.0),
        ),
        (
            {"min_tread_mm": 5},
            "house_tread_depth",
            {},
            ("repairable", "met", (5.0, 5.0, "mm"), (5.0, "mm", "at_least", True), 0.0),
        ),
        (
            {"min_tread_mm": 5.5},
            "house_tread_depth",
            {},
            ("not_repairable", "broken", (5.0, 5.0, "mm"), (5.5, "mm", "at_least", True), -0.5),
        ),
        (
            {"max_lean_deg": 10},
            "house_lean",
            {f"{INJURY}/lean_deg": 10},
            ("repairable", "met", (10.0, 10.0, "deg"), (10.0, "deg", "at_most", True), 0.0),
        ),
        (
            {"max_lean_deg": 10},
            "house_lean",
            {f"{INJURY}/lean_deg": 11},
            ("not_repairable", "broken", (11.0, 11.0, "deg"), (10.0, "deg", "at_most", True), -1.0),
        ),
        (
            {"max_lean_deg": 10},
            "house_lean",
            {f"{INJURY}/lean_deg": None},
            ("inspect", "open", None, (10.0, "deg", "at_most", True), None),
        ),
        ({"refuse_steer_axle": True}, "house_steer_axle", {}, ("repairable", "met", None, None, None)),
        (
            {"refuse_steer_axle": True},
            "house_steer_axle",
            {"position": {"axle": "steer"}},
            ("not_repairable", "broken", None, None, None),
        ),
        (
            {"refuse_steer_axle": True},
            "house_steer_axle",
            {"position": {}},
            ("inspect", "open", None, None, None),
        ),
        ({"refuse_speed_v_and_above": True}, "house_speed", {}, ("repairable", "met", None, None, None)),
        (
            {"refuse_speed_v_and_above": True},
            "house_speed",
            {f"{TYRE}/marking": "205/55R16 91V"},
            ("not_repairable", "broken", None, None, None),
        ),
        (
            {"refuse_without_maker_approval": True},
            "house_maker_approval",
            {},
            ("repairable", "met", None, None, None),
        ),
        (
            {"refuse_without_maker_approval": True},
            "house_maker_approval",
            {f"{TYRE}/maker_policy": {}},
            ("inspect", "open", None, None, None),
        ),
        ({"refuse_regions": ["sidewall"]}, "house_region", {}, ("repairable", "met", None, None, None)),
        ({"refuse_regions": ["tread"]}, "house_region", {}, ("not_repairable", "broken", None, None, None)),
        (
            {"refuse_special_tyres": ["retread"]},
            "house_retread",
            {},
            ("repairable", "met", None, None, None),
        ),
        (
            {"refuse_special_tyres": ["retread"]},
            "house_retread",
            {f"{TYRE}/traits": {"complete": True, "retread": True}},
            ("not_repairable", "broken", None, None, None),
        ),
        (
            {"refuse_special_tyres": ["studded"]},
            "house_studded",
            {f"{TYRE}/traits": {"retread": False}},
            ("inspect", "open", None, None, None),
        ),
    ],
)
def test_a_house_rule(house: dict[str, Any], rule: str, changes: dict[str, Any], expected: tuple[Any, ...]) -> None:
    assert finding_of(rule, {"house_rules": house} | changes) == expected
    source = finding(rule, answer({"house_rules": house} | changes))
    assert (source.basis, source.source) == ("house_rule", "House rule sent with the case")


@pytest.mark.parametrize(
    ("house", "rule", "changes", "field"),
    [
        ({"max_injury_mm": 4}, "house_injury_size", {f"{INJURY}/diameter_mm": None}, "/injuries/0/diameter_mm"),
        ({"max_injury_mm": 3}, "house_injury_size", {f"{INJURY}/depth": None}, "/injuries/0/depth"),
        ({"max_repairs": 1}, "house_repair_count", {"earlier_repairs": None}, "/earlier_repairs"),
        ({"max_repairs": 0}, "house_repair_count", {f"{INJURY}/depth": None}, "/injuries/0/depth"),
        # Too many already, if it needs one more; if it needs none, they do not count.
        (
            {"max_repairs": 0},
            "house_repair_count",
            {f"{INJURY}/depth": None, "earlier_repairs": [EARLIER | {"around_mm": 1500}]},
            "/injuries/0/depth",
        ),
        ({"min_tread_mm": 4}, "house_tread_depth", {f"{TYRE}/tread_depth_mm": None}, "/tyre/tread_depth_mm"),
        ({"max_age_years": 4}, "house_age", {f"{TYRE}/date_code": None}, "/tyre/date_code"),
        ({"max_lean_deg": 10}, "house_lean", {f"{INJURY}/lean_deg": None}, "/injuries/0/lean_deg"),
        (
            {"max_lean_deg": 10},
            "house_lean",
            {f"{INJURY}/lean_deg": 12, f"{INJURY}/depth": None},
            "/injuries/0/depth",
        ),
        ({"refuse_steer_axle": True}, "house_steer_axle", {"position": {}}, "/position/axle"),
        (
            {"refuse_steer_axle": True},
            "house_steer_axle",
            {"position": {"axle": "front"}, "vehicle": {"kind": "trailer"}},
            "/position/steered",
        ),
        ({"refuse_speed_v_and_above": True}, "house_speed", {f"{TYRE}/marking": "205/55R16"}, "/tyre/marking"),
        (
            {"refuse_without_maker_approval": True},
            "house_maker_approval",
            {f"{TYRE}/maker_policy": {}},
            "/tyre/maker_policy/repair",
        ),
        ({"refuse_regions": ["tread"]}, "house_region", {f"{INJURY}/region": None}, "/injuries/0/region"),
        ({"refuse_special_tyres": ["studded"]}, "house_studded", {f"{TYRE}/traits": {}}, "/tyre/traits/studded"),
        (
            {"min_spacing_mm": 190},
            "house_spacing",
            {"earlier_repairs": [EARLIER | {"measured_from": "outside"}]},
            "/earlier_repairs/0/around_mm",
        ),
        (
            {"min_spacing_mm": 250},
            "house_spacing",
            {
                "earlier_repairs": [EARLIER | {"measured_from": "outside", "around_mm": 840}],
                f"{INJURY}/depth": None,
            },
            "/injuries/0/depth",
        ),
    ],
)
def test_what_a_house_rule_hangs_on_is_asked_for(
    house: dict[str, Any], rule: str, changes: dict[str, Any], field: str
) -> None:
    found = answer({"house_rules": house} | changes)
    assert (found.verdict, finding(rule, found).outcome) == ("inspect", "open")
    assert rule in {name for ask in found.to_establish if ask.field == field for name in ask.settles}


def test_the_age_is_reckoned_from_the_date_code() -> None:
    verdict, outcome, observed, limit, margin = finding_of("house_age", {"house_rules": {"max_age_years": 3}})
    assert (verdict, outcome, limit) == ("not_repairable", "broken", (3.0, "years", "at_most", True))
    assert observed[2] == "years"
    assert 3.4 < observed[0] <= observed[1] < 3.5
    assert margin == pytest.approx(3 - observed[1])
    assert finding_of("house_age", {"house_rules": {"max_age_years": 4}})[:2] == ("repairable", "met")


@pytest.mark.parametrize(("book", "outcome"), [("us", "met"), ("gb", "broken")])
def test_a_channel_cut_with_an_inch_cutter_is_held_to_the_house_by_its_nominal_size(book: str, outcome: str) -> None:
    """In America a 1/4 in cutter counts as 6 mm, in Britain as the 6.35 mm it is."""
    cut = {"rulebook": book, f"{INJURY}/diameter_mm": 6.35, f"{INJURY}/stage": "prepared"}
    assert finding("house_injury_size", answer({"house_rules": {"max_injury_mm": 6}} | cut)).outcome == outcome


def test_spacing_is_measured_at_the_liner() -> None:
    # 200 mm at the tread are less at the liner, under 7 mm of crown and 5 mm of tread on a tyre of 315.95 mm radius.
    place = {"earlier_repairs": [EARLIER | {"measured_from": "outside", "around_mm": 840.0}]}
    verdict, outcome, observed, limit, _ = finding_of("house_spacing", place | {"house_rules": {"min_spacing_mm": 190}})
    assert (verdict, outcome, limit) == ("repairable", "met", (190.0, "mm", "at_least", True))
    assert observed[0] == pytest.approx(200 * (1 - 12 / 315.95), abs=0.1)
    assert finding_of("house_spacing", place | {"house_rules": {"min_spacing_mm": 195}})[:2] == (
        "not_repairable",
        "broken",
    )


@pytest.mark.parametrize(
    ("house", "changes", "field", "both"),
    [
        ({"max_injury_mm": 6.1}, {}, "max_injury_mm", ("6.1 mm", "gb@2026.2 6.", "at most 6,")),
        ({"min_tread_mm": 1.5}, {}, "min_tread_mm", ("1.5 mm", "gb@2026.2 1.6.", "at least 1.6,")),
        (
            {"max_repairs": 2},
            {"tyre/marking": "205/55R16 91V"},
            "max_repairs",
            ("2 repairs", "gb@2026.2 1.", "at most 1,"),
        ),
        ({"max_lean_deg": 46}, {"rulebook": "nz"}, "max_lean_deg", ("46 degrees", "nz@2026.2 45.", "at most 45,")),
        ({"min_spacing_mm": 149}, {"rulebook": "nz"}, "min_spacing_mm", ("149 mm", "nz@2026.2 150.", "at least 150,")),
        (
            {"max_one_piece_lean_deg": 26},
            {},
            "max_one_piece_lean_deg",
            ("26 degrees", "gb@2026.2 25.", "at most 25,"),
        ),
    ],
)
def test_a_looser_house_rule_is_refused_naming_both_values(
    house: dict[str, Any], changes: dict[str, Any], field: str, both: tuple[str, ...]
) -> None:
    with pytest.raises(CaseError) as refused:
        answer({"house_rules": house} | changes)
    (flaw,) = refused.value.errors
    assert flaw.pointer == f"/house_rules/{field}"
    assert all(part in flaw.detail for part in both)


@pytest.mark.parametrize(
    ("house", "changes"),
    [
        ({"max_injury_mm": 6}, {}),
        ({"min_tread_mm": 1.6}, {}),
        ({"max_repairs": 5}, {}),
        ({"max_lean_deg": 45}, {"rulebook": "nz"}),
        ({"min_spacing_mm": 150}, {"rulebook": "nz"}),
        ({"max_one_piece_lean_deg": 25}, {}),
    ],
)
def test_a_house_rule_as_strict_as_the_book_is_taken(house: dict[str, Any], changes: dict[str, Any]) -> None:
    assert answer({"house_rules": house} | changes).verdict == "repairable"


def test_a_limit_that_hangs_on_an_unknown_mass_is_held_against_the_loosest() -> None:
    """1.0 mm over 3,500 kg, 1.6 mm under: Construction and Use Regulations 27, in summary."""
    unknown = {"vehicle": {"kind": "van"}, "tyre/marking": "215/65R16C 109/107T"}
    assert answer({"house_rules": {"min_tread_mm": 1.2}} | unknown).verdict == "repairable"
    with pytest.raises(CaseError):
        answer({"house_rules": {"min_tread_mm": 0.9}} | unknown)
