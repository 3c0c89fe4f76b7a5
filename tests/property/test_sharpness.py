"""The possible verdicts are exact where one fact is missing: each verdict listed is reached by some answer to it."""

from __future__ import annotations

import re
from typing import Final

from hypothesis import given, note
from hypothesis import strategies as st
from tests.property.cases import Drawn, deep
from tests.property.completing import reached, verdicts
from tests.property.effort import share
from tests.property.judging import Json, judge, possible
from tests.property.settled import settled_cases
from tests.property.vague import get, leaves, put

from mendgauge.facts.yes_no import SIGNS, TRAITS

FAMILIES: Final = (
    *(f"/injuries/*/{name}" for name in ("region", "depth", "diameter_mm", "stage", "across_mm", "around_mm")),
    *(f"/injuries/*/{name}" for name in ("lean_deg", "lean_toward_deg", "measured_from", "emerges_in")),
    *(f"/earlier_repairs/*/{name}" for name in ("proper", "across_mm", "around_mm", "patch_mm")),
    *(f"/tyre/{name}" for name in ("tread_depth_mm", "tread_width_mm", "crown_thickness_mm", "date_code")),
    *(f"/tyre/traits/{name}" for name in TRAITS),
    *(f"/inspection/{name}" for name in SIGNS),
    *("/vehicle/kind", "/vehicle/gross_mass_kg", "/position/axle", "/position/fitment"),
    *("/tyre/maker_policy/repair", "/history/sealant_used", "/injuries", "/earlier_repairs"),
)

LEVERS: Final = re.compile(r"/(across_mm|around_mm|diameter_mm|lean_deg|patch_mm|tread_depth_mm|gross_mass_kg)$")

SHIFTS: Final = st.sampled_from((-120, -40, -15, -5, -2, 2, 5, 15, 40, 120))
BESIDE: Final = st.sampled_from((-3, -1, -0.2, -0.01, 0, 0.01, 0.2, 1, 3))
STEPS: Final = 12


IN_BAND: Final = re.compile(r"/(lean_deg|lean_toward_deg|measured_from|emerges_in|crown_thickness_mm|tread_depth_mm)$")
"""Facts that decide whether the channel stays in the band."""


@st.composite
def one_fact_missing(draw: st.DrawFn) -> tuple[Drawn, Json, str]:
    """A settled case, poised near a limit, with one fact left out."""
    family = draw(st.sampled_from(FAMILIES))
    drawn = draw(settled_cases(injuries=(1, 3), earlier=(1 if family.startswith("/earlier_repairs/") else 0, 2)))
    case: Json = deep(drawn.case)
    for injury in case["injuries"]:
        # The other side gives the lean and the thickness over again: one of them missing would not be missing.
        injury.pop("other_side_across_mm", None)
        if family.endswith("/depth"):
            # Known to be prepared, or measured inside, an injury is not in the rubber alone.
            injury |= {"stage": "found", "measured_from": "outside"}
    if family == "/injuries":
        # A house's own word on a region is one more on a question that an unknown injury leaves open already.
        case.pop("house_rules", None)
    elif family.endswith("/diameter_mm"):
        # Of two limits at the very same size, the graver leaves nothing to the other.
        case.get("house_rules", {}).pop("max_injury_mm", None)
    fields = [*leaves(case), "/injuries", "/earlier_repairs"]
    field = draw(st.sampled_from([one for one in fields if re.sub(r"/[0-9]+/", "/*/", one) == family]))
    if IN_BAND.search(family):
        levers = ["/injuries/0/across_mm"]
    else:
        levers = [pointer for pointer in fields if LEVERS.search(pointer) and pointer != field]
    case = poised(case, draw(st.sampled_from(levers)), draw(SHIFTS), draw(BESIDE))
    if judge(case).verdict == "inspect":
        case = put(case, "/tyre/date_code", "0121")
    missing = put(case, field, None)
    if field == "/position/axle":
        missing = put(missing, "/position/steered", None)
    return drawn._replace(case=case), missing, field


def poised(case: Json, lever: str, by: float, beside: float) -> Json:
    """The case with a measurement moved to where the verdict changes, or a little beside; as it is if it does not."""
    held = get(case, lever)
    other = held + by
    before, after = verdicts(put(case, lever, held)), verdicts(put(case, lever, other))
    if not after or before == after:
        return case
    for _ in range(STEPS):
        middle = (held + other) / 2
        held, other = (middle, other) if verdicts(put(case, lever, middle)) == before else (held, middle)
    near = put(case, lever, held + beside)
    return near if verdicts(near) else case


@share(0.4)
@given(one_fact_missing())
def test_each_verdict_listed_is_reached_by_an_answer(sample: tuple[Drawn, Json, str]) -> None:
    drawn, case, field = sample
    listed = possible(case)
    note(f"missing: {field}")
    assert reached(drawn, case, field, listed) >= listed
