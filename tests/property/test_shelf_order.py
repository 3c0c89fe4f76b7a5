"""What the choice of units leaves out to be quick is never missed: of options, and of earlier repairs beside a hole."""

from __future__ import annotations

from itertools import islice, product

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from tests.property.cases import tenths
from tests.property.judging import Json

from mendgauge.case.case import Case
from mendgauge.case.stock import StockUnit
from mendgauge.core.interval import EITHER, NO, YES, Truth
from mendgauge.operations.repair_units.fit import Fit, item
from mendgauge.operations.repair_units.requirements import requirements_of
from mendgauge.operations.repair_units.search import Candidate, Options, candidate, useful
from mendgauge.operations.workup import work_up

PRICES = st.sampled_from((None, "1.00", "2.00"))


@st.composite
def candidates(draw: st.DrawFn, kind: str, first: int) -> list[Candidate]:
    found = []
    for index in range(draw(st.integers(0, 6))):
        unit: Json = {"code": f"{kind} {index}", "kind": kind, "price": draw(PRICES)}
        if kind != "patch":
            unit |= {"stem_mm": 6, "stem_length_mm": draw(st.sampled_from((50, 60)))}
        if kind != "stem":
            unit |= {"patch_mm": draw(st.sampled_from((30, 40)))}
        found.append(candidate(item(msgspec.convert(unit, StockUnit), first + index, generic=False), ()))
    return found


@given(candidates("one_piece", 0), candidates("stem", 10), candidates("patch", 20), st.integers(1, 4))
def test_options_come_the_best_first_and_each_once(
    whole: list[Candidate], stems: list[Candidate], patches: list[Candidate], channels: int
) -> None:
    found = (useful(units, channels) for units in (whole, stems, patches))
    options = Options(*found, one_piece_allowed=True)
    units = [(one,) for one in options.one_piece]
    every = [options.of(pieces) for pieces in (*units, *product(options.stems, options.patches))]
    every.sort(key=lambda option: option.cost)
    some = [option.pieces for option in islice(options, 3)]
    assert some == [option.pieces for option in every[:3]]
    assert [option.pieces for option in options] == [option.pieces for option in every]
    assert bool(options) == bool(every)


@st.composite
def spans(draw: st.DrawFn, low: float, high: float) -> Json | float:
    one, other = sorted((draw(tenths(low, high)), draw(tenths(low, high))))
    return one if draw(st.booleans()) else {"low": one, "high": other}


PLACED = st.fixed_dictionaries(
    {"across_mm": spans(-60, 60), "around_mm": spans(500, 800), "patch_mm": spans(20, 60)},
)
PATCHES = st.sampled_from(
    (
        {"patch_mm": 35},
        {"patch_mm": 60},
        {"patch_shape": "rectangular", "patch_width_mm": 40, "patch_length_mm": 90},
        {"patch_shape": "rectangular", "patch_width_mm": 90, "patch_length_mm": 40},
    )
)


def met(patch: Json, earlier: list[Json]) -> tuple[Truth, float | None]:
    """Whether a patch meets one of some earlier repairs, and how far it comes too near where it surely does."""
    case = {
        "rulebook": "gb",
        "vehicle": {"kind": "car"},
        "tyre": {"marking": "205/55R16 91V", "tread_depth_mm": 5, "crown_thickness_mm": 7},
        "injuries": [{"region": "tread", "across_mm": 0, "around_mm": 640, "lean_deg": 0, "diameter_mm": 4}],
        "earlier_repairs": [{**one, "measured_from": "inside"} for one in earlier],
    }
    unit = msgspec.convert({"code": "P", "kind": "patch", **patch}, StockUnit)
    with work_up(msgspec.convert(case, Case)) as workup:
        (requirements,) = requirements_of(workup)
        missed = Fit(requirements, workup.on).missed(item(unit, 0, generic=False))
    return next(((one.answer, one.by) for one in missed if one.code == "meets_earlier_repair"), (YES, None))


@given(PATCHES, st.lists(PLACED, min_size=2, max_size=6))
def test_a_patch_meets_several_earlier_repairs_as_surely_as_the_nearest_of_them(
    patch: Json, earlier: list[Json]
) -> None:
    alone = [met(patch, [one]) for one in earlier]
    answer, by = met(patch, earlier)
    surely = [too_near for each, too_near in alone if each == NO]
    perhaps = any(each == EITHER for each, _ in alone)
    assert answer == (NO if surely else EITHER if perhaps else YES)
    assert by in (surely or [None])
