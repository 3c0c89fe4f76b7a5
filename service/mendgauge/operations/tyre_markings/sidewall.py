"""A sidewall read: its dimensions, load, speed and age, and what looks odd about it."""

from __future__ import annotations

from datetime import date
from typing import Final

from mendgauge.operations.tyre_markings.answer import Build, ExtraService, SidewallWarning, TyreMarking
from mendgauge.tyre import dimensions, load
from mendgauge.tyre.date_code import DateCode, age_years, made_between, read_date_code
from mendgauge.tyre.marking import Marking, ServiceDescription, read_marking
from mendgauge.tyre.speed import speed_of

_BUILDS: Final[dict[str | None, Build | None]] = {"R": "radial", "B": "bias_belted", "D": "bias", None: None}

_DATE_WARNINGS: Final = {
    "PRE_2000_DECADE_UNKNOWN": "Three figures of date: the tyre was made before 2000, and the decade is not marked.",
    "WEEK53_ISO_ONLY": "That year has a week 53 by the ISO calendar, but not by the American one for tyre date codes.",
    "WEEK53_NEITHER": "That year has no week 53. The tyre was probably made in its last days.",
    "TWO_TINS": "There are two numbers: the retread's, which is read here, and the older one of its casing.",
    "NO_DATE": "This side has no date. Look on the other one.",
}


def explain_marking(
    marking: str, date_code: str | None, on: date, *, vehicle_max_speed_kmh: float | None = None
) -> TyreMarking:
    """Return what a marking and, if there is one, a date code or TIN say on a day.

    Raises:
        MarkingError: The marking cannot be read.
        DateCodeError: The date code cannot be read.
    """
    size = read_marking(marking)
    made = read_date_code(date_code, on) if date_code is not None else None
    carried = load.load_of(size)
    at_speed = load.load_at_speed(size, vehicle_max_speed_kmh) if vehicle_max_speed_kmh is not None else None
    speed = speed_of(size)
    days = made_between(made) if made else None
    age = age_years(made, on) if made else None
    return TyreMarking(
        marking=size.text,
        form=size.form,
        build=_BUILDS[size.structure],
        section_width_mm=_rounded(size.section_width_mm),
        aspect_percent=size.aspect,
        rim_diameter_mm=round(dimensions.rim_diameter_mm(size), 2),
        section_height_mm=_rounded(dimensions.section_height_mm(size)),
        overall_diameter_mm=_rounded(dimensions.overall_diameter_mm(size)),
        overall_diameter_regulation_mm=dimensions.overall_diameter_regulation_mm(size),
        outer_circumference_mm=_rounded(dimensions.outer_circumference_mm(size)),
        rolling_circumference_mm=_rounded(dimensions.rolling_circumference_mm(size)),
        revolutions_per_km=_rounded(dimensions.revolutions_per_km(size)),
        load_index_single=size.li_single,
        load_index_dual=size.li_dual,
        load_single_kg=carried.single_kg if carried else None,
        load_dual_kg=carried.dual_kg if carried else None,
        load_single_at_vehicle_speed_kg=_rounded(at_speed.single_kg if at_speed else None),
        load_dual_at_vehicle_speed_kg=_rounded(at_speed.dual_kg if at_speed else None),
        speed_symbol=speed.symbol if speed else None,
        speed_kmh=speed.kmh if speed else None,
        speed_is_floor=speed is not None and speed.is_floor,
        load_range=size.load_range,
        ply_rating=size.ply_rating,
        run_flat=size.run_flat,
        temporary_spare=size.temporary_spare,
        light_truck=size.light_truck,
        motorcycle=size.motorcycle,
        extra_services=tuple(map(_extra, size.extra_service)),
        tags=size.tags,
        unread=size.unread,
        plant=made.plant if made else None,
        made_week=made.week if made else None,
        made_year=made.year if made else None,
        made_from=days[0] if days else None,
        made_to=days[1] if days else None,
        assessed_on=on,
        age_years_from=_rounded(age.low if age else None),
        age_years_to=_rounded(age.high if age else None),
        warnings=_warnings(size, made),
    )


def _extra(service: ServiceDescription) -> ExtraService:
    return ExtraService(
        load_index_single=service.li_single, load_index_dual=service.li_dual, speed_symbol=service.speed
    )


def _warnings(size: Marking, made: DateCode | None) -> tuple[SidewallWarning, ...]:
    of_size = [SidewallWarning(code=warning.code, says=warning.says) for warning in size.warnings]
    of_date = [SidewallWarning(code=flag.lower(), says=_DATE_WARNINGS[flag]) for flag in (made.flags if made else ())]
    return (*of_size, *of_date)


def _rounded(value: float | None) -> float | None:
    """Round to hundredths: more figures than a tyre is true to."""
    return None if value is None else round(value, 2)
