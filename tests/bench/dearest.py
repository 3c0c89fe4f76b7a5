"""A search for the dearest body that the contract admits: `python -m tests.bench.dearest [seed] [tries]`.

Bodies are drawn from parts that make a case dear, and a part is drawn anew wherever that makes some operation dearer:
more holes, more repairs, a longer stock, what is left open. What it finds is printed, to be put into `dearest.json`.
"""

from __future__ import annotations

import gc
import sys
from collections.abc import Callable
from random import Random
from typing import Any, Final

import msgspec
from tests.bench.worst import OPERATIONS, PRICED, cpu_ms

from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError, NotPricedError
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repair_units import choose_repair_units

Body = dict[str, Any]
Draw = Callable[[Random], Any]


def _span(random: Random, low: float, high: float) -> Any:
    """Return a number, a range or nothing."""
    one, other = sorted(round(random.uniform(low, high), 1) for _ in range(2))
    return random.choice((None, one, {"low": one, "high": other} if one < other else one))


def _given(**fields: Any) -> Body:
    return {name: value for name, value in fields.items() if value is not None}


def _holes(random: Random) -> list[Body]:
    spread, side, stage = random.choice((0, 35, 90)), random.choice((None, "inside", "outside")), random.random()
    lean, wide = _span(random, 0, 60), _span(random, 1, 10)
    return [
        _given(
            region=random.choice((None, "tread")),
            depth=random.choice((None, "through")),
            across_mm=_span(random, -60, 60),
            around_mm=None if spread == 0 else {"low": spread * place, "high": spread * place + 40},
            measured_from=side,
            diameter_mm=wide if stage < 0.5 else _span(random, 1, 10),
            lean_deg=lean if stage < 0.7 else _span(random, 0, 60),
            lean_toward_deg=random.choice((None, 0, 90)),
            emerges_in=random.choice((None, "groove", "lug")),
        )
        for place in range(20)
    ]


def _repairs(random: Random) -> list[Body]:
    step = random.choice((0, 8, 40))
    return [
        _given(
            proper=random.choice((None, True)),
            across_mm=_span(random, -80, 80) if step == 0 else place * 3 - 75,
            around_mm=None if step == 0 else step * place,
            measured_from=random.choice((None, "inside")),
            patch_mm=_span(random, 20, 60),
        )
        for place in range(50)
    ]


def _stock(random: Random) -> list[Body]:
    whole, stems = random.choice((0, 0, 60, 190)), random.choice((10, 60, 100, 180))
    long, step, shape = random.choice((60, 100, 200)), random.choice((0, 1, 2)), random.random()
    hand = random.choice((None, 1, 1, 3))

    def stem(place: int) -> Body:
        return {"stem_mm": random.choice((4.5, 6, 8, 10)), "stem_length_mm": long + place % 50}

    def patch(place: int) -> Body:
        reach = {"construction": random.choice((None, "either", "either")), "reinforced": random.choice((None, True))}
        if shape < 0.5:
            return _given(
                **reach, patch_shape="rectangular", patch_width_mm=40 + place, patch_length_mm=420 - place * step
            )
        return _given(**reach, patch_mm=30 + place * 0.4)

    def unit(place: int) -> Body:
        kind = "one_piece" if place < whole else "stem" if place < whole + stems else "patch"
        sizes = (stem(place) if kind != "patch" else {}) | (patch(place) if kind != "stem" else {})
        limits = _given(largest_lean_deg=random.choice((None, 30)), largest_injury_mm=random.choice((None, 9)))
        return _given(code=f"U{place}", kind=kind, price=f"{place % 40 + 1}.00", on_hand=hand, **sizes, **limits)

    return [unit(place) for place in range(200)]


PARTS: Final[dict[str, Draw]] = {
    "rulebook": lambda random: random.choice(("gb", "us", "de", "au", "nz", "za", "in", "jp", "fr")),
    "tyre": lambda random: _given(
        marking=random.choice(("7.50-16", "10.00-20", "315/80R22.5 156/150L", "205/55R16 91V", "7.00R16C 117/116N")),
        tread_depth_mm=_span(random, 2, 12),
        crown_thickness_mm=_span(random, 5, 20),
        traits=random.choice((None, {"complete": True})),
        maker_policy=random.choice((None, {"repair": "permitted"})),
    ),
    "injuries": _holes,
    "earlier_repairs": _repairs,
    "inspection": lambda random: random.choice((None, {"complete": True})),
    "history": lambda random: random.choice((None, {"complete": True})),
    "stock": lambda random: random.choice((None, _stock(random), _stock(random), _stock(random))),
    "detail": lambda random: random.choice(("brief", "full")),
    "house_rules": lambda random: random.choice(
        (None, {"max_one_piece_lean_deg": 10}, {"max_one_piece_crown_mm": 12, "min_spacing_mm": 100})
    ),
}


def _cost(body: Body, operations: tuple[Callable[[Case], Any], ...]) -> float:
    case = msgspec.convert(_given(**body, **PRICED) | {"vehicle": {}}, Case)
    try:
        return max(cpu_ms(operation, case) for operation in operations)
    except (CaseError, NotPricedError):
        return 0.0


def dearest(
    seed: int, tries: int, operations: tuple[Callable[[Case], Any], ...] = (plan_repair, choose_repair_units)
) -> Body:
    """Return the dearest body found by drawing one and its parts anew so often."""
    random = Random(seed)
    best: Body = {name: draw(random) for name, draw in PARTS.items()}
    cost = _cost(best, operations)
    for number in range(tries):
        names = list(PARTS) if number < tries // 4 else random.sample(list(PARTS), random.choice((1, 1, 2)))
        tried = best | {name: PARTS[name](random) for name in names}
        if (dearer := _cost(tried, operations)) > cost:
            best, cost = tried, dearer
    return _given(**best, **PRICED) | {"vehicle": {}}


if __name__ == "__main__":
    gc.freeze()
    SEED, TRIES = (int(argument) for argument in (*sys.argv[1:], *("1", "200")[len(sys.argv) - 1 :]))
    FOUND = dearest(SEED, TRIES)
    for operation in OPERATIONS:
        print(f"{operation.__name__}: {cpu_ms(operation, msgspec.convert(FOUND, Case)):.0f} ms", file=sys.stderr)  # noqa: T201
    print(msgspec.json.encode(FOUND).decode())  # noqa: T201
