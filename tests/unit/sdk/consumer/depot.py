"""A fleet's program as an integrator would write it: every kind of call, every answer held to its type."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator, Iterator
from typing import assert_type

import httpx2

from mendgauge_client import (
    AsyncMendgauge,
    Basis,
    CaseBatch,
    CaseResult,
    EarlierRepair,
    FaultAt,
    Injury,
    InvalidRequestError,
    MeasuredFrom,
    Mendgauge,
    MendgaugeError,
    NextStep,
    Problem,
    Progress,
    Range,
    Repairability,
    RepairPlan,
    RepairPlanBatch,
    Reply,
    Tyre,
    TyreCase,
    TyreMarking,
    Vehicle,
    VehicleKind,
    Verdict,
    bench_case,
    give_or_take,
    roadside_case,
    tread_puncture,
)


def case_of(marking: str, kind: VehicleKind, hole_mm: float) -> TyreCase:
    case = TyreCase(
        rulebook="gb",
        vehicle=Vehicle(kind=kind, gross_mass_kg=Range(low=1800, high=2000)),
        tyre=Tyre(marking=marking, tread_depth_mm=5),
        injuries=[Injury(region="tread", depth="through", diameter_mm=hole_mm)],
        earlier_repairs=[EarlierRepair(method="one_piece", proper=True)],
    )
    case.injuries = [Injury(measured_from=MeasuredFrom.INSIDE), tread_puncture(4.0, measured_from=MeasuredFrom.OUTSIDE)]
    case.reference = "F-201"
    return case


def ask(service: Mendgauge) -> str:
    hole = tread_puncture(give_or_take(4.0, 0.5), across_mm=20)
    case = bench_case("gb", "205/55R16 91V", hole, vehicle="car", axle="front")
    assert_type(case, TyreCase)
    answer = service.check_repairability(case, timeout=3)
    assert_type(answer, Repairability)
    assert_type(answer.verdict, Verdict)
    assert_type(answer.next_step, NextStep)
    for found in answer.findings:
        assert_type(found.basis, Basis | None)
        if found.limit is not None:
            assert_type(found.limit.unit, str)
    if answer.verdict == "repairable" or answer.verdict is Verdict.SPECIALIST:
        return answer.verdict
    plan = service.plan_repair(case)
    assert_type(plan, RepairPlan)
    assert_type(plan.to_json(), str)
    return plan.quote.totals.gross if plan.quote else "no quote"


def read(service: Mendgauge) -> list[FaultAt]:
    marking = service.read_tyre_marking("205/55R16 91V", date_code="2323")
    assert_type(marking, TyreMarking)
    assert_type(marking.section_width_mm, float | None)
    reply = service.raw.check_repairability(roadside_case("gb", marking.marking, object="nail"))
    assert_type(reply, Reply[Repairability])
    assert_type(reply.response, httpx2.Response)
    try:
        assert_type(service.plan_repairs_in_batch(CaseBatch(items=[])), RepairPlanBatch)
    except InvalidRequestError as error:
        assert_type(error.problem, Problem | None)
        return error.faults
    except MendgaugeError:
        return []
    return []


def shown(progress: Progress) -> None:
    assert_type(progress.total, int | None)


def judge(service: Mendgauge, cases: Iterator[TyreCase]) -> Iterator[str]:
    for result in service.check_repairability_of_each(cases, chunk=500, progress=shown):
        assert_type(result, CaseResult[Repairability])
        if result.problem is not None:
            yield result.problem.detail
        elif result.answer is not None:
            yield result.answer.verdict


async def judge_async(cases: AsyncIterator[TyreCase]) -> None:
    async with AsyncMendgauge("http://tyres.example", http_client=httpx2.AsyncClient()) as service:
        assert_type(service.with_options(timeout=3, headers={"X-Tenant": "north"}), AsyncMendgauge)
        assert_type(await service.check_repairability(case_of("205/55R16 91V", "car", 4)), Repairability)
        async for result in service.plan_repairs_of_each(cases, concurrency=3):
            assert_type(result, CaseResult[RepairPlan])


def main() -> None:
    with Mendgauge() as service:
        sys.stdout.writelines([ask(service), *(fault.detail for fault in read(service)), *judge(service, iter([]))])


if __name__ == "__main__":
    main()
