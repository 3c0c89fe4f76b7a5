"""Benches with stock: tyres of which everything is known, holes some way apart, and a few units to choose from."""

from __future__ import annotations

from typing import Any, Final, NamedTuple

from hypothesis import strategies as st
from tests.property.cases import tenths
from tests.property.judging import Json


class Bench(NamedTuple):
    """A case with stock, and what stands fast of its tyre."""

    case: Json
    crown_mm: float
    tread_mm: float


TYRES: Final = (
    ("gb", "car", "205/55R16 91H", (5.5, 8.0), (3.0, 8.0)),
    ("au", "van", "195/75R16C 107/105R", (7.0, 11.0), (3.0, 10.0)),
    ("gb", "truck", "315/80R22.5 156/150L", (14.0, 20.0), (4.0, 16.0)),
    ("us", "truck", "315/80D22.5 156/150L", (14.0, 20.0), (4.0, 16.0)),
)
"""Rulebook, vehicle, marking, spans of crown thickness and tread: a radial car, van and truck tyre and a bias one."""

_TYRE: Final = st.sampled_from(TYRES)
_COIN: Final = st.booleans()
_OF_THREE: Final = st.integers(0, 2)
_OF_FOUR: Final = st.integers(0, 3)
_OF_TEN: Final = st.integers(0, 9)
_EARLIER_PATCH: Final = st.sampled_from((35, 45, 55))
_ACROSS: Final = tenths(-35, 35) | tenths(54, 60)
_SIDE: Final = st.sampled_from(("inside", "inside", "outside"))
_HOLE: Final = {True: st.sampled_from((5.0, 6.0, 8.5, 9.0)), False: st.sampled_from((5.0, 5.5, 6.0))}
_LEAN: Final = st.sampled_from((0, 0, 5, 15, 25, 26, 32))
_TOWARD: Final = st.sampled_from((0, 90, 180, 270)) | st.integers(0, 360)
_EMERGES: Final = st.sampled_from(("groove", "lug"))
_KIND: Final = st.sampled_from(("one_piece", "stem", "patch"))
_STEM: Final = {True: st.sampled_from((6, 10, 10)), False: st.sampled_from((6, 6, 6, 4.5))}
_LENGTH: Final = st.sampled_from((90, 90, 120, 70, 60, 50, 45, 40, 38))
_REINFORCED: Final = {True: st.sampled_from((True, True, False)), False: st.sampled_from((False, False, True))}
_CONSTRUCTION: Final = st.sampled_from((*("either",) * 5, "radial", "bias"))
_SIZE: Final = {
    True: st.sampled_from((50.2, 50.7, 51.5, 52, 55, 60, 31, 31.5)),
    False: st.sampled_from((30.1, 30.4, 30.8, 31.5, 35, 40)),
}
"""Sizes of patches close about what a mouth with its reach asks for, straight and leaning, and larger ones."""
_PRICE: Final = st.sampled_from(("1.00", "1.50", "2.00"))
_ON_HAND: Final = st.sampled_from((0, 1, 1, 1, 2, 2))
_EXPIRES: Final = st.sampled_from(("2026-11-23", "2026-11-24"))
_LARGEST_LEAN: Final = st.sampled_from((15, 25, 40))
_LARGEST_INJURY: Final = st.sampled_from((4.5, 6, 10))


@st.composite
def benches(draw: st.DrawFn, most_holes: int = 3, most_units: int = 7) -> Bench:
    """A bench whose tyre may mostly be repaired: its holes and its stock are drawn."""
    book, kind, marking, crowns, treads = draw(_TYRE)
    crown, tread = draw(tenths(*crowns)), draw(tenths(*treads))
    large = kind == "truck"
    holes, around = [], draw(tenths(100, 300))
    for _ in range(draw(st.integers(1, most_holes))):
        holes.append(draw(_holes(around, large)))
        around += draw(tenths(70, 110) if large else tenths(50, 70))
    earlier = []
    if draw(_COIN):
        earlier.append(
            {
                "method": "one_piece",
                "proper": True,
                "across_mm": draw(tenths(-10, 10)),
                "around_mm": around + draw(tenths(-10, 20)),
                "measured_from": "inside",
                "patch_mm": draw(_EARLIER_PATCH),
            }
        )
    case = {
        "detail": "full",
        "rulebook": book,
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": kind, "gross_mass_kg": 18_000 if large else 1900},
        "position": {"axle": "drive" if large else "rear", "steered": False, "fitment": "dual" if large else "single"},
        "tyre": {
            "marking": marking,
            "date_code": "2323",
            "tread_depth_mm": tread,
            "new_tread_depth_mm": tread,
            "tread_width_mm": 240 if large else 165,
            "crown_thickness_mm": crown,
            "traits": {"complete": True},
            "maker_policy": {"repair": "permitted"},
        },
        "injuries": holes,
        "earlier_repairs": earlier,
        "inspection": {"complete": True},
        "history": {"complete": True, "pressure_found_percent": 90},
        "stock": draw(stocks(large, most_units)),
    }
    return Bench(case, crown, tread)


@st.composite
def _holes(draw: st.DrawFn, around: float, large: bool) -> Json:
    return {
        "region": "tread",
        "depth": "through",
        "across_mm": draw(_ACROSS),
        "around_mm": around,
        "measured_from": draw(_SIDE),
        "diameter_mm": draw(_HOLE[large]),
        "stage": "found",
        "lean_deg": draw(_LEAN),
        "lean_toward_deg": draw(_TOWARD),
        "emerges_in": draw(_EMERGES),
    }


@st.composite
def stocks(draw: st.DrawFn, large: bool, most: int) -> list[Json]:
    """A few units, most of sizes that may do, with ties of size and price, and few on hand."""
    return [draw(_units(f"U{index}", large)) for index in range(draw(st.integers(2, most)))]


@st.composite
def _units(draw: st.DrawFn, code: str, large: bool) -> Json:
    kind = draw(_KIND)
    unit: dict[str, Any] = {"code": code, "kind": kind}
    if kind != "patch":
        unit["stem_mm"] = draw(_STEM[large])
        unit["stem_length_mm"] = draw(_LENGTH)
    if kind != "stem":
        unit["reinforced"] = draw(_REINFORCED[large])
        unit["construction"] = draw(_CONSTRUCTION)
        if draw(_OF_THREE) == 0:
            unit["patch_shape"] = "rectangular"
            unit["patch_width_mm"] = draw(_SIZE[large])
            unit["patch_length_mm"] = draw(_SIZE[large])
        else:
            unit["patch_mm"] = draw(_SIZE[large])
    if draw(_OF_FOUR):
        unit["price"] = draw(_PRICE)
    if draw(_COIN):
        unit["on_hand"] = draw(_ON_HAND)
    if draw(_OF_TEN) == 9:
        unit["expires_on"] = draw(_EXPIRES)
    if draw(_OF_TEN) == 9:
        unit["largest_lean_deg"] = draw(_LARGEST_LEAN)
    if draw(_OF_TEN) == 9:
        unit["largest_injury_mm"] = draw(_LARGEST_INJURY)
    return unit
