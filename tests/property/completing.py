"""Every answer that a missing fact can have, as far as trying shows: all choices, a fine grid of measurements."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import pairwise, product
from typing import Any, Final, get_args

import msgspec
from tests.property.cases import Drawn, contract_bounds, estimate, widest_across
from tests.property.judging import Json
from tests.property.vague import ESTIMATED, get, put, span

from mendgauge.case.case import Case
from mendgauge.case.fields import field_at, pattern_of
from mendgauge.core import vocabulary as words
from mendgauge.core.errors import CaseError
from mendgauge.operations.repairability import check_repairability

POINTS: Final = 100
BISECTIONS: Final = 25


def reached(drawn: Drawn, case: Json, field: str, listed: set[str]) -> set[str]:
    """The verdicts that the case comes to when the field is filled in; it stops once all those listed are reached."""
    bounds = _bounds(drawn, case, field)
    if bounds is not None:
        return _reached_by_measuring(case, field, bounds, listed)
    found: set[str] = set()
    for value in _answers(drawn, case, field):
        found |= verdicts(put(case, field, value))
        if listed <= found:
            break
    return found


def verdicts(case: Json) -> frozenset[str]:
    """What a case may come to; nothing where it breaks the contract or contradicts itself."""
    try:
        return frozenset(check_repairability(msgspec.convert(case, Case)).possible_verdicts)
    except (CaseError, msgspec.ValidationError):
        return frozenset()


def _reached_by_measuring(case: Json, field: str, bounds: tuple[float, float], listed: set[str]) -> set[str]:
    """A grid of values, the limits of the trade among them, then halving wherever two neighbours differ."""
    low, high = bounds
    grid = {low + (high - low) * step / POINTS for step in range(POINTS + 1)}
    grid |= {value for value in (1.0, 1.6, 3, 6, 8, 9.5, 10, 25, 45, 80, 3500) if low <= value <= high}
    if field.endswith("/around_mm"):
        # Repairs get in each other's way only side by side, it may be by a hair.
        grid |= {
            span(one["around_mm"])[0] for one in (*case["injuries"], *case["earlier_repairs"]) if "around_mm" in one
        }
    tried = [(value, verdicts(put(case, field, value))) for value in sorted(grid)]
    found = {verdict for _, these in tried for verdict in these}
    for (left, one), (right, other) in pairwise(tried):
        for _ in range(BISECTIONS):
            if listed <= found or one == other:
                break
            middle = (left + right) / 2
            between = verdicts(put(case, field, middle))
            found |= between
            left, one, right, other = (
                (middle, between, right, other) if between == one else (left, one, middle, between)
            )
    return found


def _answers(drawn: Drawn, case: Json, field: str) -> Iterator[Any]:
    if field == "/tyre/date_code":
        on = date.fromisoformat(case["assessed_on"])
        for weeks in range(2, 1040, 4):
            year, week, _ = (on - timedelta(weeks=weeks)).isocalendar()
            yield f"{min(week, 52):02d}{year % 100:02d}"
    elif field == "/injuries":
        yield from _injuries(drawn)
    elif field == "/earlier_repairs":
        yield from _earlier_repairs(drawn, case)
    else:
        yield from field_at(field).choices


def _injuries(drawn: Drawn) -> Iterator[list[Json]]:
    """One injury, of every kind: large and small, in every region, in the middle and at the edge."""
    for region, depth, size, place in product(
        get_args(words.Region), get_args(words.Depth), (2, 5, 6.5, 12, 30, 80), (0.0, 0.99)
    ):
        injury = {"region": region, "depth": depth, "diameter_mm": size, "stage": "found", "measured_from": "outside"}
        injury |= {"across_mm": place * widest_across(drawn.marking_facts, region), "around_mm": 0.0}
        yield [
            injury if depth == "rubber_only" else {**injury, "lean_deg": 0, "lean_toward_deg": 0, "emerges_in": "lug"}
        ]


def _earlier_repairs(drawn: Drawn, case: Json) -> Iterator[list[Json]]:
    """None, one or several, sound or not, on top of the first injury or on the other side of the tyre."""
    yield []
    injury = case["injuries"][0] if case["injuries"] else {"across_mm": 0, "around_mm": 0}
    half = drawn.marking_facts.circumference.high / 2
    for number, proper, beside in product((1, 2, 5), (True, False), (0.0, half)):
        around = (injury["around_mm"] + beside) % (2 * half)
        repair = {"method": "one_piece", "proper": proper, "measured_from": "outside", "patch_mm": 20}
        yield [{**repair, "across_mm": 0, "around_mm": around}] * number


def _bounds(drawn: Drawn, case: Json, field: str) -> tuple[float, float] | None:
    """The values that a missing measurement is taken to have: by the book's estimate, the tyre or the contract."""
    group, _, name = field.rpartition("/")
    marking_facts = drawn.marking_facts
    if name in ESTIMATED:
        low, high = estimate(drawn.edition, drawn.of, ESTIMATED[name], marking_facts)
        return (low, min(high, case["tyre"]["new_tread_depth_mm"])) if name == "tread_depth_mm" else (low, high)
    if name == "across_mm":
        widest = widest_across(marking_facts, get(case, f"{group}/region"))
        return -widest, widest
    if name == "around_mm":
        return 0, marking_facts.circumference.high
    return contract_bounds(pattern_of(field))
