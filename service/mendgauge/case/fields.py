"""The registry of the case's fields: what each gives, what it is measured with, and where it can be asked for.

Bounds, the check of ranges, tolerances, the facts that a missing field leaves open, the answers tried in its place and
the key of its question are all derived from here and from the contract. A field of the contract without an entry, or
an entry without a field, fails at import.
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

import msgspec

from mendgauge.case.case import Case
from mendgauge.case.contract import AskedAt, CaseField, Entry, Measurement, Pattern, Pointer, blanks, describe

SETTINGS: Final = frozenset(
    {
        "/rulebook",
        "/reference",
        "/codes",
        "/assessed_on",
        "/house_rules",
        "/measuring",
        "/stock",
        "/house_times",
        "/price_book",
        "/replacement",
        "/detail",
    }
)
"""What a caller sets for itself: no fact of the tyre, and nothing that anybody is asked for."""

_TRAITS: Final[dict[str, AskedAt]] = {
    "run_flat": "phone",
    "foam_lined": "bench",
    "self_sealing": "vehicle",
    "retread": "vehicle",
    "studded": "vehicle",
    "temporary_spare": "phone",
    "tube_type": "vehicle",
    "regrooved": "vehicle",
}

_SIGNS: Final[dict[str, AskedAt]] = {
    "belt_separation": "bench",
    "bulge": "vehicle",
    "cord_exposed": "bench",
    "bead_damage": "bench",
    "liner_damage": "bench",
    "run_flat_signs": "bench",
    "secondary_damage": "bench",
    "perished": "vehicle",
    "contaminated": "bench",
    "zipper_signs": "bench",
}

ENTRIES: Final[dict[Pattern, Entry]] = {
    "/vehicle/kind": Entry("phone"),
    "/vehicle/gross_mass_kg": Entry("record", ("mass",), waits=True),
    "/vehicle/max_speed_kmh": Entry("record", ("vehicle_kmh",)),
    "/position/axle": Entry("phone", ("front",)),
    "/position/steered": Entry("phone", ("steered",)),
    "/position/fitment": Entry("phone", ("single",)),
    "/position/axle_load_kg": Entry("record", ("axle_load",)),
    "/tyre/marking": Entry("record", ("rated_kmh", "v_or_above", "section_width")),
    "/tyre/date_code": Entry("vehicle", ("age",), waits=True),
    "/tyre/tread_depth_mm": Entry("vehicle", ("tread_depth",), "depth_gauge_mm", waits=True),
    "/tyre/new_tread_depth_mm": Entry("vehicle"),
    "/tyre/tread_width_mm": Entry("vehicle", ("tread_width",), "ruler_mm"),
    "/tyre/crown_thickness_mm": Entry("bench", ("crown_thickness",), "depth_gauge_mm"),
    "/tyre/body_ply": Entry("vehicle", ("steel_plies",)),
    "/tyre/max_load_kg": Entry("vehicle", ("max_load",)),
    "/tyre/traits/complete": Entry("bench"),
    **{
        f"/tyre/traits/{name}": Entry(where, (name,), waits=name == "temporary_spare")
        for name, where in _TRAITS.items()
    },
    "/tyre/maker_policy/repair": Entry("record", ("maker_permits",), waits=True),
    "/tyre/maker_policy/speed_rating_after_repair": Entry("record"),
    "/tyre/maker_policy/speed_cap_kmh": Entry("record"),
    "/tyre/maker_policy/max_repairs": Entry("record"),
    "/injuries": Entry("phone"),
    "/injuries/*/region": Entry("phone", ("regions",)),
    "/injuries/*/depth": Entry("bench", ("depths", "through")),
    "/injuries/*/across_mm": Entry("vehicle", ("across",), "ruler_mm"),
    "/injuries/*/around_mm": Entry("vehicle", ("around",), "ruler_mm"),
    "/injuries/*/measured_from": Entry("vehicle", ("sides",)),
    "/injuries/*/other_side_across_mm": Entry("bench", (), "ruler_mm"),
    "/injuries/*/diameter_mm": Entry("bench", ("diameter",), "calliper_mm"),
    "/injuries/*/stage": Entry("bench", ("stages",)),
    "/injuries/*/lean_deg": Entry("bench", ("lean",), "probe_deg"),
    "/injuries/*/lean_toward_deg": Entry("bench", ("toward",), "probe_deg"),
    "/injuries/*/emerges_in": Entry("vehicle", ("emerges",)),
    "/injuries/*/plugged_from_outside": Entry("phone", ("plugged",)),
    "/injuries/*/object_in_place": Entry("phone", ("object_in",)),
    "/injuries/*/object": Entry("phone"),
    "/earlier_repairs": Entry("bench", ("earlier_known",)),
    "/earlier_repairs/*/method": Entry("bench"),
    "/earlier_repairs/*/proper": Entry("bench", ("proper",)),
    "/earlier_repairs/*/across_mm": Entry("bench", ("across",), "ruler_mm"),
    "/earlier_repairs/*/around_mm": Entry("bench", ("around",), "ruler_mm"),
    "/earlier_repairs/*/measured_from": Entry("bench", ("sides",)),
    "/earlier_repairs/*/patch_mm": Entry("bench", ("patch",), "ruler_mm"),
    "/inspection/complete": Entry("bench"),
    **{f"/inspection/{name}": Entry(where, (name,)) for name, where in _SIGNS.items()},
    "/history/complete": Entry("phone"),
    "/history/driven_flat": Entry("phone", ("driven_flat",)),
    "/history/pressure_found_percent": Entry("vehicle", ("pressure",), alone=True, waits=True),
    "/history/sealant_used": Entry("phone", ("sealant",)),
    "/history/flat_distance_km": Entry("phone", ("flat_distance",)),
    "/history/losing_air": Entry("phone", ("losing_air",), alone=True),
    "/in_service/axle_mates": Entry("vehicle", ("mates_known",)),
    "/in_service/axle_mates/*/place": Entry("vehicle", ("places",)),
    "/in_service/axle_mates/*/marking": Entry("vehicle", ("marking_facts",)),
    "/in_service/axle_mates/*/tread_depth_mm": Entry("vehicle", ("tread_depth",), "depth_gauge_mm"),
    "/in_service/axle_mates/*/overall_diameter_mm": Entry("vehicle", ("overall_diameter",), "ruler_mm"),
    "/in_service/overall_diameter_mm": Entry("vehicle", ("overall_diameter",), "ruler_mm"),
    "/in_service/max_load_dual_kg": Entry("vehicle", ("max_load_dual",)),
    "/in_service/winter_tyre": Entry("vehicle", ("winter",)),
    "/in_service/speed_label": Entry("phone", ("labelled",)),
    "/bench/air_temperature_c": Entry("bench"),
    "/bench/relative_humidity_percent": Entry("bench"),
    "/bench/liner_temperature_c": Entry("bench"),
    "/bench/wheel": Entry("phone"),
    "/bench/pressure_sensor": Entry("vehicle"),
    "/bench/heat_cured_fill": Entry("bench"),
}

FIELDS: Final[dict[Pattern, CaseField]] = describe(Case, ENTRIES, SETTINGS)
"""Every field of the case that is no setting, in the order of the contract."""


def _measurements() -> dict[type[msgspec.Struct], tuple[Measurement, ...]]:
    found: dict[type[msgspec.Struct], tuple[Measurement, ...]] = {}
    for field in FIELDS.values():
        if field.measurement is not None:
            found[field.section] = (*found.get(field.section, ()), field.measurement)
    return found


MEASURED: Final = _measurements()
"""The measured fields of every section of the case that has some."""

BLANKS: Final = blanks(Case, SETTINGS)

_INDEX: Final = re.compile(r"/[0-9]+(?=/|$)")


@lru_cache(maxsize=4096)
def pattern_of(pointer: Pointer) -> Pattern:
    """Return the pattern of a pointer: any place in a list becomes `*`."""
    return _INDEX.sub("/*", pointer)


def field_at(pointer: Pointer) -> CaseField:
    """Return the field that a pointer leads to."""
    return FIELDS[pattern_of(pointer)]
