"""The refusal slip: what was found, which rule it breaks, and what to do, for the customer to sign."""

from __future__ import annotations

from collections.abc import Iterator

from mendgauge.operations.job_cards.blocks import Beside, Block, Fields, Notes
from mendgauge.operations.job_cards.facts import drawings, reasons, tyre_facts
from mendgauge.operations.repairability.offer import deciding_findings
from mendgauge.operations.repairability.verdict import verdict_of
from mendgauge.operations.workup import Workup


def refusal_blocks(workup: Workup) -> Iterator[Block | Beside]:
    """Yield what stands on the refusal slip."""
    words, answer = workup.bound.words.cards, verdict_of(workup)
    deciding = deciding_findings(answer)
    yield Notes("", (words.says["refusal"],))
    yield tyre_facts(workup)
    yield reasons(workup, deciding)
    if advice := next((found.advice for found in deciding if found.advice is not None), None):
        said = ((words.tyre, advice.tyre), (words.vehicle, advice.vehicle), (words.operation, advice.operation))
        what_now = tuple(template.format(what=what) for template, what in said if what)
        yield Notes(words.headings["what_now"], what_now)
    yield from drawings(workup)
    yield Notes("", (words.says["received"],))
    yield Fields("", tuple(words.fields[name] for name in ("technician", "date", "name", "customer")))
