"""The answer of a repair plan: the parts of one case, and why a part is absent."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.base import Answer, AnswerPart, open_words
from mendgauge.answers.citation import Sources
from mendgauge.operations.quotes.answer import Quote
from mendgauge.operations.repair_units.answer import RepairUnits
from mendgauge.operations.repairability.answer import Repairability
from mendgauge.operations.service_limits.answer import ServiceLimits
from mendgauge.operations.stem_trim.answer import StemTrims
from mendgauge.operations.work_plans.answer import WorkPlan


class Absent(AnswerPart, frozen=True, kw_only=True):
    """A part that the plan does not have."""

    part: Annotated[
        str,
        Meta(
            description="The part, by the name of its field.",
            examples=["quote"],
            extra_json_schema=open_words("repair_units", "stem_trims", "service_limits", "work_plan", "quote"),
        ),
    ]
    says: Annotated[str, Meta(description="Why it does not apply.")]


class RepairPlan(Answer, frozen=True, kw_only=True):
    """All that is said of one tyre. Each part is what its own operation answers to the same case; a brief plan says
    everything once, and leaves what a bench works by to `choose_repair_units` and `plan_work`.
    """

    verdict: Annotated[str, Meta(description="The verdict on the tyre, as repairability gives it.")]
    repairability: Annotated[Repairability, Meta(description="What `check_repairability` answers.")]
    repair_units: Annotated[RepairUnits | None, Meta(description="What `choose_repair_units` answers; null if absent.")]
    stem_trims: Annotated[StemTrims | None, Meta(description="What `trim_stems` answers; null if absent.")]
    service_limits: Annotated[
        ServiceLimits | None, Meta(description="What `find_service_limits` answers; null if absent.")
    ]
    work_plan: Annotated[WorkPlan | None, Meta(description="What `plan_work` answers; null if absent.")]
    quote: Annotated[Quote | None, Meta(description="What `quote_repair` answers; null if absent.")]
    absent: Annotated[
        tuple[Absent, ...], Meta(max_length=5, description="The parts that are null, and why each does not apply.")
    ]
    sources: Sources = msgspec.field(default_factory=dict)
