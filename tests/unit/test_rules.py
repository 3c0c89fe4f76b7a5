"""Each rule on its own: a pure function of observations and a limit, met, broken or open."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace

import pytest

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth, point
from mendgauge.rulebooks.schema.repair import Band
from mendgauge.rules.outcome import (
    CAUTION,
    ENDS,
    MET,
    SPECIALIST,
    join,
    lowest,
    outcome,
    possible_verdicts,
    settled,
)
from mendgauge.rules.repair.age import age
from mendgauge.rules.repair.band import band, half_width
from mendgauge.rules.repair.condition import condition
from mendgauge.rules.repair.depth import depth, longest_cut
from mendgauge.rules.repair.earlier_repairs import apart, proper, repair_count
from mendgauge.rules.repair.history import run_low
from mendgauge.rules.repair.injury_size import found_size, prepared_size
from mendgauge.rules.repair.lean import lean
from mendgauge.rules.repair.maker_policy import maker_policy
from mendgauge.rules.repair.region import region
from mendgauge.rules.repair.special_tyre import plain_or_permitted
from mendgauge.rules.repair.tread_depth import tread_depth


@pytest.mark.parametrize(
    ("hole", "cutter", "kept"),
    [
        (point(6.0), point(6.0), YES),
        (point(6.1), point(8.0), NO),
        (point(5.0), point(8.0), NO),
        (Interval(5.0, 6.5), Interval(6.0, 8.0), EITHER),
        (point(6.0), Interval(6.0, 8.0), EITHER),
    ],
)
def test_a_hole_as_found_keeps_when_it_and_its_cutter_do(hole: Interval, cutter: Interval, kept: Truth) -> None:
    assert found_size(hole, cutter, 6.0, 6.0, inclusive=True) == kept


def test_a_limit_that_does_not_pass_itself() -> None:
    assert found_size(point(6.0), point(5.0), 6.0, 6.0, inclusive=False) == NO
    assert found_size(point(5.0), point(6.0), 6.0, 6.0, inclusive=False) == NO
    assert prepared_size(point(6.0), 6.0, inclusive=False) == NO
    assert prepared_size(point(6.0), 6.0, inclusive=True) == YES
    assert tread_depth(point(1.6), 1.6, inclusive=False) == NO
    assert tread_depth(point(1.6), 1.6, inclusive=True) == YES
    assert age(point(10.0), 10.0) == NO
    assert age(Interval(9.9, 10.0), 10.0) == EITHER


@pytest.mark.parametrize(
    ("reach", "width", "kept"),
    [
        (point(71.75), point(71.75), YES),
        (point(71.76), point(71.75), NO),
        (Interval(70.0, 72.0), point(71.75), EITHER),
        (point(60.0), Interval(50.0, 70.0), EITHER),
        (Interval(40.0, 50.0), Interval(50.0, 70.0), YES),
    ],
)
def test_a_channel_stays_in_the_band(reach: Interval, width: Interval, kept: Truth) -> None:
    assert band(reach, width) == kept


def _band(**share: float) -> Band:
    return Band(classes=("car",), source="a source", basis="derived", **share)  # type: ignore[arg-type]


def test_half_the_bands_width() -> None:
    widths = SimpleNamespace(section_width=point(205.0), tread_width=Interval(140.0, 180.0))
    assert half_width(_band(share_of_section_width=0.7), widths) == point(71.75)
    assert half_width(_band(share_of_tread_width=0.5), widths) == Interval(35.0, 45.0)
    assert half_width(_band(inset_from_tread_edge_mm=25.4), widths) == Interval(70.0 - 25.4, 90.0 - 25.4)
    assert half_width(_band(inset_from_tread_edge_mm=80.0), widths) == Interval(0.0, 10.0)


@pytest.mark.parametrize(
    ("width", "longest"),
    [(205.0, 25.0), (250.0, 25.0), (315.0, 31.5)],
    ids=["25 mm is the greater", "equal", "a tenth of the section is the greater"],
)
def test_the_longest_cut_is_the_greater_of_the_two(width: float, longest: float) -> None:
    """Road Vehicles (Construction and Use) Regulations 1986, regulation 27(1)(c), in summary."""
    assert longest_cut(width, 25.0, 0.10) == longest


def test_where_and_how_deep() -> None:
    assert [region(where, SPECIALIST, ENDS, CAUTION) for where in ("tread", "shoulder", "sidewall", "bead")] == [
        MET,
        SPECIALIST,
        ENDS,
        CAUTION,
    ]
    assert [depth(how, ENDS) for how in ("rubber_only", "to_cord", "through")] == [MET, ENDS, MET]


def test_lean() -> None:
    assert lean(point(25.0), 25.0) == YES
    assert lean(point(25.1), 25.0) == NO
    assert lean(Interval(0.0, 80.0), 25.0) == EITHER


@pytest.mark.parametrize(
    ("earlier", "needed", "most", "kept"),
    [(0, 1, 1, YES), (1, 1, 1, NO), (0, 2, 1, NO), (1, 1, 2, YES)],
)
def test_counts_add_up(earlier: float, needed: float, most: float, kept: Truth) -> None:
    assert repair_count(point(earlier), point(needed), most) == kept
    assert repair_count(Interval(0, 50), point(needed), most) == (NO if needed > most else EITHER)


@pytest.mark.parametrize(
    ("repairs", "all_known", "kept"),
    [
        ((), True, YES),
        ((), False, EITHER),
        ((YES, YES), True, YES),
        ((YES, EITHER), True, EITHER),
        ((EITHER, NO), True, NO),
        ((NO,), False, NO),
        ((YES,), False, EITHER),
    ],
)
def test_one_improper_repair_is_enough(repairs: tuple[Truth, ...], all_known: bool, kept: Truth) -> None:
    assert proper(repairs, all_known=all_known) == kept


def test_apart() -> None:
    assert apart(point(150.0), point(150.0)) == YES
    assert apart(point(149.9), point(150.0)) == NO
    assert apart(Interval(100.0, 200.0), point(150.0)) == EITHER
    assert apart(Interval(160.0, 200.0), Interval(150.0, 170.0)) == EITHER
    assert apart(Interval(10.0, 149.0), Interval(150.0, 170.0)) == NO


@pytest.mark.parametrize("seen", [YES, NO, EITHER])
def test_a_sign_that_is_seen_breaks_its_rule(seen: Truth) -> None:
    assert condition(seen) == {YES: NO, NO: YES, EITHER: EITHER}[seen]


def test_run_low_at_or_under_the_share() -> None:
    assert run_low(point(80.0), NO, 80.0) == YES
    assert run_low(point(80.1), NO, 80.0) == NO
    assert run_low(point(100.0), YES, 80.0) == YES
    assert run_low(point(100.0), EITHER, 80.0) == EITHER
    assert run_low(Interval(0.0, 200.0), NO, 80.0) == EITHER


@pytest.mark.parametrize(("special", "permits"), list(product((YES, NO, EITHER), repeat=2)))
def test_a_special_tyre_hangs_on_its_maker(special: Truth, permits: Truth) -> None:
    expected = YES if special == NO or permits == YES else NO if (special, permits) == (YES, NO) else EITHER
    assert plain_or_permitted(special, permits) == expected


@pytest.mark.parametrize(
    ("permits", "required", "kept"),
    [
        (NO, False, NO),
        (NO, True, NO),
        (EITHER, False, YES),
        (EITHER, True, EITHER),
        (YES, True, YES),
        (YES, False, YES),
    ],
)
def test_a_makers_refusal_always_counts_his_silence_where_consent_is_asked(
    permits: Truth, required: bool, kept: Truth
) -> None:
    assert maker_policy(permits, consent_required=required) == kept


def test_outcomes() -> None:
    assert [outcome(kept, ENDS) for kept in (YES, NO, EITHER)] == [MET, ENDS, MET | ENDS]
    assert [settled(found) for found in (MET, ENDS, MET | ENDS, SPECIALIST | ENDS)] == [True, True, False, False]
    assert [lowest(found) for found in (MET, MET | ENDS, SPECIALIST | ENDS)] == [MET, MET, SPECIALIST]


@pytest.mark.parametrize(
    ("rules", "verdicts"),
    [
        ((MET, MET), ("repairable",)),
        ((MET, CAUTION), ("repairable",)),
        ((MET | ENDS, MET), ("repairable", "not_repairable")),
        ((MET | ENDS, SPECIALIST), ("specialist", "not_repairable")),
        ((MET | SPECIALIST, ENDS), ("not_repairable",)),
        ((MET | SPECIALIST, MET | ENDS), ("repairable", "specialist", "not_repairable")),
        ((SPECIALIST | ENDS, MET | SPECIALIST), ("specialist", "not_repairable")),
    ],
)
def test_rules_together_come_to_what_some_choice_of_each_comes_to(
    rules: tuple[int, ...], verdicts: tuple[str, ...]
) -> None:
    floor = union = MET
    for found in rules:
        floor, union = max(floor, lowest(found)), union | found
    together = join(floor, union)
    assert possible_verdicts(together) == verdicts
    chosen = product(*([bit for bit in (MET, CAUTION, SPECIALIST, ENDS) if found & bit] for found in rules))
    assert {possible_verdicts(max(choice))[0] for choice in chosen} == set(verdicts)
