"""What a finding says of a rule on a quantity: the observation, the limit with its sense, and the margin."""

from __future__ import annotations

from math import cos, radians
from typing import Any

import msgspec
import pytest
from tests.sound_case import EARLIER, answer, finding, finding_of

from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability

INJURY, TYRE = "injuries/0", "tyre"
AMERICAN_TRUCK = {
    "rulebook": "us",
    "vehicle": {"kind": "truck", "gross_mass_kg": 18_000},
    "position": {"axle": "drive", "fitment": "single"},
    "tyre/marking": "315/80R22.5 156/150L",
    "tyre/tread_width_mm": 270,
}
FAR = EARLIER | {"across_mm": -30, "around_mm": 1500.0, "measured_from": "outside"}


@pytest.mark.parametrize(
    ("rule", "changes", "expected"),
    [
        ("injury_size", {}, ("repairable", "met", (4.0, 4.0, "mm"), (6.0, "mm", "at_most", True), 2.0)),
        (
            "injury_size",
            {f"{INJURY}/diameter_mm": 6.5},
            ("specialist", "broken", (6.5, 6.5, "mm"), (6.0, "mm", "at_most", True), -0.5),
        ),
        (
            "injury_size",
            {f"{INJURY}/diameter_mm": None},
            ("inspect", "open", None, (6.0, "mm", "at_most", True), None),
        ),
        # An American truck's hole may be 3/8 in as it is found, and 10 mm once it is cut.
        (
            "injury_size",
            {**AMERICAN_TRUCK, f"{INJURY}/diameter_mm": 9.6},
            ("specialist", "broken", (9.6, 9.6, "mm"), (9.5, "mm", "at_most", True), -0.1),
        ),
        (
            "injury_size",
            {**AMERICAN_TRUCK, f"{INJURY}/diameter_mm": 10.0, f"{INJURY}/stage": "prepared"},
            ("repairable", "met", (10.0, 10.0, "mm"), (10.0, "mm", "at_most", True), 0.0),
        ),
        # 20 mm off the centre line and half of the 6 mm cutter, straight through; the band is 70 % of 205 mm.
        ("band", {}, ("repairable", "met", (23.0, 23.0, "mm"), (71.75, "mm", "at_most", True), 48.75)),
        (
            "band",
            {f"{INJURY}/across_mm": -70.0},
            ("specialist", "broken", (73.0, 73.0, "mm"), (71.75, "mm", "at_most", True), -1.25),
        ),
        (
            "cut_length",
            {f"{INJURY}/diameter_mm": 26.0, f"{INJURY}/depth": "to_cord"},
            ("not_repairable", "broken", (26.0, 26.0, "mm"), (25.0, "mm", "at_most", True), -1.0),
        ),
        ("one_piece_lean", {}, ("repairable", "met", (0.0, 0.0, "deg"), (25.0, "deg", "at_most", True), 25.0)),
        (
            "lean",
            {"rulebook": "nz", f"{INJURY}/lean_deg": 46, "tyre/tread_width_mm": 165},
            ("not_repairable", "broken", (46.0, 46.0, "deg"), (45.0, "deg", "at_most", True), -1.0),
        ),
        ("tread_depth", {}, ("repairable", "met", (5.0, 5.0, "mm"), (1.6, "mm", "at_least", True), 3.4)),
        (
            "tread_depth",
            {"rulebook": "us", "tyre/tread_depth_mm": 1.6, "tyre/tread_width_mm": 165},
            ("not_repairable", "broken", (1.6, 1.6, "mm"), (1.6, "mm", "at_least", False), 0.0),
        ),
        (
            "repair_count",
            {"tyre/marking": "205/55R16 91V"},
            ("repairable", "met", (1.0, 1.0, "repairs"), (1.0, "repairs", "at_most", True), 0.0),
        ),
        (
            "repair_count",
            {"tyre/marking": "205/55R16 91V", "earlier_repairs": [FAR]},
            ("not_repairable", "broken", (2.0, 2.0, "repairs"), (1.0, "repairs", "at_most", True), -1.0),
        ),
        (
            "maker_repair_count",
            {"tyre/maker_policy": {"repair": "permitted", "max_repairs": 1}, "earlier_repairs": [FAR]},
            ("not_repairable", "broken", (2.0, 2.0, "repairs"), (1.0, "repairs", "at_most", True), -1.0),
        ),
        (
            "maker_repair_count",
            {"tyre/maker_policy": {"repair": "permitted", "max_repairs": 2}, "earlier_repairs": [FAR]},
            ("repairable", "met", (2.0, 2.0, "repairs"), (2.0, "repairs", "at_most", True), 0.0),
        ),
        (
            "run_low",
            {
                "rulebook": "us",
                "tyre/tread_width_mm": 165,
                "history": {"pressure_found_percent": 80, "driven_flat": False},
            },
            ("repairable", "broken", (80.0, 80.0, "percent"), (80.0, "percent", "at_least", False), 0.0),
        ),
    ],
)
def test_a_finding(rule: str, changes: dict[str, Any], expected: tuple[Any, ...]) -> None:
    assert finding_of(rule, changes) == expected


def test_the_band_shows_no_channel_beyond_the_tyre() -> None:
    found = answer({f"{INJURY}/lean_deg": None, f"{INJURY}/lean_toward_deg": None, "tyre/crown_thickness_mm": 40.0})
    seen = finding("band", found).observed
    assert seen is not None
    # Half the section and the section height, 205 mm and 112.75 mm.
    assert (seen.low, seen.high) == (23.0, 102.5 + 112.75)


def test_a_limit_that_is_a_range_shows_both_ends_and_holds_the_stricter() -> None:
    found = answer({"rulebook": "us", f"{INJURY}/across_mm": 40.0})
    band = finding("band", found)
    assert band.limit is not None
    # A tread of 70 to 85 % of 205 mm, 25.4 mm in from each edge.
    assert (band.limit.value, band.limit.value_high) == (71.75 - 25.4, 87.125 - 25.4)
    # The mouth of the 4.5 mm cutter that a 4 mm hole takes there.
    assert band.outcome == "met"
    assert band.margin == pytest.approx(46.35 - 42.25)


@pytest.mark.parametrize(("around", "outcome"), [(200.0, "met"), (56.0, "broken")], ids=["200 mm apart", "56 mm apart"])
def test_patches_and_their_margins_stay_apart(around: float, outcome: str) -> None:
    """Half of either patch and two buffed margins of 10 mm: the smallest patch over a 6 mm mouth is 30 mm."""
    earlier = EARLIER | {"measured_from": "outside", "around_mm": 640 + around}
    found = answer({"earlier_repairs": [earlier], "tyre/new_tread_depth_mm": 5.0})
    one = finding("overlap", found)
    assert one.outcome == outcome
    assert one.limit is not None
    assert one.observed is not None
    assert (one.limit.value, one.limit.sense) == ((30 + 40) / 2 + 20, "at_least")
    assert one.observed.low == pytest.approx(around * (1 - 12 / 315.95), abs=0.05)
    assert one.margin == pytest.approx(one.observed.low - one.limit.value, abs=0.001)


def test_a_distance_of_the_book_is_held_between_centres() -> None:
    """New Zealand: 150 mm between repairs (NZS 5423, one retailer)."""
    place = {"rulebook": "nz", "tyre/tread_width_mm": 165}
    near = answer(place | {"earlier_repairs": [EARLIER | {"measured_from": "outside", "around_mm": 790.0}]})
    far = answer(place | {"earlier_repairs": [EARLIER | {"measured_from": "outside", "around_mm": 810.0}]})
    assert finding("spacing", near).outcome == "broken"
    assert finding("spacing", far).outcome == "met"
    limit = finding("spacing", far).limit
    assert limit is not None
    assert (limit.value, limit.unit, limit.sense, limit.inclusive) == (150.0, "mm", "at_least", True)


def test_the_age_of_a_steered_axle_is_a_limit_and_six_years_a_warning() -> None:
    found = answer(
        {
            "vehicle": {"kind": "bus", "gross_mass_kg": 18000},
            "position": {"axle": "steer", "fitment": "single"},
            "tyre/marking": "275/70R22.5 148/145J",
            "tyre/date_code": "2316",
            "tyre/tread_width_mm": 220,
            "tyre/tread_depth_mm": 8.0,
            "tyre/new_tread_depth_mm": 14.0,
            "tyre/crown_thickness_mm": 16,
        }
    )
    limit, warning = finding("age", found), finding("age_warning", found)
    assert (found.verdict, limit.outcome, warning.outcome) == ("repairable", "broken", "broken")
    assert (limit.effect, found.next_step) == ("not_in_this_position", "repair_for_another_position")
    assert limit.limit is not None
    assert (limit.limit.value, limit.limit.inclusive) == (10.0, False)
    assert "must be under 10 years" in limit.says
    assert warning.effect == "caution"


def test_a_broken_finding_says_what_to_do_and_a_met_one_does_not() -> None:
    found = answer({f"{INJURY}/across_mm": 75.0})
    band, size = finding("band", found), finding("injury_size", found)
    assert band.advice is not None
    assert band.cause
    assert all((band.advice.tyre, band.advice.vehicle, band.advice.operation))
    assert (size.advice, size.cause) == (None, None)


@pytest.mark.parametrize("detail", ["brief", "full"])
def test_advice_that_has_nothing_to_say_of_the_vehicle_leaves_it_out(detail: str) -> None:
    tubed = {
        "detail": detail,
        "rulebook": "gb",
        "tyre": {"marking": "4.00-18 64S TT"},
        "vehicle": {"kind": "motorcycle"},
    }
    found = next(one for one in check_repairability(msgspec.convert(tubed, Case)).findings if one.rule == "tube_type")
    assert found.advice is not None
    assert "vehicle" not in msgspec.to_builtins(found.advice)
    assert found.advice.tyre == "Repair the tyre, and renew or repair the tube."


@pytest.mark.parametrize("detail", ["brief", "full"])
@pytest.mark.parametrize(
    ("kind", "marking", "fitment", "may_pair"),
    [
        ("car", "205/55R16 91V", None, False),
        ("motorcycle", "100/90-19 57P", None, False),
        ("truck", "315/80R22.5 156/150L", "single", False),
        ("truck", "315/80R22.5 156/150L", "dual", True),
        ("truck", "315/80R22.5 156/150L", None, True),
        (None, "205/65R16C 107/105T", None, True),
    ],
)
@pytest.mark.parametrize(
    ("rule", "seen"),
    [("run_low", {"history": {"driven_flat": True}}), ("run_flat_signs", {"inspection": {"run_flat_signs": True}})],
)
def test_the_mate_is_looked_at_only_where_there_may_be_one(
    detail: str, kind: str | None, marking: str, fitment: str | None, may_pair: bool, rule: str, seen: dict[str, Any]
) -> None:
    """On a dual, the mate carried the load of a tyre that ran low; cars and motorcycles have none (common practice)."""
    tyre = {"tyre": {"marking": marking}, "vehicle": {"kind": kind}, "position": {"fitment": fitment}}
    found = check_repairability(msgspec.convert({"rulebook": "gb", "detail": detail, **tyre, **seen}, Case))
    advice = finding(rule, found).advice
    assert advice is not None
    assert advice.vehicle is not None
    assert ("mate" in advice.vehicle) is may_pair


def test_what_to_do_with_a_tyre_that_ran_low_is_said_once_beside_its_finding() -> None:
    found = finding("run_low", answer({"history": {"driven_flat": True}}))
    assert found.advice is not None
    said = " ".join(filter(None, (found.says, found.advice.tyre, found.advice.vehicle)))
    assert said.count("before any air goes in") == said.count("off the rim") == 1


@pytest.mark.parametrize("detail", ["brief", "full"])
@pytest.mark.parametrize("changes", [{}, {"injuries": None}])
def test_words_of_a_marking_that_nobody_knows_are_said_beside_the_verdict(detail: str, changes: dict[str, Any]) -> None:
    """They may name a kind of tyre that its maker or the book lets nobody repair (common practice)."""
    marking = {**changes, "detail": detail, "tyre/marking": "205/55R16 91H ABC XL D/E{0} abc"}
    said = {one.code: one.says for one in answer(marking).cautions}
    assert said["word_not_read"].startswith("Left unread in the marking: 'ABC', 'D/E{0}'. That may name a kind of tyre")
    assert "word_not_read" not in {one.code for one in answer({**changes, "detail": detail}).cautions}
    scrapped = answer({**marking, "inspection/bulge": True})
    assert "word_not_read" not in {one.code for one in scrapped.cautions}


def test_nobody_hears_how_to_repair_a_tyre_that_is_scrapped() -> None:
    foam = {"tyre/traits/foam_lined": True}
    kept, scrapped = answer(foam), answer({**foam, "inspection/bulge": True})
    assert scrapped.verdict == "not_repairable"
    repaired, in_spite = finding("foam_lined", kept).advice, finding("foam_lined", scrapped).advice
    assert repaired is not None
    assert repaired.tyre is not None
    assert in_spite is None or in_spite.tyre is None
    assert {"maker_silent", "speed_rating"}.isdisjoint(one.code for one in scrapped.cautions)
    assert "speed_rating" in {one.code for one in kept.cautions}
    bulge = finding("bulge", scrapped).advice
    assert bulge is not None
    assert bulge.tyre == "Scrap the tyre at once."


def test_tread_that_is_enough_for_a_heavy_vehicle_alone_is_not_called_too_little() -> None:
    """1.6 mm for cars to 3,500 kg, 1.0 mm above (C&U reg. 27)."""
    found = finding("tread_depth", answer({"tyre/tread_depth_mm": 1.2, "vehicle/gross_mass_kg": None}))
    assert found.outcome == "open"
    says = "The tread left is 1.2 mm. Whether that is enough is not settled: it may have to be at least 1.6 mm."
    assert found.says == says


@pytest.mark.parametrize("region", ["sidewall", "shoulder"])
def test_what_lies_beyond_the_tread_may_hang_on_the_speed_symbol(region: str) -> None:
    """In Australia a specialist may take on no passenger tyre marked V or above; a bare size may be one."""
    changes = {"rulebook": "au", "tyre/marking": "205/55R16", "tyre/tread_width_mm": 165, f"{INJURY}/region": region}
    found = answer(changes)
    assert finding("region", found).outcome == "open"
    assert found.possible_verdicts == ("specialist", "not_repairable")


def test_the_channel_between_two_places_that_were_both_measured() -> None:
    """20 and 25 mm from the centre line, a cutter of 6 mm, and any lean up to 40 degrees between them."""
    changes = {f"{INJURY}/lean_deg": {"low": 0, "high": 40}, f"{INJURY}/other_side_across_mm": 25}
    _, _, observed, _, _ = finding_of("band", changes)
    assert observed[:2] == pytest.approx((25 + 3, 25 + 3 / cos(radians(40))), abs=1e-3)


@pytest.mark.parametrize(
    ("diameter", "depth", "possible"),
    [
        (8.0, "through", ("specialist",)),
        (8.0, None, ("repairable", "specialist")),
        (8.0, "rubber_only", ("repairable",)),
    ],
)
def test_only_an_injury_that_goes_through_has_a_channel(
    diameter: float, depth: str | None, possible: tuple[str, ...]
) -> None:
    changes = {f"{INJURY}/diameter_mm": diameter, f"{INJURY}/depth": depth}
    assert answer(changes).possible_verdicts == possible


@pytest.mark.parametrize("book", ["gb", "us", "za", "nz"])
def test_what_nobody_saw_is_no_observation(book: str) -> None:
    """A range as wide as anything can be is not what was seen: null, and no margin to it."""
    case = {"rulebook": book, "vehicle": {"kind": "car"}, "tyre": {"marking": "205/55R16 91V"}, "detail": "full"}
    found = check_repairability(msgspec.convert(case, Case))
    about = {one.rule: one for one in found.findings if one.limit is not None and one.outcome == "open"}
    assert about.keys() >= {"injury_size", "band"}
    for rule, one in about.items():
        if rule not in ("overlap", "spacing", "tread_depth"):
            assert (one.observed, one.margin) == (None, None), rule
        assert "0 to" not in one.says, rule


def test_what_was_seen_of_a_place_is_an_observation() -> None:
    case = {"rulebook": "gb", "vehicle": {"kind": "car"}, "tyre": {"marking": "205/55R16 91V"}}
    found = check_repairability(msgspec.convert(case | {"injuries": [{"region": "tread", "across_mm": 60}]}, Case))
    band = next(one for one in found.findings if one.rule == "band")
    assert band.observed is not None


@pytest.mark.parametrize(
    ("tread_mm", "says"),
    [
        (1.2, "The tread left is 1.2 mm. It must be more than 1.6 mm."),
        (1.603, "The tread left is 1.603 mm. It must be more than 1.6 mm."),
        (1.6, "The tread left is 2/32 in (1.6 mm). It must be more than 2/32 in (1.6 mm)."),
        (3.2, "The tread left is 4/32 in (3.2 mm). It must be more than 2/32 in (1.6 mm)."),
    ],
)
def test_what_reads_alike_in_32nds_and_differs_is_given_in_millimetres(tread_mm: float, says: str) -> None:
    found = finding("tread_depth", answer({"rulebook": "us", "tyre/tread_depth_mm": tread_mm}))
    assert found.says == says
