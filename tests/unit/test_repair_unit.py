"""The choice of repair units: what is asked for, what is chosen, what is passed over, and what is never offered."""

from __future__ import annotations

import pytest
from tests.given import given
from tests.unit.shelves import PATCH, STEM, TRUCK, UNIT, Json, answer, bench, codes, only, reasons

from mendgauge.core.errors import CaseError


def test_a_unit_that_does_is_chosen_with_its_outlines() -> None:
    choice = only(bench(stock=[UNIT]))
    assert choice.kind == "one_piece"
    assert choice.when == ""
    assert choice.chosen is not None
    assert choice.chosen.certain
    assert codes(choice) == ["A"]
    assert choice.chosen.price == "2.00"
    assert (
        choice.chosen.patch.width_mm,
        given(choice.chosen.buffed).width_mm,
        given(choice.chosen.cleaned).width_mm,
    ) == (35, 55, 75)
    assert choice.chosen.reach_mm == pytest.approx((35 - 6.0229) / 2, abs=1e-3)


# What is changed of a unit that does, or of its case, and what then speaks against it.
FAULTS: list[tuple[str, Json, Json, str, float | None]] = [
    ("thinner stem", {"stem_mm": 4.5}, {}, "stem_diameter", 1.5),
    ("shorter stem", {"stem_length_mm": 36}, {}, "stem_length", 1.027),
    ("smaller patch", {"patch_mm": 30}, {}, "patch_too_small", 0.023),
    ("bias unit in a radial", {"construction": "bias"}, {}, "construction", None),
    ("maker's largest injury", {"largest_injury_mm": 5}, {}, "largest_injury", 1.0),
    ("maker's largest lean", {"largest_lean_deg": 3}, {}, "largest_lean", 2.0),
    ("expired yesterday", {"expires_on": "2026-11-23"}, {}, "expired", 1.0),
    ("none on hand", {"on_hand": 0}, {}, "none_on_hand", None),
    ("over the lean of one piece", {}, {"hole": {"lean_deg": 32}}, "two_piece_needed", None),
]  # fmt: skip


@pytest.mark.parametrize(("fault", "unit", "case", "code", "by"), FAULTS, ids=[fault[0] for fault in FAULTS])
def test_a_unit_that_does_not_do_is_told_why_and_by_how_much(
    fault: str, unit: Json, case: Json, code: str, by: float | None
) -> None:
    choice = only(bench(stock=[{**UNIT, **unit}], **case))
    assert choice.chosen is None, fault
    (passed,) = choice.passed_over
    (reason,) = passed.reasons
    assert reason.code == code
    assert reason.by == (None if by is None else pytest.approx(by, abs=1e-3))
    assert choice.nothing_fits is not None
    if code == "two_piece_needed":
        assert choice.nothing_fits.code == "none_in_stock"
    else:
        assert choice.nothing_fits.code == code
        assert choice.nothing_fits.by == reason.by


def test_a_unit_is_good_on_the_day_it_expires() -> None:
    assert codes(only(bench(stock=[{**UNIT, "expires_on": "2026-11-24"}]))) == ["A"]


def test_the_smallest_patch_is_taken_then_the_lowest_price_then_the_shortest_stem_then_the_first() -> None:
    large = {**UNIT, "code": "large", "patch_mm": 45, "price": "0.10"}
    dear = {**UNIT, "code": "dear", "price": "2.01"}
    unpriced = {key: value for key, value in UNIT.items() if key != "price"} | {"code": "unpriced"}
    long = {**UNIT, "code": "long", "stem_length_mm": 90}
    same = {**UNIT, "code": "same"}
    choice = only(bench(stock=[large, dear, unpriced, long, UNIT, same]))
    assert codes(choice) == ["A"]
    assert reasons(choice) == {
        "large": ["larger_than_needed"],
        "dear": ["dearer"],
        "unpriced": ["no_price"],
        "long": ["longer"],
        "same": ["as_good"],
    }


def test_two_pieces_are_taken_where_the_channel_leans_too_far_as_the_best_pair() -> None:
    stock = [UNIT, STEM, {**STEM, "code": "S2", "price": "0.50"}, {**PATCH, "patch_mm": 45, "code": "P2"}, PATCH]
    choice = only(bench(stock=stock, hole={"lean_deg": 32}))
    assert choice.kind == "two_piece"
    assert [reason.code for reason in choice.because] == ["lean_over"]
    assert codes(choice) == ["S2", "P"]
    assert reasons(choice)["A"] == ["two_piece_needed"]


def test_two_pieces_do_where_one_piece_is_asked_for_and_none_is_there() -> None:
    choice = only(bench(stock=[STEM, PATCH, {**UNIT, "patch_mm": 28}]))
    assert choice.kind == "one_piece"
    assert codes(choice) == ["S", "P"]


def test_one_piece_is_taken_before_two_even_where_its_patch_is_larger() -> None:
    choice = only(bench(stock=[{**UNIT, "patch_mm": 45}, STEM, PATCH]))
    assert codes(choice) == ["A"]
    assert reasons(choice) == {"S": ["one_piece_does"], "P": ["one_piece_does"]}


def test_an_unknown_lean_names_both_and_asks() -> None:
    found = answer(bench(stock=[UNIT, STEM, PATCH], hole={"lean_deg": None}))
    one, two = found.injuries[0].choices
    assert (one.kind, two.kind) == ("one_piece", "two_piece")
    assert one.when == "If the channel leans no more than 25 degrees."
    assert two.when == "If the channel leans more than 25 degrees."
    assert codes(one) == ["A"]
    assert codes(two) == ["S", "P"]
    assert one.chosen is not None
    assert one.chosen.certain
    assert two.chosen is not None
    assert not two.chosen.certain
    asked = {question.field: question.settles for question in found.to_establish}
    assert "one_piece_lean" in asked["/injuries/0/lean_deg"]


@pytest.mark.parametrize(
    ("house", "kind", "because"),
    [
        ({"two_piece_only": True}, "two_piece", "house_two_piece"),
        ({"max_one_piece_lean_deg": 4}, "two_piece", "lean_over"),
        ({"max_one_piece_crown_mm": 6.9}, "two_piece", "crown_over"),
        ({"max_one_piece_crown_mm": 7}, "one_piece", "lean_within"),
    ],
)
def test_a_house_may_ask_for_two_pieces(house: Json, kind: str, because: str) -> None:
    choice = only(bench(stock=[UNIT, STEM, PATCH], house_rules=house))
    assert choice.kind == kind
    assert because in [reason.code for reason in choice.because]


def test_a_house_may_not_take_one_piece_farther_than_the_book() -> None:
    with pytest.raises(CaseError) as refused:
        answer(bench(stock=[UNIT], house_rules={"max_one_piece_lean_deg": 30}))
    assert refused.value.errors[0].pointer == "/house_rules/max_one_piece_lean_deg"


def test_an_open_crown_names_both_where_the_house_sets_a_thickness() -> None:
    case = bench(stock=[UNIT, STEM, PATCH], house_rules={"max_one_piece_crown_mm": 6})
    case["tyre"]["crown_thickness_mm"] = None
    one, two = answer(case).injuries[0].choices
    assert one.when == "If the crown is no thicker than 6 mm."
    assert (codes(one), codes(two)) == (["A"], ["S", "P"])


def test_a_truck_hole_over_six_millimetres_takes_a_reinforced_patch_with_a_longer_reach() -> None:
    large = {**UNIT, "stem_mm": 10, "stem_length_mm": 90, "patch_mm": 55}
    stock = [
        large,
        {**large, "code": "R", "reinforced": True},
        {**large, "code": "R50", "reinforced": True, "patch_mm": 50},
    ]
    choice = only(bench(TRUCK, stock=stock, hole={"diameter_mm": 9}))
    assert given(choice.needed).reinforced == "yes"
    assert given(choice.needed).patch_mm == pytest.approx(10.038 + 40, abs=1e-3)
    assert codes(choice) == ["R"]
    assert reasons(choice) == {"A": ["not_reinforced"], "R50": ["patch_too_small"]}


def test_a_bias_tyre_takes_no_radial_patch() -> None:
    bias = bench(
        TRUCK,
        stock=[{**UNIT, "stem_length_mm": 90}, {**UNIT, "code": "B", "stem_length_mm": 90, "construction": "bias"}],
    )
    bias["injuries"][0]["diameter_mm"] = 6
    bias["tyre"]["marking"] = "315/80D22.5 156/150L"
    choice = only(bias)
    assert given(choice.needed).carcass == "bias"
    assert codes(choice) == ["B"]


def test_what_is_not_known_of_a_unit_is_not_taken_for_granted() -> None:
    unknown = {"code": "U", "kind": "one_piece", "stem_mm": 6, "patch_mm": 35}
    choice = only(bench(stock=[unknown, {**UNIT, "patch_mm": 45}]))
    assert codes(choice) == ["A"]
    choice = only(bench(stock=[unknown]))
    assert codes(choice) == ["U"]
    assert choice.chosen is not None
    assert not choice.chosen.certain
    assert [reason.code for reason in choice.chosen.hangs_on] == ["stem_length", "construction", "patch_too_small"]


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        ({"hole": {"diameter_mm": 6.5}}, "injury_size"),
        ({"hole": {"region": "sidewall"}}, "region"),
        ({"inspection": {"complete": True, "bulge": True}}, "bulge"),
        ({"house_rules": {"max_injury_mm": 3}}, "house_injury_size"),
    ],
)
def test_nothing_is_offered_for_a_tyre_that_may_not_be_repaired(change: Json, rule: str) -> None:
    found = answer(bench(stock=[UNIT], **change))
    assert found.offer == "withheld"
    assert found.verdict in ("specialist", "not_repairable")
    assert rule in [finding.rule for finding in found.decided_by]
    assert found.injuries[0].choices == ()
    assert found.injuries[0].preparation is None


def test_an_open_verdict_makes_the_offer_conditional() -> None:
    found = answer(bench(stock=[UNIT], inspection={"complete": False}))
    assert found.offer == "conditional"
    assert "bulge" in [finding.rule for finding in found.decided_by]
    assert codes(found.injuries[0].choices[0]) == ["A"]


def test_an_injury_in_the_rubber_alone_takes_no_unit() -> None:
    found = answer(bench(hole={"depth": "rubber_only", "measured_from": "outside"})).injuries[0]
    assert (found.goes_through, found.channel, found.choices) == ("no", None, ())


def test_a_case_with_nothing_known_is_answered_all_the_same() -> None:
    found = answer({"detail": "full", "rulebook": "us", "assessed_on": "2026-11-24", "tyre": {"marking": "205/55R16"}})
    assert found.offer == "conditional"
    assert len(found.injuries) == 1
    assert found.injuries[0].channel is not None
    assert found.injuries[0].channel.hole_mm is None
    assert all(choice.chosen is None or not choice.chosen.certain for choice in found.injuries[0].choices)


def test_no_injury_takes_no_unit() -> None:
    assert answer(bench(injuries=[])).injuries == ()


def test_without_stock_the_generic_sizes_are_marked_as_such() -> None:
    found = answer(bench(detail="brief"))
    assert found.drawn_from == "generic"
    (choice,) = found.injuries[0].choices
    assert choice.chosen is not None
    assert all(piece.generic and piece.code.startswith("generic") for piece in choice.chosen.pieces)
    assert choice.passed_over == ()
    assert "generic_sizes" in [caution.code for caution in found.cautions]
    assert only(bench(detail="full")).passed_over != ()


def test_an_empty_stock_is_a_shop_that_has_none() -> None:
    found = answer(bench(stock=[]))
    assert found.drawn_from == "stock"
    choice = found.injuries[0].choices[0]
    assert choice.nothing_fits is not None
    assert choice.nothing_fits.says == (
        "Nothing fits. There is no one-piece unit in stock. This generic size does: generic one-piece 6 x 65 x 35."
    )


def test_the_cutter_is_told_apart_from_the_longest_opening() -> None:
    found = answer(bench(hole={"diameter_mm": 6, "lean_deg": 25})).injuries[0]
    assert found.limit is not None
    assert (found.limit.means, found.limit.hole_keeps, found.limit.cutter_keeps) == ("cutter", "yes", "yes")
    assert found.channel is not None
    assert found.channel.mouth_length_mm.high == pytest.approx(6.62, abs=0.005)
    assert "6.6 mm" in found.limit.says


def test_a_cutter_that_breaks_the_limit_its_hole_kept_is_told() -> None:
    found = answer(bench(house_rules={"max_injury_mm": 5})).injuries[0]
    assert found.limit is not None
    assert (found.limit.hole_keeps, found.limit.cutter_keeps) == ("yes", "no")
    assert found.limit.says == (
        "The hole is 4 mm and keeps to the limit of 5 mm. The cutter that cleans it is 6 mm and does not."
    )


def test_a_channel_that_is_cut_takes_no_more_passes() -> None:
    found, cut = (answer(bench(hole={"stage": stage, "diameter_mm": 6})).injuries[0] for stage in ("found", "prepared"))
    assert found.preparation is not None
    assert cut.preparation is not None
    assert [(each.side, each.times.low, each.times.high) for each in found.preparation.passes] == [
        ("inside", 3, 4),
        ("outside", 3, 4),
    ]
    assert cut.preparation.passes == ()


MISTAKES: list[tuple[Json, str, str]] = [
    ({"kind": "stem"}, "/stock/0/patch_mm", "A stem has no patch"),
    ({"kind": "patch"}, "/stock/0/stem_mm", "A patch has no stem"),
    ({"stem_mm": None}, "/stock/0/stem_mm", "Give the stem's nominal diameter"),
    ({"patch_mm": None}, "/stock/0/patch_mm", "Give this of a round patch"),
    ({"patch_shape": "rectangular"}, "/stock/0/patch_width_mm", "Give this of a rectangular patch"),
    ({"patch_width_mm": 30}, "/stock/0/patch_width_mm", "A round patch is described by patch_mm"),
]


@pytest.mark.parametrize(("change", "pointer", "detail"), MISTAKES)
def test_a_unit_that_cannot_be_is_refused(change: Json, pointer: str, detail: str) -> None:
    with pytest.raises(CaseError) as refused:
        answer(bench(stock=[{**UNIT, **change}]))
    flaws = {flaw.pointer: flaw.detail for flaw in refused.value.errors}
    assert flaws[pointer].startswith(detail)


def test_a_code_that_comes_twice_is_refused() -> None:
    with pytest.raises(CaseError) as refused:
        answer(bench(stock=[UNIT, UNIT]))
    assert refused.value.errors[0].pointer == "/stock/1/code"
