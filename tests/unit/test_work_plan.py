"""Work plans: how far they go, what they wait for, what they ask, and what a shop may set itself."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from tests.given import given
from tests.reference.plan_cases import CAR, JOBS, LEANING, TRUCK, VAN, Json, changed, plan

from mendgauge.core.errors import CaseError
from mendgauge.operations.work_plans.answer import WorkPlan, WorkStep
from mendgauge.rulebooks import list_editions
from mendgauge.rulebooks.provision import Basis, weakest

BARE: Json = {"detail": "full", "rulebook": "gb", "tyre": {"marking": "205/55R16 91V"}}


def codes(found: WorkPlan) -> list[str]:
    return [step.code for step in found.steps]


def at(found: WorkPlan, code: str) -> WorkStep:
    return next(step for step in found.steps if step.code == code)


def refusal(case: Json) -> dict[str, str]:
    with pytest.raises(CaseError) as refused:
        plan(case)
    return {flaw.pointer: flaw.detail for flaw in refused.value.errors}


class TestHowFarItGoes:
    def test_a_tyre_that_may_be_repaired_gets_the_whole_job(self) -> None:
        found = plan(CAR)
        assert (found.verdict, found.offer, found.scope, found.waits_at) == ("repairable", "offered", "repair", None)
        assert codes(found)[0] == "gauge_pressure"
        assert codes(found)[-1] == "recheck_torque"
        assert found.to_establish == ()

    def test_a_tyre_that_may_not_gets_no_work_and_the_reason(self) -> None:
        found = plan(changed(CAR, inspection={"complete": True, "belt_separation": True}))
        assert (found.scope, found.steps, found.consumables, found.drying) == ("none", (), (), None)
        assert found.minutes.high == 0
        assert found.says == ("No work: this tyre may not be repaired at the bench.",)
        assert [finding.rule for finding in found.decided_by] == ["belt_separation"]

    def test_a_specialist_s_tyre_gets_no_work_here(self) -> None:
        found = plan(changed(CAR, injury={"diameter_mm": 9}))
        assert (found.verdict, found.scope) == ("specialist", "none")
        assert found.decided_by

    def test_where_no_repair_is_on_offer_but_the_verdict_is_open_only_the_inspection_is_planned(self) -> None:
        case = changed(CAR, injury={"diameter_mm": 9})
        found = plan({**case, "inspection": {}})
        assert (found.offer, found.scope, found.waits_at) == ("withheld", "inspection", None)
        assert codes(found)[-1] == "decide"
        assert found.minutes == found.minutes_to_decision
        assert found.consumables == ()
        assert found.usual_minutes is None

    def test_an_open_verdict_holds_the_job_at_the_decision(self) -> None:
        found = plan({**CAR, "inspection": {}})
        assert (found.offer, found.scope, found.waits_at) == ("conditional", "repair", "decide")
        assert "The repair waits until the verdict is settled." in found.says
        assert found.minutes_to_decision.likely < found.minutes.likely

    def test_an_injury_that_does_not_go_through_takes_no_repair(self) -> None:
        found = plan({**CAR, "injuries": [{"region": "tread", "depth": "rubber_only", "diameter_mm": 3}]})
        assert found.scope == "leak_search"
        assert found.says == ("No injury goes through, so there is nothing to repair yet: find the leak.",)
        assert {step.part for step in found.steps} == {"inspection", "leak_search", "repair"}
        assert not {"deflate", "decide", "cut_channel", "fit_unit", "trim"} & {step.code for step in found.steps}
        assert found.consumables == ()


class TestWhatItWaitsFor:
    def test_a_stock_in_which_nothing_fits(self) -> None:
        found = plan({**CAR, "stock": []})
        assert found.waits_at == "decide"
        assert "The repair waits: no unit that was sent fits." in found.says

    def test_a_bench_that_is_too_cold(self) -> None:
        found = plan(JOBS["car, too cold"])
        assert found.waits_at == "check_climate"
        assert found.drying is not None
        assert (found.drying.stopped, found.drying.slow) == ("yes", "yes")

    def test_a_liner_that_sweats(self) -> None:
        found = plan(changed(CAR, bench={"relative_humidity_percent": 90, "liner_temperature_c": 15}))
        assert found.waits_at == "check_climate"

    def test_a_climate_nobody_read_does_not_stop_the_plan_but_is_asked_for(self) -> None:
        found = plan({**CAR, "bench": {"wheel": "loose", "pressure_sensor": False}})
        assert found.waits_at is None
        assert found.drying is not None
        assert (found.drying.stopped, found.drying.slow, found.drying.dew_point_c) == ("open", "open", None)
        assert (found.drying.minutes.low, found.drying.minutes.high) == (3, 10)
        asked = {question.field: question.steps for question in found.to_establish}
        assert asked == {
            f"/bench/{name}": ("check_climate", "dry")
            for name in ("air_temperature_c", "relative_humidity_percent", "liner_temperature_c")
        }


class TestWhatStepsHangOn:
    @pytest.mark.parametrize(("marking", "speaks_of_it"), [("205/55R16 91H", True), ("205/55RF16 91H", False)])
    def test_a_run_flat_has_no_tube(self, marking: str, speaks_of_it: bool) -> None:
        """It stands on its own sidewalls and holds its air without one (common practice)."""
        found = plan(changed(CAR, tyre={"marking": marking, "traits": None}))
        assert any("tube" in text for text in _texts(found)) is speaks_of_it

    @pytest.mark.parametrize(
        ("left_out", "field", "steps"),
        [
            ("/bench/wheel", "/bench/wheel", {"wheel_off", "refit", "torque", "recheck_torque"}),
            ("/bench/pressure_sensor", "/bench/pressure_sensor", {"service_sensor", "relearn_sensor"}),
            ("/injuries/0/stage", "/injuries/0/stage", {"cut_channel"}),
        ],
    )
    def test_a_step_that_hangs_on_a_missing_fact_says_so_and_asks(
        self, left_out: str, field: str, steps: set[str]
    ) -> None:
        found = plan(_without(CAR, left_out))
        assert {step.code for step in found.steps if step.only_if is not None} == steps
        (question,) = [question for question in found.to_establish if question.field == field]
        assert steps <= set(question.steps)
        for code in steps:
            assert at(found, code).minutes.low == 0
            # A wheel nobody has seen is reckoned with as on the vehicle.
            assert (at(found, code).minutes.likely > 0) == (field == "/bench/wheel" and code != "recheck_torque")
            assert code == "recheck_torque" or at(found, code).minutes.high > 0

    def test_an_unknown_lean_leaves_one_piece_or_two_open(self) -> None:
        found = plan(_without(VAN, "/injuries/0/lean_deg"))
        assert at(found, "fill_channel").only_if == "stem and patch are separate"
        assert any(sentence.startswith("If the unit is in one piece: ") for sentence in at(found, "fit_unit").do)
        assert [parameter.note for parameter in at(found, "fit_unit").parameters if parameter.name == "unit"] == [
            "If the channel leans no more than 25 degrees.",
            "If the channel leans more than 25 degrees.",
        ]
        (question,) = [one for one in found.to_establish if one.field == "/injuries/0/lean_deg"]
        assert "fill_channel" in question.steps

    def test_a_bare_truck_size_may_be_of_more_than_one_class(self) -> None:
        found = plan({**BARE, "tyre": {"marking": "7.50-16"}})
        assert at(found, "inflate").only_if is None
        (cage,) = [caution for caution in at(found, "inflate").cautions if caution.code == "restraining_device"]
        assert cage.only_if is not None
        assert "truck" in cage.only_if
        (usual,) = [part for part in at(found, "demount").times if part.code == "demount"]
        assert usual.low < 2 < 6 < usual.high

    def test_what_is_known_is_never_asked(self) -> None:
        for job in JOBS.values():
            assert not any(question.steps for question in plan(job).to_establish)


class TestWhatItRespondsTo:
    def test_two_holes_are_each_done_and_dried_together(self) -> None:
        found = plan(JOBS["car, two holes"])
        assert at(found, "cut_channel").injuries == (0, 1)
        assert at(found, "cut_channel").minutes.likely == 2
        assert at(found, "dry").injuries == ()
        assert at(found, "dry").minutes.likely == 4
        (cleaner,) = [used for used in found.consumables if used.code == "cleaner"]
        assert (cleaner.low, cleaner.high) == (20, 40)

    def test_of_two_holes_only_the_leaning_one_is_filled_separately(self) -> None:
        leaning = {**VAN["injuries"][0], **LEANING, "around_mm": 1200}
        found = plan({**VAN, "injuries": [VAN["injuries"][0], leaning]})
        assert at(found, "fill_channel").injuries == (1,)
        assert at(found, "fill_channel").minutes.likely == 4
        assert at(found, "trim").injuries == (0, 1)

    def test_a_channel_that_is_cut_already_is_not_cut_again(self) -> None:
        assert "cut_channel" not in codes(plan(changed(CAR, injury={"stage": "prepared", "diameter_mm": 6})))

    def test_a_fill_cured_by_heat_takes_no_stem(self) -> None:
        found = plan(JOBS["car, cured by heat"])
        assert {"pack_channel", "cure_fill"} <= set(codes(found))
        assert not {"fill_channel", "trim"} & set(codes(found))
        assert at(found, "cure_fill").minutes.likely == pytest.approx(52.575)

    def test_a_fill_cured_by_heat_is_covered_by_a_patch_alone(self) -> None:
        found = plan(JOBS["car, cured by heat"])
        (unit,) = [one for one in at(found, "fit_unit").parameters if one.name == "unit"]
        assert unit.words is not None
        assert "patch" in unit.words
        assert "stem" not in unit.words

    def test_a_book_s_own_spacing_is_reported(self) -> None:
        apart = changed(CAR, rulebook="nz")
        two = {**apart, "injuries": [apart["injuries"][0], {**apart["injuries"][0], "around_mm": 1200}]}
        (figure,) = [one for one in at(plan(two), "buff").parameters if one.name == "centres_apart"]
        assert (figure.low, figure.basis) == (150, "published_summary")

    def test_two_patches_of_different_size_are_distinguished_from_the_rest(self) -> None:
        hole = TRUCK["injuries"][0]
        small = [{**hole, "around_mm": 1200 + 700 * place, "diameter_mm": 4} for place in range(2)]
        found = plan({**TRUCK, "injuries": [hole, *small]})
        apart = {
            one.note.partition(".")[0]: one.low for one in at(found, "buff").parameters if one.name == "centres_apart"
        }
        assert apart == {
            "Repairs at injuries 0 and 1": 65,
            "Repairs at injuries 0 and 2": 65,
            "Repairs at injuries 1 and 2": 55,
        }

    def test_a_tyre_that_ran_low_gets_no_air_before_it_is_inspected(self) -> None:
        found = plan(JOBS["truck, run low"])
        before = found.steps[: codes(found).index("inspect_tyre")]
        assert not any(re.search(r"working pressure|inflate", " ".join(step.do)) for step in before)

    def test_a_unit_maker_s_trim_comes_first(self) -> None:
        unit = {
            "code": "U-6",
            "kind": "one_piece",
            "stem_mm": 6,
            "stem_length_mm": 60,
            "patch_mm": 40,
            "construction": "radial",
            "reinforced": False,
            "trim": {"in_groove_mm": 1},
        }
        (height,) = [one for one in at(plan({**CAR, "stock": [unit]}), "trim").parameters if one.name == "trim_height"]
        assert (height.low, height.high, height.basis) == (1, 1, "house_rule")

    def test_american_books_speak_american(self) -> None:
        for job in ("car", "truck, run low", "van, tube", "car, two holes"):
            text = " ".join(_texts(plan({**JOBS[job], "rulebook": "us"})))
            assert not re.search(r"\b(tyres?|petrol|centres?)\b", text, re.IGNORECASE)
            assert "tire" in text

    def test_every_sentence_is_plain_and_complete(self) -> None:
        for job in JOBS.values():
            for step in plan(job).steps:
                for sentence in (*step.do, *(caution.says for caution in step.cautions)):
                    assert sentence[0].isupper()
                    assert sentence.endswith(".")
                    assert "{" not in sentence
                assert not step.title.endswith(".")


class TestTheShopsOwnFigures:
    def test_times_and_quantities_take_the_trade_s_place(self) -> None:
        house: dict[str, Any] = {
            "minutes": {"balance": 7, "inner_dual": {"low": 5, "likely": 6, "high": 9}},
            "quantities": {"cement": {"low": 3, "high": 4}, "cleaner": 12},
        }
        found, usual = plan({**TRUCK, "house_times": house}), plan(TRUCK)
        assert found.minutes.likely == usual.minutes.likely + (7 - 4) + (6 - 10)
        (dual,) = [part for part in at(found, "wheel_off").times if part.code == "inner_dual"]
        assert (dual.low, dual.high, dual.basis, dual.source) == (5, 9, "house_rule", "House time sent with the case")
        used = {one.code: (one.low, one.high, one.basis) for one in found.consumables}
        assert used["cement"] == (3, 4, "house_rule")
        assert used["cleaner"] == (12, 12, "house_rule")
        assert used["sealer"][2] == "derived"

    def test_the_drying_time_shown_is_the_one_reckoned_with(self) -> None:
        found = plan({**CAR, "house_times": {"minutes": {"dry": 9}}})
        (figure,) = [one for one in at(found, "dry").parameters if one.name == "drying_time"]
        assert (figure.low, figure.high, figure.basis) == (9, 9, "house_rule")
        assert found.drying is not None
        assert found.drying.minutes.likely == 9

    def test_a_code_that_no_plan_has_is_refused_with_those_there_are(self) -> None:
        flaws = refusal({**CAR, "house_times": {"minutes": {"polish/wax": 3}, "quantities": {"glitter": 1}}})
        assert flaws.keys() == {"/house_times/minutes/polish~1wax", "/house_times/quantities/glitter"}
        assert "balance, buff, cement" in flaws["/house_times/minutes/polish~1wax"]
        assert flaws["/house_times/quantities/glitter"].startswith("Nothing of that code is used up; there are ")

    def test_minutes_that_fall_are_refused(self) -> None:
        flaws = refusal({**CAR, "house_times": {"minutes": {"balance": {"low": 5, "likely": 4, "high": 9}}}})
        assert "must not fall" in flaws["/house_times/minutes/balance"]

    def test_a_quantity_below_nothing_is_refused(self) -> None:
        flaws = refusal({**CAR, "house_times": {"quantities": {"cement": {"low": -1, "high": 9}}}})
        assert flaws.keys() == {"/house_times/quantities/cement"}

    def test_a_bench_outside_the_contract_is_refused(self) -> None:
        flaws = refusal(changed(CAR, bench={"air_temperature_c": {"low": 20, "high": 10}}))
        assert "`low` may not be above `high`" in flaws["/bench/air_temperature_c"]


def _texts(found: WorkPlan) -> Iterator[str]:
    yield from found.says
    for step in found.steps:
        yield from (step.title, step.only_if or "", *step.do, *step.tools)
        yield from (f"{figure.title} {figure.says} {figure.note}" for figure in step.parameters)
        yield from (f"{caution.says} {caution.only_if}" for caution in step.cautions)
        if step.hold is not None:
            yield from (step.hold.checks, step.hold.right, step.hold.if_not)
    yield from (f"{used.title} {used.note}" for used in found.consumables)


def _without(case: Json, pointer: str) -> Json:
    other = changed(case)
    *path, last = pointer.strip("/").split("/")
    within: Any = other
    for part in path:
        within = within[int(part)] if isinstance(within, list) else within[part]
    del within[last]
    return other


class TestWhoseWorkItIs:
    """The project's own research of November 2026: common practice of the trade, save where a line says otherwise."""

    @pytest.mark.parametrize("job", ["motorcycle", "motorcycle, loose wheel"])
    def test_a_motorcycle_has_no_studs_and_no_wheel_nuts(self, job: str) -> None:
        steps = plan(JOBS[job]).steps
        assert not re.search(r"\bstuds?\b|wheel nut|opposite nuts|\bnuts in turn", " ".join(map(str, steps)))

    @pytest.mark.parametrize(
        "word",
        [
            "paddock stand",
            "centre stand",
            "spindle",
            "chain",
            "tension",
            "shaft",
            "caliper",
            "sensor and its ring",
            "direction arrow",
            "pinch bolts",
            "the motorcycle maker's figure",
            "Pump the brake until the lever is firm, before the machine moves.",
        ],
    )
    def test_a_motorcycle_s_wheel_comes_off_and_goes_back_as_a_motorcycle_s(self, word: str) -> None:
        assert word in " ".join(line for step in plan(JOBS["motorcycle"]).steps for line in (*step.do, str(step)))

    def test_a_motorcycle_is_not_had_back_for_its_wheel_nuts(self) -> None:
        assert "recheck_torque" not in codes(plan(JOBS["motorcycle"]))
        assert codes(plan(JOBS["car"]))[-1] == "recheck_torque"

    def test_a_dual_tyre_run_low_has_its_mate_checked(self) -> None:
        mate = at(plan(JOBS["truck, run low"]), "check_mate")
        assert mate.only_if is None
        assert "At or under 80 % of the recommended pressure it comes off the rim too" in " ".join(mate.do)

    @pytest.mark.parametrize("job", ["truck, inner dual", "truck, single", "car"])
    def test_the_mate_is_looked_at_only_where_a_pair_ran_low(self, job: str) -> None:
        assert "check_mate" not in codes(plan(JOBS[job]))

    def test_a_single_tyre_run_low_has_no_mate(self) -> None:
        single = changed(TRUCK, position={"fitment": "single"}, history={"pressure_found_percent": 60})
        assert "check_mate" not in codes(plan(single))

    def test_the_climate_is_read_before_anything_is_cut_or_buffed(self) -> None:
        order = codes(plan(JOBS["car"]))
        assert order.index("check_climate") < min(map(order.index, ("clean_liner", "cut_channel", "buff", "cement")))
        assert order.index("decide") < order.index("check_climate")

    def test_the_repairer_marks_the_repair_where_the_book_asks_for_it(self) -> None:
        # AS 1973-1993, retailers' summaries: the repair is marked by the repairer (published_summary).
        mark = at(plan(JOBS["Australian car"]), "mark_repair")
        assert "the repairer's own mark" in mark.do[0]
        assert "AS 1973-1993" in given(mark.source)
        assert [(figure.name, figure.basis) for figure in mark.parameters] == [("mark", "published_summary")]
        assert "mark_repair" not in codes(plan(JOBS["car"]))


@pytest.mark.parametrize("job", sorted(JOBS))
def test_a_step_is_known_no_better_than_its_weakest_line(job: str) -> None:
    rules = {rule.code: rule for rule in list_editions()[0].procedure.steps}
    for step in plan(JOBS[job]).steps:
        rule = rules[step.code]
        quoted: list[Basis] = [
            given(figure.basis) for figure in step.parameters if f"{{{figure.name}}}" in str(rule.do)
        ]
        lines = [rule.basis, *quoted]
        assert weakest([given(step.basis), *lines]) == step.basis, step.code


def test_what_the_shop_adds_to_a_published_line_is_not_published() -> None:
    # 29 CFR 1910.177 says how to let the air out and when none goes in; what is asked of the driver is a habit.
    gauge = at(plan(JOBS["truck, run low"]), "gauge_pressure")
    assert gauge.basis == "common_practice"
    assert "29 CFR 1910.177" in given(gauge.source)
