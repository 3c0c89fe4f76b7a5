"""Every figure of the trade's procedure is in a plan, at its step, with its basis.

The table is the project's own research of November 2026, copied here as data. Its sources: BS AU 159g:2013 (procedure,
second-hand in the British trade); a trade magazine's article on preparation (drill, buffer, texture, cleaning, drying);
summaries of repair instructions in the trade press; US Army TM 9-2610-200-14, public domain (heat cure, man-hours);
29 CFR 1910.177 and the OSHA chart (inflation, run low); recommended practice RP 237 of the American trucking council,
second-hand (torque); common practice of the trade where no source was found.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import pytest
from tests.reference.plan_cases import JOBS, plan

from mendgauge.operations.work_plans.answer import StepParameter, TimePart, WorkPlan, WorkStep


@cache
def of(job: str) -> WorkPlan:
    return plan(JOBS[job])


def step_of(job: str, code: str) -> WorkStep:
    (step,) = [step for step in of(job).steps if step.code == code]
    return step


class Figure(NamedTuple):
    """A row of the table: in which job's plan, at which step, which figure, what it is, how it is known."""

    job: str
    step: str
    name: str
    low: float | None
    high: float | None
    unit: str
    basis: str
    words: str | None = None


FIGURES = [
    # Cutter and channel
    Figure("van", "cut_channel", "cutter", 4.5, 4.5, "mm", "common_practice"),  # nominal, at or above 4 mm
    Figure("truck, inner dual", "cut_channel", "cutter", 10, 10, "mm", "common_practice"),  # 9 mm takes 10
    Figure("car", "cut_channel", "cutter", 6, 6, "mm", "published_summary"),  # one cutter whatever the hole to 6 mm
    Figure("car", "cut_channel", "passes", 3, 4, "times", "published_summary"),
    Figure("car", "cut_channel", "drill_speed", None, 1200, "rpm", "published"),
    Figure("car", "cut_channel", "prepared_limit", None, 6, "mm", "published_summary"),
    Figure("American car", "probe", "found_limit", None, 6, "mm", "published"),
    Figure("truck, inner dual", "cut_channel", "prepared_limit", None, 10, "mm", "common_practice"),
    Figure("car", "probe", "lean_limit", None, 25, "degrees", "common_practice"),
    # The unit
    Figure("car", "fit_unit", "stem_diameter", 6, 6, "mm", "common_practice"),  # equals the cutter's
    Figure("car", "buff", "patch_reach", 12, None, "mm", "common_practice"),
    Figure("truck, inner dual", "buff", "patch_reach_reinforced", 20, None, "mm", "common_practice"),
    Figure("car", "buff", "buffed_margin", 10, 10, "mm", "common_practice"),
    Figure("car", "clean_liner", "cleaned_margin", 10, 20, "mm", "published_summary"),
    # 35 mm patches: half of both and two buffed margins
    Figure("car, two holes", "buff", "centres_apart", 55, None, "mm", "derived"),
    Figure("car", "fit_unit", "arrows", None, None, "", "published_summary", "toward the beads"),
    Figure("truck, inner dual", "fit_unit", "reinforced_over", 6, 6, "mm", "common_practice"),
    Figure("car", "fit_unit", "pull_length", 30, 30, "mm", "common_practice"),
    # 7 mm at 3 degrees, flush with the groove, and 30 mm
    Figure("car", "fit_unit", "stem_length", 37.01, None, "mm", "common_practice"),
    # Of two pieces: 9 mm of crown and 6 mm of tread at 32 degrees, 3 mm proud, and 30 mm
    Figure("van, leaning", "fill_channel", "stem_diameter", 4.5, 4.5, "mm", "common_practice"),
    Figure("van, leaning", "fill_channel", "stem_length", 50.688, None, "mm", "common_practice"),
    Figure("van, leaning", "fill_channel", "pull_length", 30, 30, "mm", "common_practice"),
    # The liner
    Figure("car", "buff", "buffer_speed", None, 5000, "rpm", "published"),
    Figure("car", "buff", "texture", 1, 2, "", "published"),
    Figure("car", "clean_liner", "scrape_passes", 2, 3, "times", "published"),
    # Cement
    Figure("car", "cement", "channel_coats", 2, 3, "times", "common_practice"),
    Figure("van, leaning", "fill_channel", "channel_coats", 2, 3, "times", "common_practice"),
    Figure("car", "cement", "liner_coats", 1, 1, "times", "common_practice"),
    Figure("car", "dry", "drying_time", 3, 5, "min", "published"),
    Figure("car, cold and damp", "dry", "drying_time", 6, 10, "min", "derived"),
    Figure("car", "dry", "slow_under", 10, 10, "°C", "derived"),
    Figure("car", "dry", "slow_over", 70, 70, "%", "derived"),
    Figure("car", "check_climate", "warm_enough", 5, None, "°C", "derived"),
    Figure("car", "check_climate", "dew_point", 8.9, 8.9, "°C", "derived"),
    # Trim
    Figure("car", "trim", "trim_height", 0, 0, "mm", "common_practice"),
    Figure("car, on a lug", "trim", "trim_height", 3, 3, "mm", "common_practice"),
    Figure("van, leaning", "fill_channel", "inner_trim", 3, 3, "mm", "from_memory"),
    # Heat cure
    Figure("car, cured by heat", "cure_fill", "cure_temperature", 138, 149, "°C", "published"),
    Figure(
        "car, cured by heat", "cure_fill", "cure_rate", None, None, "", "published", "6 min for every 0.8 mm of depth"
    ),
    Figure(
        "car, two-part fill cured by heat",
        "cure_fill",
        "cure_rate",
        None,
        None,
        "",
        "published",
        "1 min for every 0.8 mm of depth",
    ),
    # 7.0096 mm of channel at 7.5 min/mm
    Figure("car, cured by heat", "cure_fill", "cure_time", 52.575, 52.575, "min", "derived"),
    # Back on the rim and on the road
    Figure("truck, inner dual", "inflate", "bead_pressure", None, 276, "kPa", "published"),
    Figure("car", "inflate", "bead_pressure", None, 276, "kPa", "published"),
    Figure(
        "truck, inner dual", "inflate", "restraint_rating", 150, None, "% of the tyre's maximum pressure", "published"
    ),
    Figure("car", "leak_test", "test_pressure", None, None, "", "common_practice", "working pressure"),
    Figure("car", "torque", "torque", None, None, "", "common_practice", "the vehicle maker's figure"),
    Figure("car", "torque", "sequence", None, None, "", "common_practice", "opposite nuts in turn"),
    Figure("truck, inner dual", "recheck_torque", "recheck", 80, 160, "km", "published_summary"),
    Figure("car", "recheck_torque", "recheck", 80, 160, "km", "common_practice"),
    Figure("car, loose wheel", "hand_over", "recheck", 80, 160, "km", "common_practice"),
    Figure("car", "gauge_pressure", "run_low_share", 80, 80, "%", "common_practice"),
    Figure("truck, run low", "check_mate", "run_low_share", 80, 80, "%", "common_practice"),
    Figure(
        "motorcycle",
        "torque_spindle",
        "spindle_torque",
        None,
        None,
        "",
        "common_practice",
        "the motorcycle maker's figure",
    ),
    Figure("Australian car", "mark_repair", "mark", None, None, "", "published_summary", "the repairer's own mark"),
    # US Army man-hours for a semitrailer: wheel 0.3, tyre repair 1.0
    Figure("trailer", "record", "published_wheel_labour", 18, 18, "min", "published"),
    Figure("trailer", "record", "published_tyre_labour", 60, 60, "min", "published"),
]


@pytest.mark.parametrize("row", FIGURES, ids=lambda row: f"{row.job}: {row.step}, {row.name}")
def test_a_figure_of_the_table_is_in_the_plan_at_its_step(row: Figure) -> None:
    found = {(figure.low, figure.high, figure.unit, figure.words, figure.basis) for figure in _figures(row)}
    assert found == {(row.low, row.high, row.unit, row.words, row.basis)}


def _figures(row: Figure) -> list[StepParameter]:
    figures = [figure for figure in step_of(row.job, row.step).parameters if figure.name == row.name]
    assert figures
    assert all(figure.source and figure.says for figure in figures)
    return figures


def test_no_figure_of_a_plan_is_missing_from_the_table() -> None:
    """But those that only repeat the case: the lean as given, the outline and the unit that were chosen, and the
    pressure of a vehicle that is its maker's to name."""
    repeated = {"lean", "buffed_width", "buffed_length", "unit", "working_pressure"}
    in_table = {(row.step, row.name) for row in FIGURES}
    in_plans = {
        (step.code, figure.name)
        for job in JOBS
        for step in of(job).steps
        for figure in step.parameters
        if figure.name not in repeated
    }
    assert {name for _, name in in_plans} == {name for _, name in in_table}
    extra = {("hand_over", "recheck"), ("pack_channel", "channel_coats")}
    assert in_plans - in_table <= extra


# The trade's list for a car on the vehicle, minutes, and the steps that share each of its lines; common practice.
CAR_LINES = [
    (5, ("wheel_off",)),
    (2, ("gauge_pressure", "find_leak")),
    (3, ("deflate", "demount")),
    (2, ("inspect_tyre", "check_separation", "decide")),
    (2, ("clean_liner",)),
    (2, ("probe", "cut_channel")),
    (3, ("buff", "vacuum")),
    (5, ("check_climate", "cement", "dry")),
    (3, ("fit_unit", "stitch", "seal")),
    (4, ("renew_valve", "mount", "inflate")),
    (2, ("leak_test", "trim")),
    (4, ("balance",)),
    (5, ("refit", "torque", "record", "hand_over", "recheck_torque")),
]


def test_the_steps_of_a_car_add_up_as_the_trade_lists_them() -> None:
    likely = {step.code: step.minutes.likely for step in of("car").steps}
    for minutes, codes in CAR_LINES:
        assert sum(likely.pop(code) for code in codes) == minutes, codes
    assert not likely
    assert sum(minutes for minutes, _ in CAR_LINES) == 42


@pytest.mark.parametrize(
    ("job", "minutes"),
    [
        ("car", 42),
        ("car, loose wheel", 32),
        ("van", 48),
        ("van, loose wheel", 36),
        ("truck, single", 87),
        ("truck, loose wheel", 57),
        ("truck, inner dual", 97),  # +10
        ("car, sensor", 45),  # +3
        ("van, leaning", 52),  # two pieces +4
        ("car, cold and damp", 46),  # +3 to 5
        ("car, sealant", 54),  # +10 to 15
    ],
)
def test_a_job_takes_what_the_trade_says(job: str, minutes: float) -> None:
    found = of(job)
    assert found.minutes.likely == minutes
    assert found.minutes.low < minutes < found.minutes.high


@pytest.mark.parametrize(
    ("job", "step", "code", "minutes", "basis"),
    [
        ("car", "dry", "dry", (3, 4, 5), "published"),
        ("car, cold and damp", "dry", "dry_longer", (3, 4, 5), "common_practice"),
        ("car, sealant", "clean_out_sealant", "clean_out_sealant", (10, 12, 15), "common_practice"),
        ("truck, inner dual", "wheel_off", "inner_dual", (8, 10, 15), "common_practice"),
        ("van, leaning", "fill_channel", "fill_channel", (3, 4, 6), "common_practice"),
        ("car", "wheel_off", "wheel_off", (4, 5, 7.5), "common_practice"),
        ("truck, single", "demount", "demount", (4.8, 6, 9), "from_memory"),
    ],
)
def test_a_time_names_its_source(
    job: str, step: str, code: str, minutes: tuple[float, float, float], basis: str
) -> None:
    part: TimePart
    (part,) = [part for part in step_of(job, step).times if part.code == code]
    assert (part.low, part.likely, part.high) == minutes
    assert part.basis == basis


@pytest.mark.parametrize(("job", "whole"), [("car", (42, 32)), ("van", (48, 36)), ("truck, single", (87, 57))])
def test_the_trade_s_whole_is_reported_beside_the_plan_s(job: str, whole: tuple[float, float]) -> None:
    usual = of(job).usual_minutes
    assert usual is not None
    assert (usual.on_vehicle, usual.loose) == whole
    assert usual.basis == "common_practice"


# What the trade uses up for one injury: quantity, unit, basis. The cement of a car is reckoned below.
@pytest.mark.parametrize(
    ("code", "low", "high", "unit", "basis"),
    [
        ("cleaner", 10, 20, "ml", "derived"),
        ("sealer", 2, 5, "ml", "derived"),
        ("cutter_wear", 1 / 100, 1 / 50, "piece", "derived"),
        ("buffing_head_wear", 1 / 200, 1 / 50, "piece", "from_memory"),
        ("valve", 1, 1, "piece", "common_practice"),
        ("repair_unit", 1, 1, "piece", "common_practice"),
    ],
)
def test_what_a_car_uses_up(code: str, low: float, high: float, unit: str, basis: str) -> None:
    (used,) = [used for used in of("car").consumables if used.code == code]
    assert (used.low, used.high) == pytest.approx((low, high))
    assert (used.unit, used.basis) == (unit, basis)


def test_cement_is_reckoned_from_area_and_coats() -> None:
    """0.01 to 0.02 ml/cm2 a coat, five times that for losses; a 55 mm circle once, the channel's wall 2 to 3 times."""
    (cement,) = [used for used in of("car").consumables if used.code == "cement"]
    liner, wall = 3.14159 * 5.5**2 / 4, 3.14159 * 0.6 * 0.70096
    assert cement.low == pytest.approx(5 * 0.01 * (liner + 2 * wall), abs=5e-3)
    assert cement.high == pytest.approx(5 * 0.02 * (liner + 3 * wall), abs=5e-3)
    assert cement.basis == "derived"


@pytest.mark.parametrize(("job", "about"), [("car", 2), ("truck, inner dual", 6)])
def test_cement_is_of_the_order_the_trade_reckons_with(job: str, about: float) -> None:
    (cement,) = [used for used in of(job).consumables if used.code == "cement"]
    assert cement.low <= about <= cement.high
    assert cement.high <= about * 1.5


# Cautions that guidance must carry, and the steps they belong to.
CAUTIONS = [
    ("inspection_decides", "car", "inspect_tyre", ("trained person", "unit maker", "law")),
    ("inspection_decides", "car", "decide", ("aid",)),
    ("unit_maker", "car", "fit_unit", ("unit maker", "tyre maker", "law")),
    ("bead_pressure", "car", "inflate", ("276 kPa", "40 psi")),
    ("trajectory", "truck, inner dual", "inflate", ("trajectory",)),
    ("restraining_device", "truck, inner dual", "inflate", ("150 %",)),
    ("matching_diameters", "car", "mount", ("diameter",)),
    ("no_ether", "car", "inflate", ("ether",)),
    ("flammable_inside", "car, sealant", "deflate", ("core out", "purge", "no sparks", "reaming")),
    ("off_the_rim", "car", "cut_channel", ("off the rim",)),
    ("vapour", "car", "cement", ("burn", "breathe", "ventilate", "gloves", "eye")),
    ("vapour", "car", "clean_liner", ("ventilate",)),
    ("no_petrol", "car", "clean_liner", ("petrol", "Never", "trichloroethylene")),
    ("buffing", "car", "buff", ("eyes", "ears", "dust")),
    ("cord_ends", "car", "probe", ("cut hands",)),
    ("construction", "car", "fit_unit", ("bias", "radial")),
    ("speed_rating", "car", "hand_over", ("speed rating", "maker", "policy")),
]


@pytest.mark.parametrize(("code", "job", "step", "says"), CAUTIONS, ids=lambda value: str(value)[:40])
def test_a_caution_stands_at_its_step(code: str, job: str, step: str, says: tuple[str, ...]) -> None:
    (caution,) = [caution for caution in step_of(job, step).cautions if caution.code == code]
    for words in says:
        assert words in caution.says
    assert caution.source


@pytest.mark.parametrize(
    ("job", "step", "says"),
    [
        ("car", "probe", "lean"),  # probe
        ("car", "check_separation", "layers"),  # separation
        ("car", "cut_channel", "limit"),  # cutter size
        ("car", "buff", "cord"),  # cords after buffing
        ("car", "dry", "wait"),  # dryness
        ("car", "check_climate", "cement"),
        ("car", "leak_test", "demount"),  # leak test
        ("car", "deflate", "bead"),
        ("truck, inner dual", "inflate", "air out"),
        ("car", "torque", "nut"),
    ],
)
def test_work_stops_at_a_hold_point(job: str, step: str, says: str) -> None:
    hold = step_of(job, step).hold
    assert hold is not None
    assert hold.checks
    assert hold.right
    assert hold.if_not
    assert says in f"{hold.checks} {hold.right} {hold.if_not}"


# Handling that is no figure: what the trade does, and the sentence that says it.
@pytest.mark.parametrize(
    ("job", "step", "says"),
    [
        ("car", "cut_channel", "from the inside first"),
        ("car", "clean_liner", "while it is damp"),
        ("car", "dry", "Do not hurry it with heat or moving air"),
        ("car", "dry", "do not touch it with a finger"),
        ("car", "fit_unit", "without touching the gum"),
        ("car", "fit_unit", "a little cement on the lead end"),
        ("car", "fit_unit", "from the inside"),
        ("car", "fit_unit", "seats and dimples"),
        ("car", "stitch", "from the centre outward"),
        ("car", "stitch", "covering film off"),
        ("car", "seal", "the patch's edge and the whole buffed margin"),
        ("car", "trim", "Never stretch it"),
        ("car", "trim", "level with the groove's base"),
        ("car, on a lug", "trim", "proud of the tread surface"),
        ("van, leaning", "fill_channel", "level with the liner"),
        ("car", "leak_test", "soap"),
        ("car", "leak_test", "tank"),
        ("car", "leak_test", "both beads"),
        ("car", "renew_valve", "new valve"),
        ("car, sensor", "service_sensor", "renew seal"),
        ("car, sensor", "relearn_sensor", "relearn"),
        ("car", "balance", "balance the wheel"),
        ("truck, run low", "gauge_pressure", "Put no air in"),
        ("truck, run low", "wheel_off", "before a wheel nut is loosened"),
        ("truck, inner dual", "inflate", "remote chuck"),
        ("truck, inner dual", "inflate", "restraining device"),
        ("truck, inner dual", "wheel_off", "outer wheel off first"),
        ("car, foam", "cut_foam", "foam"),
        ("car, foam", "refit_foam", "Glue"),
        ("car, self-sealing", "clear_sealing_layer", "tyre maker"),
        ("van, tube", "mount", "tube and flap"),
        ("car, sealant", "deflate", "Do not ream"),
        ("car", "record", "cement batch and expiry"),
    ],
)
def test_the_handling_is_reported(job: str, step: str, says: str) -> None:
    assert says in " ".join(step_of(job, step).do)
