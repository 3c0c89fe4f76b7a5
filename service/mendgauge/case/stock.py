"""A shop's own repair units, as it sends them with a case."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Annotated, Final, Literal, TypeAlias

from msgspec import Meta

from mendgauge.core.errors import Flaw
from mendgauge.core.vocabulary import LEAN_DEG_MAX, RequestModel

UnitKind: TypeAlias = Literal["one_piece", "stem", "patch"]
PatchShape: TypeAlias = Literal["round", "rectangular"]
UnitBuild: TypeAlias = Literal["radial", "bias", "either"]

STOCK_MAX: Final = 200


class TrimInstruction(RequestModel, frozen=True, kw_only=True):
    """Where a unit's own maker has its stem cut. What is left out stays as the trade does it."""

    in_groove_mm: Annotated[
        Annotated[float, Meta(ge=0, le=20)] | None,
        Meta(description="Height left above the groove base, mm; 0 is flush.", examples=[0]),
    ] = None
    on_lug_mm: Annotated[
        Annotated[float, Meta(ge=0, le=20)] | None,
        Meta(description="Height left above the tread surface on a lug, block or rib, mm; 0 is flush.", examples=[3]),
    ] = None
    inside_mm: Annotated[
        Annotated[float, Meta(ge=0, le=20)] | None,
        Meta(description="Height left above the liner before it is buffed level, mm; two-piece.", examples=[3]),
    ] = None


class StockUnit(RequestModel, frozen=True, kw_only=True):
    """One line of a shop's stock: a unit of one piece (stem and patch), a stem, or a patch."""

    code: Annotated[str, Meta(min_length=1, max_length=60, description="The shop's own code for it.", examples=["U-6"])]
    kind: Annotated[
        UnitKind,
        Meta(description="One piece with stem and patch, a stem alone, or a patch alone.", examples=["one_piece"]),
    ]
    stem_mm: Annotated[
        Annotated[float, Meta(gt=0, le=50)] | None,
        Meta(description="Nominal diameter of the stem, mm: that of the cutter it goes with.", examples=[6]),
    ] = None
    stem_length_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="Length of the stem, lead end included, mm.", examples=[60]),
    ] = None
    patch_shape: Annotated[
        PatchShape | None, Meta(description="Shape of the patch; round where it is left out.", examples=["round"])
    ] = None
    patch_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="Diameter of a round patch, mm.", examples=[35]),
    ] = None
    patch_width_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(
            description="Of a rectangular patch: its extent from bead to bead as its arrows point, mm.", examples=[60]
        ),
    ] = None
    patch_length_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="Of a rectangular patch: its extent along the tread, mm.", examples=[80]),
    ] = None
    construction: Annotated[
        UnitBuild | None,
        Meta(description="What carcass the patch is made for. Left out: not known.", examples=["radial"]),
    ] = None
    reinforced: Annotated[
        bool | None, Meta(description="Whether the patch is reinforced. Left out: not known.", examples=[False])
    ] = None
    largest_injury_mm: Annotated[
        Annotated[float, Meta(gt=0, le=500)] | None,
        Meta(description="Largest channel, cut clean, that its maker lets it repair, mm.", examples=[6]),
    ] = None
    largest_lean_deg: Annotated[
        Annotated[float, Meta(ge=0, le=LEAN_DEG_MAX)] | None,
        Meta(description="Largest lean that its maker lets it repair, degrees.", examples=[25]),
    ] = None
    trim: Annotated[
        TrimInstruction | None, Meta(description="Where its maker has the stem cut. Left out: as the trade does it.")
    ] = None
    price: Annotated[
        Annotated[str, Meta(pattern=r"^[0-9]{1,9}(\.[0-9]{1,4})?\Z", max_length=14)] | None,
        Meta(description="What one costs; every price of a list in the same currency.", examples=["2.40"]),
    ] = None
    on_hand: Annotated[
        Annotated[float, Meta(ge=0, le=1_000_000, multiple_of=1)] | None,
        Meta(description="How many there are. Left out: enough.", examples=[12]),
    ] = None
    expires_on: Annotated[
        date | None, Meta(description="The last day it may be used. Left out: it does not expire.")
    ] = None


_ROUND: Final = ("patch_mm",)
_RECTANGULAR: Final = ("patch_width_mm", "patch_length_mm")
_STEM: Final = ("stem_mm", "stem_length_mm")
_PATCH: Final = ("patch_shape", *_ROUND, *_RECTANGULAR, "construction", "reinforced")


def stock_flaws(stock: tuple[StockUnit, ...]) -> Iterator[Flaw]:
    """Yield what is wrong with a list of stock: codes that come twice, units that lack what makes them one."""
    first: dict[str, int] = {}
    for index, unit in enumerate(stock):
        place = f"/stock/{index}"
        if first.setdefault(unit.code, index) != index:
            what = (
                f"The code {unit.code!r} is also that of /stock/{first[unit.code]}; each line needs a code of its own."
            )
            yield Flaw(f"{place}/code", what)
        yield from _unit_flaws(place, unit)


def _unit_flaws(place: str, unit: StockUnit) -> Iterator[Flaw]:
    if unit.kind == "patch":
        yield from _refused(place, unit, _STEM, "A patch has no stem: leave this out, or make the kind `one_piece`.")
    elif unit.stem_mm is None:
        yield Flaw(f"{place}/stem_mm", "Give the stem's nominal diameter: without it no channel can be matched.")
    if unit.kind == "stem":
        yield from _refused(place, unit, _PATCH, "A stem has no patch: leave this out, or make the kind `one_piece`.")
        return
    wanted, others = (_RECTANGULAR, _ROUND) if unit.patch_shape == "rectangular" else (_ROUND, _RECTANGULAR)
    shape = unit.patch_shape or "round"
    for name in wanted:
        if getattr(unit, name) is None:
            yield Flaw(f"{place}/{name}", f"Give this of a {shape} patch: {' and '.join(wanted)}.")
    yield from _refused(place, unit, others, f"A {shape} patch is described by {' and '.join(wanted)}: leave this out.")


def _refused(place: str, unit: StockUnit, names: tuple[str, ...], what: str) -> Iterator[Flaw]:
    for name in names:
        if getattr(unit, name) is not None:
            yield Flaw(f"{place}/{name}", what)
