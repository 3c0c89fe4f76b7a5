"""Full cases in which nothing at all is left open: every fact given by itself, and a firm verdict."""

from __future__ import annotations

from datetime import date
from typing import Final

from hypothesis import strategies as st
from tests.property.cases import MARKINGS, Drawn, deep, full_cases
from tests.property.houses import with_house_rules
from tests.property.judging import Json, judge
from tests.property.vague import YES_OR_NO, given_one_by_one, put

NOTHING_OPEN: Final = tuple(marking for marking in MARKINGS if marking != "4.00-18 64H")
"""Markings that leave nothing open: the other does not give the circumference, and no question could."""

_NO_LEAN: Final = {
    "depth": "to_cord",
    "stage": "found",
    "measured_from": "outside",
    "lean_deg": 0,
    "lean_toward_deg": 0,
    "emerges_in": "groove",
}


@st.composite
def settled_cases(draw: st.DrawFn, injuries: tuple[int, int] = (0, 3), earlier: tuple[int, int] = (0, 2)) -> Drawn:
    """A full case with a firm verdict; the numbers of its injuries and earlier repairs lie between the ends given."""
    drawn = draw(with_house_rules(draw(full_cases(NOTHING_OPEN, injuries, earlier))))
    case: Json = deep(drawn.case)
    for group in YES_OR_NO:
        case = given_one_by_one(case, group)
    case["tyre"]["maker_policy"].setdefault("repair", "permitted")
    # How far repairs lie apart around the tyre hangs on its size and wear, where nobody measured it.
    case["in_service"] = {"overall_diameter_mm": round(drawn.marking_facts.overall_diameter.high, 1)}
    # Of an injury in the rubber alone there is no lean to give, whoever asks.
    case["injuries"] = [injury if "lean_deg" in injury else {**injury, **_NO_LEAN} for injury in case["injuries"]]
    if _near_a_birthday(case) or judge(case).verdict == "inspect":
        # A date code gives the week: of a tyre that comes of age in it, no question says more.
        case = put(case, "/tyre/date_code", "0121")
    return drawn._replace(case=case)


def _near_a_birthday(case: Json) -> bool:
    """Whether a whole number of years lies within a month or so of the tyre's age."""
    code = case["tyre"]["date_code"]
    made = date.fromisocalendar(2000 + int(code[2:]), int(code[:2]), 1)
    days = (date.fromisoformat(case["assessed_on"]) - made).days
    return not 30 < days % 365.25 < 335
