"""Plans are sound: more facts never bring a step that was not foreseen, nor take away one that was sure."""

from __future__ import annotations

from typing import Any, Final, get_args

import msgspec
from hypothesis import assume, given
from hypothesis import strategies as st
from tests.property.cases import COIN, Drawn, full_cases, tenths
from tests.property.effort import share
from tests.property.judging import Json
from tests.property.vague import WHOLE, put, vaguer

from mendgauge.case.case import Case
from mendgauge.case.shop import Bench
from mendgauge.core.interval import NO, YES
from mendgauge.core.vocabulary import Detail
from mendgauge.operations.work_plans import plan_work
from mendgauge.operations.work_plans.answer import Minutes, WorkPlan
from mendgauge.operations.work_plans.bound_procedure import bound_procedure
from mendgauge.operations.work_plans.drying import Climate, dew_point_c
from mendgauge.operations.work_plans.job import job_of
from mendgauge.operations.work_plans.step_selection import named_at, pick_step
from mendgauge.operations.work_plans.step_times import step_time
from mendgauge.operations.workup import work_up
from mendgauge.rulebooks import find_edition, list_editions

GROUPS: Final = tuple(group for group in WHOLE if group != "/injuries")
"""A case without word of injuries is planned for one: another job than one for three."""
CODES: Final = sorted({step.code for edition in list_editions() for step in edition.procedure.steps})
BACK_ON: Final = {"refit", "torque", "torque_spindle", "recheck_torque"}
"""Steps of the repair that a search for a leak ends with: a wheel that was taken off goes back on."""
AIR, HUMIDITY, LINER = (-40.0, 60.0), (1.0, 100.0), (-40.0, 90.0)


def plan(case: Json) -> WorkPlan:
    return plan_work(msgspec.convert(case, Case))


_AIR: Final = tenths(8, 25) | tenths(*AIR)
_HUMIDITY: Final = tenths(40, 75) | tenths(*HUMIDITY)
_LINER: Final = tenths(5, 25) | tenths(*LINER)
_WHEEL: Final = st.sampled_from(("on_vehicle", "loose"))
_FILL: Final = st.sampled_from((None, None, "tread_rubber", "two_part"))
_WIDENING: Final = st.sampled_from((0.0, 0.1, 1.0, 10.0))


@st.composite
def benches(draw: st.DrawFn) -> Json:
    """A bench of which everything is known, mostly one at which cement dries."""
    bench: Json = {
        "air_temperature_c": draw(_AIR),
        "relative_humidity_percent": draw(_HUMIDITY),
        "liner_temperature_c": draw(_LINER),
        "wheel": draw(_WHEEL),
        "pressure_sensor": draw(COIN),
    }
    if fill := draw(_FILL):
        bench["heat_cured_fill"] = fill
    return bench


@st.composite
def vaguer_bench(draw: st.DrawFn, bench: Json) -> Json:
    """The same bench known less well. How the shop fills a channel is its own choice and no fact to find out."""
    vague: Json = {}
    for name, value in bench.items():
        if name == "heat_cured_fill" or draw(COIN):
            vague[name] = value
        elif not isinstance(value, (bool, str)) and draw(COIN):
            low, high = {"air_temperature_c": AIR, "relative_humidity_percent": HUMIDITY}.get(name, LINER)
            by = draw(_WIDENING)
            vague[name] = {"low": max(low, value - by), "high": min(high, value + by)}
    return vague


@st.composite
def jobs(draw: st.DrawFn) -> tuple[Json, Json]:
    """A full case at a full bench, and the same known less well."""
    drawn: Drawn = draw(full_cases(injuries=(1, 3), earlier=(0, 1)))
    bench = draw(benches())
    vague = draw(vaguer(drawn, drawn.case, GROUPS)) if draw(COIN) else drawn.case
    return {**drawn.case, "bench": bench}, {**vague, "bench": draw(vaguer_bench(bench))}


def within(inner: Minutes, outer: Minutes) -> bool:
    return outer.low <= inner.low + 1e-6 and inner.high <= outer.high + 1e-6


@given(jobs())
@share(0.4)
def test_what_is_planned_was_foreseen_before_everything_was_known(job: tuple[Json, Json]) -> None:
    full, vague = (plan(case) for case in job)
    assume(full.scope == "repair")
    assert vague.scope == "repair"
    done, foreseen = ({step.code: step for step in one.steps} for one in (full, vague))
    assert done.keys() <= foreseen.keys()
    sure = {code for code, step in foreseen.items() if step.only_if is None and not step.injuries}
    assert sure <= done.keys()
    for code, step in done.items():
        assert set(step.injuries) <= set(foreseen[code].injuries)
        assert within(step.minutes, foreseen[code].minutes), code
        assert {caution.code for caution in step.cautions} <= {caution.code for caution in foreseen[code].cautions}
    assert within(full.minutes, vague.minutes)
    assert within(full.minutes_to_decision, vague.minutes_to_decision)


@given(jobs())
@share(0.3)
def test_a_plan_goes_as_far_as_its_verdict_and_holds_together(job: tuple[Json, Json]) -> None:
    for case in job:
        found = plan(case)
        parts = [step.part for step in found.steps]
        codes = [step.code for step in found.steps]
        order = [step.code for step in find_edition(case["rulebook"]).procedure.steps]
        assert codes == sorted(codes, key=order.index)
        assert parts == sorted(parts, key=("inspection", "leak_search", "decision", "repair").index)
        assert (found.scope == "repair") == bool(found.consumables)
        assert ("leak_search" in parts) == (found.scope == "leak_search")
        assert ("decision" in parts) == (found.scope in ("repair", "inspection"))
        if found.scope == "leak_search":
            assert {step.code for step in found.steps if step.part == "repair"} <= BACK_ON
        else:
            assert ("repair" in parts) == (found.scope == "repair")
        if found.offer == "withheld":
            assert found.scope != "repair"
        if found.offer == "conditional" and found.scope == "repair":
            assert found.waits_at == "decide"
        if found.waits_at is not None:
            assert found.waits_at in codes
        for minutes in (found.minutes, found.minutes_to_decision, *(step.minutes for step in found.steps)):
            assert 0 <= minutes.low <= minutes.likely <= minutes.high
        assert abs(found.minutes.likely - sum(step.minutes.likely for step in found.steps)) < 1e-6
        for used in found.consumables:
            assert 0 <= used.low <= used.high


@given(jobs())
@share(0.2)
def test_what_a_step_hangs_on_is_asked_for(job: tuple[Json, Json]) -> None:
    _, vague = job
    found = plan(vague)
    asked = {code for question in found.to_establish for code in question.steps}
    for step in found.steps:
        if step.only_if is not None and not step.injuries:
            assert step.code in asked, step.code


@given(jobs(), st.sampled_from(get_args(Detail)))
@share(0.2)
def test_a_step_hangs_on_the_circumstances_that_it_names_alone(job: tuple[Json, Json], detail: Detail) -> None:
    """Steps are kept by these: every other circumstance of the job changes nothing of one."""
    for case in job:
        with work_up(msgspec.convert({**case, "detail": detail}, Case)) as workup:
            bound, conditions = bound_procedure(workup.bound), job_of(workup).conditions
        procedure = bound.procedure
        for rule in procedure.steps:
            seen = conditions.as_named(named_at(procedure, rule))
            whole, kept = pick_step(bound, conditions, rule), pick_step(bound, seen, rule)
            if whole is None or kept is None:
                assert whole is kept
            else:
                assert msgspec.structs.astuple(whole) == msgspec.structs.astuple(kept)
                assert step_time(procedure, conditions, whole, {}, {}) == step_time(procedure, seen, kept, {}, {})


@given(benches(), st.sampled_from(("air_temperature_c", "relative_humidity_percent")), st.floats(0, 30))
def test_colder_or_damper_air_never_dries_faster(bench: Json, name: str, by: float) -> None:
    rule = list_editions()[0].procedure.drying[0]
    down = name == "air_temperature_c"
    worse_value = max(AIR[0], bench[name] - by) if down else min(HUMIDITY[1], bench[name] + by)
    before, after = (Climate(msgspec.convert(one, Bench), rule) for one in (bench, {**bench, name: worse_value}))
    assert not (before.slow == YES and after.slow == NO)
    if not down:
        assert not (before.stopped == YES and after.stopped == NO)


@given(tenths(*AIR), tenths(1, 100), st.floats(0.1, 20))
def test_the_dew_point_rises_with_warmth_and_damp_and_is_never_above_the_air(
    air: float, damp: float, by: float
) -> None:
    dew = dew_point_c(air, damp)
    assert dew <= air + 1e-9
    assert dew_point_c(air + by, damp) > dew
    if damp + by <= 100:
        assert dew_point_c(air, damp + by) > dew


@given(jobs(), st.dictionaries(st.sampled_from(CODES), st.integers(0, 90), max_size=4))
@share(0.1)
def test_a_shop_s_own_time_takes_the_place_of_the_trade_s(job: tuple[Json, Json], own: dict[str, Any]) -> None:
    case = job[0]
    timed = {part.code for step in plan(case).steps for part in step.times}
    own = {code: minutes for code, minutes in own.items() if code in timed}
    found = plan(put(case, "/house_times", {"minutes": own}))
    for step in found.steps:
        for part in step.times:
            if part.code in own:
                assert part.low == part.likely == part.high == own[part.code]
                assert part.basis == "house_rule"
            else:
                assert part.basis != "house_rule"
