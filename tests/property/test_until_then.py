"""What to tell a driver until the tyre is seen to is safe: without air, only a run-flat tyre is driven on."""

from __future__ import annotations

from typing import Any, Final

from hypothesis import given
from hypothesis import strategies as st
from tests.property.effort import share
from tests.property.judging import Json, judge

from mendgauge.rulebooks import list_editions
from mendgauge.tyre.marking_facts import marking_facts_of

BOOKS: Final = sorted({edition.book.id for edition in list_editions()})
MARKINGS: Final = ("205/55R16 91V", "205/55RF16 91V", "315/80R22.5 156/150L", "100/90-19 57P", "7.50-16")
MAYBE: Final = st.sampled_from((None, True, False))


@st.composite
def on_the_road(draw: st.DrawFn) -> Json:
    """A tyre on a vehicle, with any or none of what its driver may know."""
    marking = draw(st.sampled_from(MARKINGS))
    driven_flat = draw(MAYBE)
    history = {
        "complete": draw(st.booleans()),
        "driven_flat": driven_flat,
        "flat_distance_km": draw(st.sampled_from((None, 1, 79, 80, 200))) if driven_flat else None,
        "pressure_found_percent": draw(st.sampled_from((None, 0, 80, 81, 100, {"low": 70, "high": 90}))),
        "sealant_used": draw(MAYBE),
        "losing_air": draw(MAYBE),
    }
    injury = {"region": draw(st.sampled_from((None, "tread", "sidewall", "bead"))), "object_in_place": draw(MAYBE)}
    return {
        "rulebook": draw(st.sampled_from(BOOKS)),
        "assessed_on": "2026-11-26",
        "detail": "full",
        "vehicle": {"kind": draw(st.sampled_from((None, *marking_facts_of(marking).kinds)))},
        "position": {"fitment": draw(st.sampled_from((None, "single")))},
        "tyre": {"marking": marking},
        "injuries": draw(st.sampled_from((None, [], [injury]))),
        "inspection": {"bulge": draw(MAYBE), "zipper_signs": draw(MAYBE)},
        "history": history,
    }


def firm(case: Json) -> set[str]:
    """All that is surely wrong with a tyre on the road."""
    history, inspection = case["history"], case["inspection"]
    pressure = history["pressure_found_percent"]
    most = pressure["high"] if isinstance(pressure, dict) else pressure
    found = {
        "airless": bool(history["driven_flat"] or history["losing_air"] or (most is not None and most <= 80)),
        "damaged": bool(inspection["bulge"] or inspection["zipper_signs"]),
        "side": any(injury["region"] in ("sidewall", "bead") for injury in case["injuries"] or ()),
    }
    return {name for name, holds in found.items() if holds}


@share(0.5)
@given(case=on_the_road())
def test_a_tyre_that_is_surely_unsafe_is_not_driven_on(case: Json) -> None:
    wrong = firm(case)
    goes_without_air = case["tyre"]["marking"] == "205/55RF16 91V" and (case["history"]["flat_distance_km"] or 0) < 80
    advice = advised(case)
    if wrong and not (wrong == {"airless"} and goes_without_air):
        assert advice.drive == "no"
    elif wrong:
        assert (advice.drive, advice.max_kmh) == ("to_the_bench", 80)
    else:
        assert advice.drive != "no"


@share(0.5)
@given(case=on_the_road())
def test_a_tyre_goes_to_the_bench_only_once_it_is_known_to_hold_its_pressure(case: Json) -> None:
    history, advice = case["history"], advised(case)
    if advice.drive == "to_the_bench" and not firm(case):
        assert history["losing_air"] is False
        assert history["pressure_found_percent"] in (81, 100)
        assert history["driven_flat"] is False or history["complete"]


@share(0.5)
@given(case=on_the_road())
def test_every_line_has_a_basis_and_a_source_and_the_words_of_its_vehicle(case: Json) -> None:
    advice = advised(case)
    assert advice.says
    for line in advice.says:
        assert line.basis
        assert line.source
        assert not set("{}") & set(line.says)
        if case["vehicle"]["kind"] == "motorcycle":
            assert "drive" not in line.says.lower()
            assert "vehicle" not in line.says


def advised(case: Json) -> Any:
    advice = judge(case).until_then
    assert advice is not None
    return advice
