"""A day's mix: what a service for many workshops and fleets is asked in a day, drawn with a fixed seed.

Of every 100 cases
- 50 are phone calls: a size, the kind of vehicle and one to four of the things that a driver can say. Where papers know
  the tyre, the marking is whole and the masses are there; otherwise it is the bare size that a driver reads.
- 30 are taken at the vehicle, the tyre on its rim: marking, tread, date code, the place of the hole across the tread,
  the driver's answers, the outside looked at; nothing that has to be seen from inside.
- 20 are taken at the bench, demounted: everything measured and looked at; two in five of them leave one fact open.

Kinds of vehicle: car 55, van 15, truck 15, trailer 5, bus 3, motorcycle 7. Books: gb and us 20 each, de and fr 12, au
10, za and in 7, nz and jp 6. Markings are put together from widths, aspect ratios, rims, load indices and speed symbols
that occur on such vehicles: half of a day's are distinct. The shares are invented; no count of a real workshop is
behind them.
"""

from __future__ import annotations

from random import Random
from typing import Any, Final, TypeAlias

Body: TypeAlias = dict[str, Any]
"""A case as the JSON a caller sends."""

CASES: Final = 10_000
SEED: Final = 20261126

KINDS: Final = {"car": 55, "van": 15, "truck": 15, "trailer": 5, "bus": 3, "motorcycle": 7}
BOOKS: Final = {"gb": 20, "us": 20, "de": 12, "fr": 12, "au": 10, "za": 7, "in": 7, "nz": 6, "jp": 6}
_TAKEN: Final = {"phone": 50, "vehicle": 30, "bench": 20}


def draw(count: int = CASES, seed: int = SEED) -> list[Body]:
    """Return the first `count` cases of the day."""
    random = Random(seed)
    return [_case(random, number) for number in range(count)]


def _case(random: Random, number: int) -> Body:
    kind = one_of(random, KINDS)
    taken = one_of(random, _TAKEN)
    case: Body = {
        "reference": f"Ferrisby {number}",
        "rulebook": one_of(random, BOOKS),
        "assessed_on": f"2026-11-{random.randint(2, 27):02}",
        "vehicle": {"kind": kind},
        "tyre": {},
        "injuries": [{}],
    }
    {"phone": _phone, "vehicle": _at_the_vehicle, "bench": _at_the_bench}[taken](random, kind, case)
    return case


def _phone(random: Random, kind: str, case: Body) -> None:
    case["tyre"]["marking"] = marking(random, kind)
    if kind not in {"car", "motorcycle"} or random.random() < 0.2:
        case["vehicle"] |= papers(random, kind)
    else:
        case["tyre"]["marking"] = case["tyre"]["marking"].rpartition(" ")[0]
    history: Body = {}
    answers: tuple[tuple[Body, Body], ...] = (
        (case["injuries"][0], {"region": random.choice(("tread", "tread", "tread", "shoulder", "sidewall"))}),
        (case["injuries"][0], {"plugged_from_outside": random.random() < 0.1}),
        (history, {"driven_flat": random.random() < 0.2}),
        (history, {"sealant_used": random.random() < 0.1}),
        (case["tyre"], {"traits": {"run_flat": random.random() < 0.15}}),
        (case, {"position": position(random, kind)}),
    )
    for section, answer in random.sample(answers, random.randint(1, 4)):
        section |= answer
    if history:
        case["history"] = history


def _at_the_vehicle(random: Random, kind: str, case: Body) -> None:
    case["vehicle"] |= papers(random, kind)
    case["position"] = position(random, kind)
    case["tyre"]["marking"] = marking(random, kind)
    reach = int(0.36 * int(case["tyre"]["marking"].partition("/")[0]))
    case["tyre"] |= {
        "date_code": date_code(random),
        "tread_depth_mm": round(random.uniform(1.0, 14.0 if kind in {"truck", "bus", "trailer"} else 8.0), 1),
        "traits": {"run_flat": random.random() < 0.1, "retread": random.random() < 0.05, "studded": False},
    }
    case["injuries"] = [
        {
            "region": "tread",
            "across_mm": random.randint(-reach, reach),
            "measured_from": "outside",
            "emerges_in": random.choice(("groove", "lug")),
        }
        if random.random() < 0.8
        else {"region": random.choice(("shoulder", "sidewall"))}
        for _ in range(random.choice((1, 1, 1, 1, 2)))
    ]
    case["inspection"] = {"bulge": random.random() < 0.03, "perished": random.random() < 0.03}
    case["history"] = {"driven_flat": random.random() < 0.15, "pressure_found_percent": random.randint(20, 110)}


def _at_the_bench(random: Random, kind: str, case: Body) -> None:
    _at_the_vehicle(random, kind, case)
    heavy = kind in {"truck", "bus", "trailer"}
    case["tyre"] |= {
        "tread_width_mm": int(random.uniform(0.75, 0.82) * int(case["tyre"]["marking"].partition("/")[0])),
        "crown_thickness_mm": round(random.uniform(7, 12) if not heavy else random.uniform(15, 25), 1),
        "traits": {"complete": True},
        "maker_policy": {"repair": "permitted"},
    }
    for injury in case["injuries"]:
        injury |= {
            "depth": "through",
            "around_mm": random.randint(0, 1900),
            "diameter_mm": round(random.uniform(2, 7 if not heavy else 11), 1),
            "stage": random.choice(("found", "prepared")),
            "lean_deg": random.randint(0, 30),
            "lean_toward_deg": random.randint(0, 359),
        }
    case["inspection"] = {"complete": True}
    case["history"] = {"complete": True, "pressure_found_percent": random.randint(81, 110)}
    case["earlier_repairs"] = []
    if random.random() < 0.4:
        _leave_open(random, case)


def _leave_open(random: Random, case: Body) -> None:
    """Take one fact of a bench case away."""
    section, name = random.choice(
        (
            (case["injuries"][0], "lean_deg"),
            (case["injuries"][0], "diameter_mm"),
            (case["tyre"], "maker_policy"),
            (case["tyre"], "date_code"),
            (case, "inspection"),
            (case, "earlier_repairs"),
        )
    )
    del section[name]


def papers(random: Random, kind: str) -> Body:
    """Return what the papers of a vehicle say of it."""
    masses = {"car": (1200, 2400), "van": (2800, 3500), "truck": (7500, 44_000), "trailer": (9000, 38_000)}
    low, high = masses.get(kind, (11_000, 19_000) if kind == "bus" else (250, 450))
    return {"gross_mass_kg": random.randrange(low, high, 50)}


def position(random: Random, kind: str) -> Body:
    """Return where a tyre sits on a vehicle of this kind."""
    if kind in {"car", "van", "motorcycle"}:
        axle = random.choice(("front", "rear"))
        return {"axle": axle, "steered": axle == "front", "fitment": "single"}
    if kind == "trailer":
        return {"axle": "trailer", "steered": False, "fitment": random.choice(("single", "dual_inner", "dual_outer"))}
    if random.random() < 0.3:
        return {"axle": "steer", "steered": True, "fitment": "single"}
    return {"axle": "drive", "steered": False, "fitment": random.choice(("dual_inner", "dual_outer"))}


def date_code(random: Random) -> str:
    """Return a date code of a tyre in use."""
    return f"{random.randint(1, 52):02}{random.choice((16, 18, 19, 20, 21, 22, 23, 24, 25)):02}"


def marking(random: Random, kind: str) -> str:
    """Return the size marking of a tyre such as runs on vehicles of this kind."""
    if kind == "car":
        width, aspect, rim = random.randrange(155, 275, 10), random.randrange(35, 75, 5), random.randint(14, 20)
        return f"{width}/{aspect}R{rim} {random.randint(80, 102)}{random.choice('SHTVWY')}"
    if kind == "van":
        width, aspect, rim = (
            random.randrange(185, 245, 10),
            random.choice((60, 65, 70, 75)),
            random.choice((14, 15, 16)),
        )
        load = random.randint(100, 118)
        return f"{width}/{aspect}R{rim}C {load}/{load - 2}{random.choice('QRST')}"
    if kind == "motorcycle":
        width, aspect = random.choice(((110, 80), (120, 70), (130, 80), (150, 70), (170, 60), (180, 55)))
        return f"{width}/{aspect}R{random.choice((17, 18))}M/C {random.randint(54, 75)}{random.choice('HVW')}"
    width, aspect = random.choice(((275, 70), (295, 60), (295, 80), (315, 70), (315, 80), (385, 55)))
    load = random.randint(145, 160)
    return f"{width}/{aspect}R22.5 {load}/{load - 4}{random.choice('JKLM')}"


def one_of(random: Random, shares: dict[str, int]) -> str:
    """Return one of some words, by their shares."""
    return random.choices(tuple(shares), tuple(shares.values()))[0]
