"""Phone calls about punctured tyres, drawn with a fixed seed: all there is to know of a tyre, and what a caller says.

The tyres are those of a day's mix at the bench, with faults that a workshop sees: of every 100 holes 15 are in the
shoulder or the sidewall; of every 100 tyres 15 were driven flat, 15 are run-flats, 10 have sealant in them, 8 a string
or plug, 5 are temporary spares, 3 have a bulge. The shares are invented; no count of a real workshop is behind them.

A caller says what it is on and its size, in the whole marking where papers know it, and one to four things more.
"""

from __future__ import annotations

from random import Random
from typing import Any, Final, NamedTuple

from tests.bench.mix import BOOKS, KINDS, Body, date_code, marking, one_of, papers, position

CALLS: Final = 1_000
SEED: Final = 20261126


class Call(NamedTuple):
    """What a caller says, and all that there is to know."""

    said: Body
    truth: Body


def draw_calls(count: int = CALLS, seed: int = SEED) -> list[Call]:
    """Return the first so many calls."""
    random = Random(seed)
    return [_call(random, number) for number in range(count)]


def _call(random: Random, number: int) -> Call:
    kind = one_of(random, KINDS)
    head: Body = {
        "reference": f"Wexhollow {number}",
        "rulebook": one_of(random, BOOKS),
        "assessed_on": f"2026-11-{random.randint(2, 27):02}",
    }
    truth = head | _truth(random, kind)
    return Call(head | _said(random, kind, truth), truth)


def _truth(random: Random, kind: str) -> Body:
    heavy = kind in {"truck", "bus", "trailer"}
    size = marking(random, kind)
    reach = int(0.36 * int(size.partition("/")[0]))
    driven_flat, run_flat = random.random() < 0.15, kind == "car" and random.random() < 0.15
    history: Body = {
        "complete": True,
        "driven_flat": driven_flat,
        "sealant_used": random.random() < 0.1,
        "losing_air": random.random() < 0.7,
        "pressure_found_percent": random.randint(0, 60) if driven_flat else random.randint(60, 105),
    }
    if driven_flat:
        history["flat_distance_km"] = random.choice((0.2, 1, 3, 8))
    plugged = random.random() < 0.08
    traits = {"complete": True, "run_flat": run_flat, "temporary_spare": not heavy and random.random() < 0.05}
    return {
        "vehicle": {"kind": kind, "max_speed_kmh": 100 if heavy else 190} | papers(random, kind),
        "position": position(random, kind),
        "tyre": {
            "marking": size,
            "date_code": date_code(random),
            "tread_depth_mm": round(random.uniform(1.2, 14.0 if heavy else 8.0), 1),
            "new_tread_depth_mm": 15.0 if heavy else 8.0,
            "tread_width_mm": int(random.uniform(0.75, 0.82) * int(size.partition("/")[0])),
            "crown_thickness_mm": random.randint(15, 25) if heavy else random.randint(7, 12),
            "body_ply": "steel" if heavy else "textile",
            "traits": traits,
            "maker_policy": {"repair": random.choice(("permitted", "forbidden")) if run_flat else "permitted"},
        },
        "injuries": [
            {
                "region": one_of(random, {"tread": 85, "shoulder": 8, "sidewall": 7}),
                "depth": one_of(random, {"through": 85, "rubber_only": 10, "to_cord": 5}),
                "across_mm": random.randint(-reach, reach),
                "around_mm": random.randint(0, 1500),
                "measured_from": "outside",
                "diameter_mm": round(random.uniform(2, 11 if heavy else 7), 1),
                "stage": "found",
                "lean_deg": random.randint(0, 30),
                "lean_toward_deg": random.randint(0, 359),
                "emerges_in": random.choice(("groove", "lug")),
                "plugged_from_outside": plugged,
                "object_in_place": not plugged and random.random() < 0.5,
            }
        ],
        "earlier_repairs": [],
        "inspection": {"complete": True, "bulge": random.random() < 0.03},
        "history": history,
    }


def _said(random: Random, kind: str, truth: Body) -> Body:
    tyre, history, injury = truth["tyre"], truth["history"], truth["injuries"][0]
    said: Body = {"vehicle": {"kind": kind}, "tyre": {"marking": tyre["marking"]}, "injuries": [{}]}
    if kind not in {"car", "motorcycle"} or random.random() < 0.2:
        said["vehicle"] = truth["vehicle"]
    else:
        said["tyre"]["marking"] = tyre["marking"].rpartition(" ")[0]
    parts: tuple[tuple[tuple[str, ...], dict[str, Any]], ...] = (
        (("injuries", "region"), injury),
        (("injuries", "plugged_from_outside"), injury),
        (("history", "driven_flat"), history),
        (("history", "sealant_used"), history),
        (("traits", "run_flat"), tyre["traits"]),
        (("position",), truth),
    )
    for (section, *name), source in random.sample(parts, random.randint(1, 4)):
        if section == "position":
            said["position"] = source["position"]
        elif section == "injuries":
            said["injuries"][0][name[0]] = source[name[0]]
        elif section == "traits":
            said["tyre"]["traits"] = {name[0]: source[name[0]]}
        else:
            said.setdefault(section, {})[name[0]] = source[name[0]]
    return said
