"""Whether anything may be offered for a tyre: only where it may be repaired, and conditionally where that is open."""

from __future__ import annotations

from typing import Annotated, Literal, TypeAlias

from msgspec import Meta

from mendgauge.answers.base import Answer, open_words
from mendgauge.answers.finding import Finding
from mendgauge.operations.repairability.answer import Repairability

Offer: TypeAlias = Literal["offered", "conditional", "withheld"]


class OfferAnswer(Answer, frozen=True, kw_only=True):
    """Base of the answers that offer something for a tyre: only where it may be repaired."""

    verdict: Annotated[str, Meta(description="The verdict on the tyre, as repairability gives it.")]
    offer: Annotated[
        str,
        Meta(
            description="`offered`: the tyre may be repaired; `conditional`: only if what is still open turns out "
            "well; `withheld`: it may not be repaired at a bench, so nothing is chosen.",
            examples=["offered"],
            extra_json_schema=open_words("offered", "conditional", "withheld"),
        ),
    ]
    decided_by: Annotated[
        tuple[Finding, ...],
        Meta(max_length=1000, description="The rules that keep a repair from being offered, or that it hangs on."),
    ]


def offer_for(answer: Repairability) -> Offer:
    """Return what the verdict lets be offered."""
    if answer.verdict == "repairable":
        return "offered"
    return "conditional" if "repairable" in answer.possible_verdicts else "withheld"


def deciding_findings(answer: Repairability) -> tuple[Finding, ...]:
    """Return the rules behind what is not offered outright: those broken where it is withheld, else those open."""
    offer = offer_for(answer)
    if offer == "offered":
        return ()
    grave = tuple(one for one in answer.findings if one.effect in ("ends_the_tyre", "not_covered", "specialist_only"))
    broken = tuple(one for one in grave if one.outcome == "broken")
    # Where no single rule is surely broken, two open ones exclude each other's good outcome: all of them are named.
    return broken if offer == "withheld" and broken else grave
