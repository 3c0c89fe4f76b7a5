"""The job card: everything the bench needs on one tyre, and room for what it writes down."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from mendgauge.operations.job_cards.blocks import Beside, Block, Check, Checks, Fields, Notes, Turn
from mendgauge.operations.job_cards.driver import follow_ups
from mendgauge.operations.job_cards.facts import drawings, tyre_facts
from mendgauge.operations.work_plans.answer import StepParameter, WorkStep
from mendgauge.operations.work_plans.plan import plan_of
from mendgauge.operations.work_plans.steps import DRY
from mendgauge.operations.workup import Workup
from mendgauge.wording.cards import CardWords
from mendgauge.wording.quantities import quantity

_DRYING: Final = ("air", "humidity", "cement_on", "ready")
_BY_HAND: Final = (
    *("technician", "date", "odometer", "size_after", "lean_after", "place_after"),
    *("unit", "cement", "leak_test", "torque_tool", "signature"),
)


def job_blocks(workup: Workup) -> Iterator[Block | Beside | Turn]:
    """Yield what stands on the job card, in the order of the work."""
    words, plan = workup.bound.words.cards, plan_of(workup)
    time = words.says["minutes"].format(likely=f"{plan.minutes.likely:g}")
    yield from drawings(workup, tyre_facts(workup, (words.facts["minutes"], time)))
    yield follow_ups(workup)
    yield from _drying(workup)
    yield Fields(words.headings["to_fill"], tuple(words.fields[name] for name in _BY_HAND))
    yield Turn()
    yield Notes(words.headings["cautions"], tuple(_cautions(workup)), columns=2)
    yield Checks(words.headings["work"], tuple(_check(step, words) for step in plan.steps))


def _drying(workup: Workup) -> Iterator[Block]:
    """Yield how long cement dries here, by the climate, and room for the clock."""
    words, plan = workup.bound.words.cards, plan_of(workup)
    if plan.drying is not None:
        likely = plan.drying.minutes
        minutes = quantity(likely.low, likely.high, "minutes", workup.bound.words.language)
        figures = (_figure(one) for step in plan.steps if step.code == DRY for one in step.parameters)
        said = " ".join(f"{one}." for one in figures)
        yield Notes(words.headings["drying"], (words.says["drying"].format(minutes=minutes), said))
        yield Fields("", tuple(words.fields[name] for name in _DRYING))


def _check(step: WorkStep, words: CardWords) -> Check:
    title = step.title if step.only_if is None else f"{step.title}, {words.only_if.format(what=step.only_if)}"
    stop = "" if step.hold is None else words.hold.format(checks=step.hold.checks, right=step.hold.right)
    return Check(title, tuple(map(_figure, step.parameters)), stop)


def _figure(figure: StepParameter) -> str:
    return f"{figure.title}: {figure.says}"


def _cautions(workup: Workup) -> Iterator[str]:
    """Yield what whoever does the work must know first, each once."""
    plan = plan_of(workup)
    at_steps = (one.says for step in plan.steps for one in step.cautions)
    yield from dict.fromkeys((*(one.says for one in plan.cautions), *at_steps))
