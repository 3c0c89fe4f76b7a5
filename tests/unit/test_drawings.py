"""Drawings to scale: measured on the drawing itself, against the geometry and the rulebook's figures."""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec
import pytest
from tests.drawn import Drawn

from mendgauge.case.case import Case
from mendgauge.operations.drawings import draw_tyre
from mendgauge.operations.drawings.picture import View

ON = date(2026, 11, 24)
NAIL: dict[str, Any] = {
    "region": "tread",
    "depth": "through",
    "across_mm": 20,
    "around_mm": 640,
    "measured_from": "outside",
    "diameter_mm": 4.0,
    "stage": "found",
    "lean_deg": 15,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}
SOUND: dict[str, Any] = {
    "rulebook": "gb@2026.1",
    "reference": "DEPOT-3/OFFSIDE-REAR",
    "vehicle": {"kind": "car"},
    "tyre": {
        "marking": "205/55R16 91V",
        "tread_depth_mm": 5,
        "new_tread_depth_mm": 8,
        "tread_width_mm": 165,
        "crown_thickness_mm": 7,
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    },
    "injuries": [NAIL],
    "earlier_repairs": [],
    "inspection": {"complete": True},
    "history": {"complete": True},
}
MARKING_ALONE: dict[str, Any] = {"rulebook": "gb@2026.1", "tyre": {"marking": "205/55R16 91V"}}
DRIVER: dict[str, Any] = MARKING_ALONE | {"injuries": [{"region": "tread", "object": "screw"}]}
BEYOND = SOUND | {"injuries": [NAIL | {"across_mm": 70}]}
TOO_LARGE = SOUND | {"injuries": [NAIL | {"diameter_mm": 9}]}
SIDEWALL = SOUND | {"injuries": [{"region": "sidewall"}]}
PLUGGED = SOUND | {"earlier_repairs": [{"method": "plug_only", "across_mm": 60, "around_mm": 130, "patch_mm": 40}]}
TRUCK: dict[str, Any] = {
    "rulebook": "us@2026.1",
    "vehicle": {"kind": "truck"},
    "tyre": {"marking": "295/75R22.5 144/141L", "tread_depth_mm": 9},
    "injuries": [
        NAIL | {"across_mm": {"low": 20, "high": 30}, "diameter_mm": {"low": 6, "high": 8}, "emerges_in": "lug"},
        NAIL | {"across_mm": -40, "around_mm": 800, "diameter_mm": 5, "lean_deg": 0, "emerges_in": None},
    ],
    "earlier_repairs": [{"method": "one_piece", "proper": True, "across_mm": -30, "around_mm": 2000, "patch_mm": 65}],
}
MOTORCYCLE: dict[str, Any] = {
    "rulebook": "gb@2026.1",
    "vehicle": {"kind": "motorcycle"},
    "tyre": {"marking": "180/55ZR17 (73W)"},
    "injuries": [NAIL],
}
MANY = SOUND | {
    "injuries": [NAIL | {"across_mm": 6.0 * place - 60.0, "around_mm": 90.0 * place} for place in range(20)],
    "earlier_repairs": [
        {"method": "one_piece", "proper": True, "across_mm": 0, "around_mm": 100 + 35 * n, "patch_mm": 30}
        for n in range(50)
    ],
}
CASES = {
    "sound": SOUND,
    "marking alone": MARKING_ALONE,
    "driver": DRIVER,
    "beyond": BEYOND,
    "too large": TOO_LARGE,
    "sidewall": SIDEWALL,
    "plugged": PLUGGED,
    "truck": TRUCK,
    "motorcycle": MOTORCYCLE,
    "many": MANY,
}
TO_BE_READ = {name: case for name, case in CASES.items() if name != "many"}
"""Cases of which every text has a place of its own; with seventy repairs no sheet has that."""


def draw(case: dict[str, Any], view: View = "sheet") -> Drawn:
    return Drawn(draw_tyre(msgspec.convert(case, Case), view, ON).svg)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
@pytest.mark.parametrize("view", ["sheet", "crown_section", "liner_plan"])
def test_every_case_is_drawn_with_nothing_off_the_sheet(case: dict[str, Any], view: View) -> None:
    drawn = draw(case, view)
    assert drawn.title
    assert drawn.description.endswith(".")
    assert not drawn.off_the_sheet()


@pytest.mark.parametrize("case", TO_BE_READ.values(), ids=TO_BE_READ)
def test_no_text_stands_on_another(case: dict[str, Any]) -> None:
    assert not draw(case).on_each_other()


def test_the_band_is_as_wide_as_the_rulebook_says_at_the_scale_that_is_stated() -> None:
    # BS AU 159g:2013, British association's summary: 70 % of a section over 200 mm, so 143.5 mm of 205; drawn 1 : 2.
    section = draw(SOUND, "crown_section")
    assert "Section through the crown, scale 1 : 2" in section.texts
    left, right = sorted(x for x, *_ in section.band_lines())
    assert right - left == pytest.approx(143.5 / 2, abs=0.01)
    plan = draw(SOUND, "liner_plan")
    assert "The liner unrolled, seen from inside, scale 1 : 2" in plan.texts
    heights = {round(y, 3) for _, y, _, _ in plan.band_lines()}
    assert max(heights) - min(heights) == pytest.approx(143.5 / 2, abs=0.01)


def test_the_mouth_is_the_ellipse_of_a_leaning_channel() -> None:
    # A 6 mm cutter at 15 degrees opens 6 / cos 15 = 6.212 mm; the channel shifts 7 tan 15 = 1.876 mm (solid geometry).
    plan = draw(SOUND, "liner_plan")
    (mouth,) = plan.of("ellipse")
    assert mouth.number("rx") * 2 / 0.5 == pytest.approx(6.212, abs=0.005)
    assert mouth.number("ry") * 2 / 0.5 == pytest.approx(6.0, abs=0.005)
    y_of_centre_line = sum({y for _, y, _, _ in plan.band_lines()}) / 2
    assert (y_of_centre_line - (mouth.y + mouth.number("cy"))) / 0.5 == pytest.approx(21.876, abs=0.01)


def test_a_place_that_is_a_range_is_hatched_and_a_sure_one_is_not() -> None:
    hatching = [one for one in draw(SOUND, "crown_section").of("path") if one.element.get("d", "").count("M") > 2]
    assert not hatching
    ranged = SOUND | {"injuries": [NAIL | {"across_mm": {"low": 15, "high": 30}}]}
    assert [one for one in draw(ranged, "crown_section").of("path") if one.element.get("d", "").count("M") > 2]


def test_a_place_that_nobody_measured_is_said_to_be_not_known() -> None:
    nowhere = {name: value for name, value in NAIL.items() if name not in ("across_mm", "around_mm")}
    said = " ".join(draw(SOUND | {"injuries": [nowhere]}).texts)
    assert "distance from the centre line not known; distance from the valve not known" in said
    assert "from the valve along the liner" in " ".join(draw(SOUND).texts)


def test_a_broken_rule_is_flagged_with_its_reason() -> None:
    drawn = draw(BEYOND)
    assert "For a specialist" in drawn.texts
    (reason,) = [text for text in drawn.texts if text.startswith("The channel reaches")]
    assert "The repairable band ends at 71.8 mm." in reason
    assert "Broken rule 1: The channel reaches" in drawn.description
    assert "1" in draw(BEYOND, "crown_section").texts


def test_an_open_rule_has_a_question_mark() -> None:
    assert any(text.endswith("?") for text in draw(DRIVER, "crown_section").texts)


def test_it_says_what_nobody_measured() -> None:
    drawn = draw(DRIVER)
    assert "width of the tread" in drawn.description
    assert "Not known of injury 1: its place across the tread" in drawn.description
    assert "Not measured" not in draw(SOUND).description


def test_nothing_is_chosen_for_a_tyre_that_must_not_be_repaired() -> None:
    assert "Unit" not in draw(SIDEWALL).texts
    assert "Unit" in draw(SOUND).texts


def test_an_american_drawing_is_in_inches() -> None:
    texts = draw(TRUCK).texts
    assert "Section width 11 5/8 in" in texts
    assert any("Dimensions in inches" in text for text in texts)


HOSTILE = {
    "markup": "<script>alert(1)</script><![CDATA[x]]>&amp;",
    "attribute": "\" onload='alert(1)' x=\"",
    "direction": "\u202edetrever\u202c \u2066a\u2069 \u200f",
    "controls": "a\x00b\x1bc\x7f",
    "glyphs": "\U0001f6de \u6f22\u5b57 \u05e9\u05dc\u05d5\u05dd",
    "marks": "z" + "\u0336" * 60,
    "long": "W" * 100,
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_a_callers_text_stays_text(text: str) -> None:
    drawn = draw(SOUND | {"reference": text})
    plain = draw(SOUND | {"reference": "x"})
    assert [one.element.tag for one in drawn.placed] == [one.element.tag for one in plain.placed]
    assert not drawn.off_the_sheet()
    assert not drawn.on_each_other()
    assert not any(character in "".join(drawn.texts) for character in "\u202e\u2066\u200f\x00\x1b\x7f")


def test_the_code_of_a_unit_stays_text_too() -> None:
    unit = {"code": "<b>&", "kind": "one_piece", "stem_mm": 6, "stem_length_mm": 70, "patch_mm": 40, "on_hand": 1}
    assert "<b>&" in draw(SOUND | {"stock": [unit]}).texts


def test_the_same_case_gives_the_same_bytes() -> None:
    case = msgspec.convert(TRUCK, Case)
    assert draw_tyre(case, "sheet", ON) == draw_tyre(case, "sheet", ON)
