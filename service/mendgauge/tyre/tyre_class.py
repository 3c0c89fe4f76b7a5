"""Which class of limits a tyre falls under: by its marking first, by its vehicle where the marking leaves it open.

Repair codes speak of passenger car, light commercial, truck, bus and motorcycle *tyres*. A van may run on passenger
tyres and a small lorry on light commercial ones, so the marking decides, and a bare size on anything but a car or a
motorcycle leaves more than one class possible.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Final, Literal, TypeAlias, get_args

import msgspec

from mendgauge.core.vocabulary import VehicleKind
from mendgauge.tyre.marking import Marking
from mendgauge.tyre.tables import CLASS_BOUND, LOAD_RANGE

TyreClass: TypeAlias = Literal["car", "van", "truck", "bus", "motorcycle"]

KINDS: Final[tuple[VehicleKind, ...]] = get_args(VehicleKind)

_LAST_LIGHT_LOAD_INDEX: Final = CLASS_BOUND["last_light_load_index"]
_LIGHT_LOAD_RANGES: Final = frozenset(
    letter for letter, row in LOAD_RANGE.items() if row.ply_rating <= CLASS_BOUND["last_light_load_range_ply_rating"]
)
_FIRST_HEAVY_HALF_INCH_RIM: Final = CLASS_BOUND["first_heavy_half_inch_rim_code"]
_LAST_MOTORCYCLE_LOAD_INDEX: Final = CLASS_BOUND["last_motorcycle_load_index"]
_WIDEST_MOTORCYCLE_MM: Final = CLASS_BOUND["widest_motorcycle_section_mm"]


class Use(msgspec.Struct, frozen=True, gc=False):
    """What a tyre may be in use as: on a kind of vehicle, under a class of limits."""

    kind: VehicleKind
    tyre_class: TyreClass


_Size: TypeAlias = Literal["passenger", "light", "heavy"]
Uses: TypeAlias = Mapping[VehicleKind | None, tuple[Use, ...]]
"""What a tyre may be in use as, by the kind of vehicle it is on, and under `None` on every kind that it goes on."""


def possible_uses(marking: Marking) -> Uses:
    """Everything that a tyre of this marking may be in use as."""
    if marking.motorcycle:
        return _ON_A_MOTORCYCLE
    return _uses(
        _sizes(marking),
        heavy_rim=_heavy_rim(marking),
        passenger=marking.prefix in ("P", "T", "HL"),
        on_a_motorcycle=_on_a_motorcycle(marking),
    )


@cache
def _uses(sizes: tuple[_Size, ...], *, heavy_rim: bool, passenger: bool, on_a_motorcycle: bool) -> Uses:
    """Return the uses of a tyre that is not marked as a motorcycle's."""
    goes_on: dict[VehicleKind, bool] = {
        "car": sizes != ("heavy",),
        "van": not heavy_rim,
        "truck": not passenger,
        "bus": not passenger,
        "trailer": True,
        "motorcycle": on_a_motorcycle,
    }
    return _by_kind(tuple(Use(kind, of) for kind in KINDS if goes_on[kind] for of in _classes(kind, sizes)))


def _by_kind(uses: tuple[Use, ...]) -> Uses:
    kinds = dict.fromkeys(use.kind for use in uses)
    return {None: uses, **{kind: tuple(use for use in uses if use.kind == kind) for kind in kinds}}


def _classes(kind: VehicleKind, sizes: tuple[_Size, ...]) -> tuple[TyreClass, ...]:
    if kind in ("car", "motorcycle"):
        return (kind,)
    heavy: TyreClass = "bus" if kind == "bus" else "truck"
    names: dict[_Size, TyreClass] = {"passenger": "car", "light": "van", "heavy": heavy}
    return tuple(names[size] for size in sizes)


_ON_A_MOTORCYCLE: Final = _by_kind((Use("motorcycle", "motorcycle"),))


def _sizes(marking: Marking) -> tuple[_Size, ...]:
    """Passenger, light commercial or heavy: all that the marking leaves possible.

    Basis: the American load ranges (F and up is heavy), UN R54 (C and a dual index are commercial, class C3 starts at
    load index 122); the rim by common practice.
    """
    if marking.load_range is not None:
        return ("light",) if marking.load_range in _LIGHT_LOAD_RANGES else ("heavy",)
    if marking.prefix == "LT" or "LT" in marking.suffix:
        return ("light",) if _light_index(marking) else ("light", "heavy")
    if marking.prefix == "ST" or {"C", "CP", "ST"} & set(marking.suffix):
        return ("light",)
    if _heavy_rim(marking):
        return ("heavy",)
    if marking.li_single is not None:
        if not _light_index(marking):
            return ("heavy",)
        return ("passenger",) if marking.li_dual is None else ("light",)
    if marking.prefix in ("P", "T", "HL") or marking.zr or marking.speed_in_size:
        return ("passenger",)
    return ("passenger", "light", "heavy")


def _light_index(marking: Marking) -> bool:
    return marking.li_single is not None and marking.li_single <= _LAST_LIGHT_LOAD_INDEX


def _heavy_rim(marking: Marking) -> bool:
    rim = marking.rim_code
    return rim >= _FIRST_HEAVY_HALF_INCH_RIM and rim % 1 == 0.5 and not marking.rim_is_mm


def _on_a_motorcycle(marking: Marking) -> bool:
    """Return whether a size that is not marked as a motorcycle's may be one."""
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
