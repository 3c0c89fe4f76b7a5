"""Quantities as an answer gives them: a span of what is possible, and a figure of the trade with its source."""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated

import msgspec
from msgspec import Meta

from mendgauge.answers.bound_edition import BoundEdition
from mendgauge.answers.citation import Sourced
from mendgauge.core.interval import Interval
from mendgauge.rulebooks.provision import Provision


class Span(msgspec.Struct, frozen=True, kw_only=True):
    """All values from one to another, in the unit of the field's name; known where both are the same."""

    low: Annotated[float, Meta(description="The smallest value it can have.", examples=[6.0])]
    high: Annotated[float, Meta(description="The largest value it can have.", examples=[6.0])]


class Figure(Sourced, frozen=True, kw_only=True):
    """A figure of the trade, and its source."""

    low: Annotated[float, Meta(description="The figure; the smaller one where it is a range.", examples=[3])]
    high: Annotated[float, Meta(description="The figure; the larger one where it is a range.", examples=[4])]
    unit: Annotated[str, Meta(description="Unit of both.", examples=["mm"])]
    clause: Annotated[str, Meta(description="Where in the document, in a full answer; empty where not known.")] = ""


@lru_cache(maxsize=4096)
def span(of: Interval) -> Span:
    """Return an interval as an answer gives it, to a thousandth."""
    return Span(low=tidy(of.low), high=tidy(of.high))


def figure(bound: BoundEdition, provision: Provision, low: float, high: float, unit: str) -> Figure:
    """Return a figure that stands in a rulebook."""
    provenance = bound.provenance_of(provision)
    return Figure(
        low=low,
        high=high,
        unit=unit,
        basis=provenance.basis,
        source=provenance.source,
        clause=provision.clause if bound.full else "",
    )


def tidy(value: float) -> float:
    """Round to a thousandth, which no gauge of the bench resolves; never minus zero."""
    # Most are whole, and rounding those takes six times as long.
    return (value if value % 1.0 == 0.0 else round(value, 3)) + 0.0
