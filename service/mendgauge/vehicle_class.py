"""Which class of limits a tyre falls under: by its vehicle, and by its marking where the vehicle is not known.

Repair codes speak of passenger car, light commercial, truck, bus and motorcycle *tyres*. A light trailer's tyre is a
light commercial tyre and a small lorry on load range E runs on light commercial tyres too, so the marking has a say.
"""

from __future__ import annotations

from typing import Final, Literal, TypeAlias, get_args

from mendgauge.tyre.marking import Marking
from mendgauge.words import VehicleKind

TyreClass: TypeAlias = Literal["car", "van", "truck", "bus", "motorcycle"]

KINDS: Final[tuple[VehicleKind, ...]] = get_args(VehicleKind)

# UN R54 draws the line between light commercial (C2) and heavy (C3) tyres at the single load index, 49 CFR 571.139 and
# the American repair charts at the load range; half-inch rims from 17.5 up are made for heavy vehicles alone.
_LAST_LIGHT_LOAD_INDEX: Final = 121
_LIGHT_LOAD_RANGES: Final = frozenset("ABCDE")
_FIRST_HEAVY_HALF_INCH_RIM: Final = 17.5
# The heaviest load index and the widest section of road motorcycle tyres in the tables of UN R75.
_LAST_MOTORCYCLE_LOAD_INDEX: Final = 90
_WIDEST_MOTORCYCLE_MM: Final = 260


def heavy(marking: Marking) -> bool:
    """Whether the marking is a truck or bus tyre's: load range, else load index, else rim.

    Basis: UN R54 (class C3 starts at load index 122), American load ranges (F and up); the rim by common practice.
    """
    if marking.load_range is not None:
        return marking.load_range not in _LIGHT_LOAD_RANGES
    if marking.li_single is not None:
        return marking.li_single > _LAST_LIGHT_LOAD_INDEX
    if marking.prefix in ("P", "T", "LT", "ST", "HL") or {"C", "CP", "LT"} & set(marking.suffix):
        return False
    return _heavy_rim(marking)


def _heavy_rim(marking: Marking) -> bool:
    rim = marking.rim_code
    return rim >= _FIRST_HEAVY_HALF_INCH_RIM and rim % 1 == 0.5 and not marking.rim_is_mm


def possible_kinds(marking: Marking) -> tuple[VehicleKind, ...]:
    """The vehicles that a tyre of this marking can run on."""
    return tuple(kind for kind in KINDS if _runs_on(kind, marking))


def _runs_on(kind: VehicleKind, marking: Marking) -> bool:
    if marking.motorcycle or kind == "motorcycle":
        return kind == "motorcycle" and _on_a_motorcycle(marking)
    if kind == "car":
        return not heavy(marking) and not _heavy_rim(marking)
    if kind == "van":
        return not _heavy_rim(marking)
    return marking.prefix not in ("P", "T", "HL") or kind == "trailer"


def _on_a_motorcycle(marking: Marking) -> bool:
    if marking.motorcycle:
        return True
    width = marking.section_width_mm
    return (
        marking.prefix is None
        and not marking.suffix
        and "XL" not in marking.tags
        and (marking.li_single is None or marking.li_single <= _LAST_MOTORCYCLE_LOAD_INDEX)
        and marking.li_dual is None
        and marking.load_range is None
        and (width is None or width <= _WIDEST_MOTORCYCLE_MM)
    )


def tyre_class(kind: VehicleKind, marking: Marking) -> TyreClass:
    """The class of limits that applies to a tyre of this marking on a vehicle of this kind."""
    if kind in ("car", "van", "motorcycle"):
        return kind
    if not heavy(marking) and not _heavy_rim(marking) and _light_by_marking(marking):
        return "van"
    return "bus" if kind == "bus" else "truck"


def _light_by_marking(marking: Marking) -> bool:
    """Whether the marking itself says light: a bare size on a heavy vehicle is not taken for a light tyre's."""
    return (
        marking.load_range is not None
        or marking.li_single is not None
        or marking.prefix in ("P", "T", "LT", "ST", "HL")
        or bool({"C", "CP", "LT"} & set(marking.suffix))
    )
