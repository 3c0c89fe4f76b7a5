"""Where stems are cut: in a groove, on a lug, inside; by the trade's habit or by the unit's own instruction."""

from __future__ import annotations

import copy
from typing import Any

import msgspec
import pytest
from tests.given import given
from tests.sound_case import changed

from mendgauge.case.case import Case
from mendgauge.operations.stem_trim import trim_stems
from mendgauge.operations.stem_trim.answer import StemTrim, StemTrims

Json = dict[str, Any]

CAR: Json = changed(
    {
        "position/fitment": "single",
        "tyre/tread_depth_mm": 5,
        "tyre/new_tread_depth_mm": None,
        "injuries/0/measured_from": "inside",
        "injuries/0/diameter_mm": 4,
        "injuries/0/lean_deg": 5,
        "history/pressure_found_percent": 85,
    }
)
UNIT: Json = {
    "code": "A",
    "kind": "one_piece",
    "stem_mm": 6,
    "stem_length_mm": 60,
    "patch_mm": 35,
    "construction": "radial",
    "reinforced": False,
}
STEM: Json = {"code": "S", "kind": "stem", "stem_mm": 6, "stem_length_mm": 60}
PATCH: Json = {"code": "P", "kind": "patch", "patch_mm": 35, "construction": "radial", "reinforced": False}


def answer(hole: Json | None = None, *, tread: Any = 5, stock: list[Json] | None = None, **changes: Any) -> StemTrims:
    case = copy.deepcopy(CAR) | changes
    case["injuries"][0].update(hole or {})
    case["tyre"]["tread_depth_mm"] = tread
    if stock is not None:
        case["stock"] = stock
    return trim_stems(msgspec.convert(case, Case))


def only(*given: Any, **changes: Any) -> StemTrim:
    (trim,) = answer(*given, **changes).injuries
    return trim


def outside(trim: StemTrim) -> dict[str, tuple[float, float, str]]:
    return {cut.emerges_in: (cut.proud_mm.low, cut.proud_mm.high, cut.capped) for cut in trim.outside}


LUG: Json = {"emerges_in": "lug"}
CUTS: list[tuple[str, Json, Any, dict[str, tuple[float, float, str]]]] = [
    ("in a groove", {}, 5, {"groove": (0, 0, "no")}),
    ("in a groove of a worn tyre", {}, 1.8, {"groove": (0, 0, "no")}),
    ("on a lug", LUG, 5, {"lug": (3, 3, "no")}),
    ("on a lug as deep as it stands proud", LUG, 3, {"lug": (3, 3, "no")}),
    ("on a lug with 2 mm left", LUG, 2, {"lug": (2, 2, "yes")}),
    ("on a lug with 2 to 4 mm left", LUG, {"low": 2, "high": 4}, {"lug": (2, 3, "open")}),
    ("nobody looked", {"emerges_in": None}, 5, {"groove": (0, 0, "no"), "lug": (3, 3, "no")}),
]  # fmt: skip


@pytest.mark.parametrize(("where", "hole", "tread", "cuts"), CUTS, ids=[cut[0] for cut in CUTS])
def test_a_stem_is_cut_where_the_channel_comes_out(where: str, hole: Json, tread: Any, cuts: Json) -> None:
    trim = only(hole, tread=tread, stock=[UNIT])
    assert outside(trim) == cuts, where
    assert trim.inside is None
    assert all(cut.basis == "common_practice" for cut in trim.outside)


def test_a_cut_that_was_capped_says_why() -> None:
    (cut,) = only(LUG, tread=2).outside
    assert cut.asked_mm == 3
    assert cut.says == (
        "Only 2 mm of tread is left. A stem never stands prouder than that, so cut it 2 mm proud, not 3 mm."
    )


def test_what_the_cut_hangs_on_is_asked() -> None:
    asked = {
        question.field: question.settles
        for question in answer({"emerges_in": None}, tread={"low": 2, "high": 4}).to_establish
    }
    assert "stem_trim" in asked["/injuries/0/emerges_in"]
    assert "stem_trim" in asked["/tyre/tread_depth_mm"]
    assert answer(LUG, tread={"low": 4, "high": 5}).to_establish == ()


def test_the_units_own_instruction_comes_first() -> None:
    unit = {**UNIT, "trim": {"in_groove_mm": 1, "on_lug_mm": 2}}
    trim = only({"emerges_in": None}, stock=[unit])
    assert trim.unit == "A"
    assert outside(trim) == {"groove": (1, 1, "no"), "lug": (2, 2, "no")}
    assert all("unit's maker" in given(cut.source) for cut in trim.outside)


def test_the_units_own_instruction_is_capped_too() -> None:
    assert outside(only(LUG, tread=2, stock=[{**UNIT, "trim": {"on_lug_mm": 4}}])) == {"lug": (2, 2, "yes")}


def test_a_stem_without_a_patch_of_its_own_is_cut_inside_too() -> None:
    trim = only({"lean_deg": 32}, stock=[STEM, PATCH])
    assert trim.unit == "S"
    assert trim.inside is not None
    assert (trim.inside.applies, trim.inside.at, trim.inside.proud_mm.high) == ("yes", "liner", 3)
    assert trim.inside.basis == "from_memory"
    own = only({"lean_deg": 32}, stock=[{**STEM, "trim": {"inside_mm": 2}}, PATCH]).inside
    assert own is not None
    assert own.proud_mm.high == 2


def test_while_one_piece_or_two_is_open_so_is_the_cut_inside() -> None:
    inside = only({"lean_deg": None}, stock=[UNIT, STEM, PATCH]).inside
    assert inside is not None
    assert inside.applies == "open"


def test_no_stem_is_ever_stretched() -> None:
    assert "never_stretched" in [caution.code for caution in answer().cautions]


def test_no_stem_is_cut_in_a_tyre_that_may_not_be_repaired() -> None:
    answered = answer({"diameter_mm": 7})
    assert answered.offer == "withheld"
    assert answered.injuries == ()
    assert "never_stretched" not in [caution.code for caution in answered.cautions]


def test_an_injury_in_the_rubber_alone_has_no_stem() -> None:
    assert answer({"depth": "rubber_only", "measured_from": "outside"}).injuries == ()
