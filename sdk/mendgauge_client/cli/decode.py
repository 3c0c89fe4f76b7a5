"""`mendgauge-client decode`: what a marking says."""

from __future__ import annotations

import argparse
import sys
from typing import Any

import msgspec

from mendgauge_client.cli.fault import AT_FAULT, DONE
from mendgauge_client.cli.service import chosen_service
from mendgauge_client.errors import InvalidRequestError
from mendgauge_client.models import TyreMarking
from mendgauge_client.tabular.quantities import unit_of

APART = ("marking", "assessed_on", "warnings", "extra_services", "unread")
FIRST = (
    "form", "section_width_mm", "aspect_percent", "build", "rim_diameter_mm", "load_index_single", "load_index_dual",
    "load_single_kg", "load_dual_kg", "speed_symbol", "speed_kmh",
)  # fmt: skip
"""In the order of the sidewall; whatever else there is comes after."""
PER_KM = "_per_km"


def decode(options: argparse.Namespace) -> int:
    """Read a marking and print what it says.

    Raises:
        CallError: The service gave no answer.
    """
    with chosen_service(options) as service:
        try:
            marking = service.read_tyre_marking(options.marking, date_code=options.date_code)
        except InvalidRequestError as error:
            sys.stderr.write("\n".join(fault.detail for fault in error.faults) + "\n")
            return AT_FAULT
    sys.stdout.write(msgspec.json.encode(marking).decode() if options.json else text(marking))
    sys.stdout.write("\n" if options.json else "")
    return DONE


def text(marking: TyreMarking) -> str:
    """Return what the marking says, a line for each thing that it does say."""
    names = [*FIRST, *(name for name in marking.__struct_fields__ if name not in (*FIRST, *APART))]
    rows = [(_label(name), value) for name in names if (value := _shown(name, getattr(marking, name)))]
    rows += [("also", _service(service)) for service in marking.extra_services]
    rows += [("not read", word) for word in marking.unread]
    rows += [("note", warning.says) for warning in marking.warnings]
    width = max((len(label) for label, _ in rows), default=0)
    return "".join(f"{line}\n" for line in [marking.marking, *(f"  {label:{width}}  {value}" for label, value in rows)])


def _shown(name: str, value: Any) -> str:
    if value is None or value is False or value == []:
        return ""
    if value is True:
        return "yes"
    if isinstance(value, list):
        return ", ".join(map(str, value))
    sign = "/km" if name.endswith(PER_KM) else unit_of(name)[0]
    number = f"{value:g}" if isinstance(value, float) else str(value)
    return f"{number} {sign}".rstrip()


def _label(name: str) -> str:
    sign, _ = unit_of(name)
    bare = name.rpartition("_")[0] if sign else name
    return bare.removesuffix("_per").replace("_", " ")


def _service(service: Any) -> str:
    loads = "/".join(str(load) for load in (service.load_index_single, service.load_index_dual) if load is not None)
    return f"{loads}{service.speed_symbol or ''}"
