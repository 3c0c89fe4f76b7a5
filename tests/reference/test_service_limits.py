"""The service limits against published tables and worked examples, each with its source beside it.

The tables in `limits/` are those of UN R30 and R54 as the French order of 24 October 1994 and trade tables print them;
each row says how it is known.
"""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any, Final

import msgspec
import pytest

from mendgauge.case.case import Case
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.service_limits.answer import ServiceLimits

TABLES: Final = Path(__file__).parent / "limits"


def rows(name: str) -> list[dict[str, str]]:
    with (TABLES / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


LOAD_INDEX: Final = {int(row["load_index"]): float(row["kg"]) for row in rows("load_index")}
SYMBOLS: Final = [row for row in rows("speed_symbol") if row["relation"] == "max" and len(row["symbol"]) <= 2]
SERVICE_SYMBOLS: Final = [row for row in SYMBOLS if row["symbol"] not in ("SR", "HR")]


def limits(
    marking: str,
    *,
    kmh: Any = None,
    axle_kg: float | None = None,
    fitment: str = "single",
    kind: str | None = None,
    **more: Any,
) -> ServiceLimits:
    case = {
        "detail": "full",
        "rulebook": more.pop("rulebook", "gb"),
        "assessed_on": "2026-11-24",
        "vehicle": {"kind": kind, "max_speed_kmh": kmh},
        "position": {"axle": "rear", "fitment": fitment, "axle_load_kg": axle_kg},
        "tyre": {
            "marking": marking,
            "maker_policy": {"speed_rating_after_repair": "retained"},
            "traits": {"complete": True},
            "max_load_kg": more.pop("moulded_kg", None),
        },
        "in_service": {"max_load_dual_kg": more.pop("moulded_dual_kg", None), **more},
    }
    return find_service_limits(msgspec.convert(case, Case))


def single_kg(answer: ServiceLimits) -> float:
    assert answer.load.single is not None
    assert answer.load.single.low == answer.load.single.high
    return answer.load.single.low


def dual_kg(answer: ServiceLimits) -> float:
    assert answer.load.dual is not None
    assert answer.load.dual.low == answer.load.dual.high
    return answer.load.dual.low


# --- The tables -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("index", LOAD_INDEX)
def test_every_load_index_is_the_tables_load(index: int) -> None:
    """UN R30 and R54 Annex 4 (0 to 279), single and dual, on a vehicle slower than every fall of the load."""
    answer = limits(f"315/80R22.5 {index}/{index}K", kmh=100)
    assert single_kg(answer) == LOAD_INDEX[index]
    assert dual_kg(answer) == LOAD_INDEX[index]


@pytest.mark.parametrize("row", SERVICE_SYMBOLS, ids=lambda row: row["symbol"])
def test_every_speed_symbol_is_the_tables_speed(row: dict[str, str]) -> None:
    """UN R30 and R54, speed category symbols; 1 mile is 1.609344 km."""
    kmh = float(row["km_h"])
    speed = limits(f"205/55R16 91{row['symbol']}", kmh=kmh).speed
    assert (speed.rated_kmh, speed.ceiling_kmh, speed.covers_vehicle) == (kmh, kmh, "yes")
    assert speed.rated_mph == pytest.approx(kmh / 1.609344, abs=0.05)
    assert limits(f"205/55R16 91{row['symbol']}", kmh=kmh + 1).speed.covers_vehicle == "no"


def test_the_symbols_rank_by_speed_and_not_by_letter() -> None:
    """H is 210 km/h, between U (200) and V (240): a vehicle of 205 km/h is covered by H and not by U."""
    covers = {symbol: limits(f"205/55R16 91{symbol}", kmh=205).speed.covers_vehicle for symbol in "SUHV"}
    assert covers == {"S": "no", "U": "no", "H": "yes", "V": "yes"}


@pytest.mark.parametrize(
    "row",
    [row for row in rows("load_speed_r30") if row["symbol"] in ("<=H", "V", "W", "Y")],
    ids=lambda row: f"{row['symbol']} at {row['vehicle_max_speed_km_h']} ({row['basis']})",
)
def test_the_load_falls_by_the_vehicles_speed_as_un_r30_has_it(row: dict[str, str]) -> None:
    """UN R30, definition of the maximum load rating; load index 94 is 670 kg."""
    symbol, kmh = row["symbol"].replace("<=H", "H"), float(row["vehicle_max_speed_km_h"])
    answer = limits(f"225/45R17 94{symbol}", kmh=kmh)
    assert single_kg(answer) == pytest.approx(670 * float(row["percent_of_LI_load"]) / 100, abs=0.005)


@pytest.mark.parametrize("kmh", [301, 330, {"low": 300, "high": 330}])
def test_faster_than_300_a_bracketed_y_carries_at_most_what_it_does_at_300(kmh: Any) -> None:
    """UN R30, definition of the maximum load rating: above 300 km/h the tyre maker says; at 300, 85 % of 670 kg."""
    load = limits("225/45ZR17 (94Y)", kmh=kmh).load
    assert load.single is not None
    assert (load.single.low, load.single.high) == (0, 569.5)
    assert single_kg(limits("225/45ZR17 (94Y)", kmh=300)) == 569.5


@pytest.mark.parametrize("column", ["any_F", "any_G", "any_J", "any_K", "li_ge_122_L", "li_ge_122_M"])
def test_no_speed_grants_what_un_r54_would_add(column: str) -> None:
    """UN R54, load variation with speed: up to 150 % more at a crawl, and nothing of it is granted (from_memory)."""
    marking = f"315/80R22.5 156/150{column[-1]}"
    for row in rows("load_speed_r54"):
        if row[column]:
            answer = limits(marking, kmh=float(row["speed_km_h"]))
            assert (single_kg(answer), dual_kg(answer)) == (4000, 3350)


# --- Worked examples ------------------------------------------------------------------------------------------------


def test_94w_at_260_kmh() -> None:
    """UN R30: W carries 100 % to 240 and 85 % at 270 km/h, so 90 % at 260: 670 x 0.90 = 603 kg, the axle 1,206 kg."""
    assert single_kg(limits("225/45R17 94W", kmh=260)) == pytest.approx(603)
    assert limits("225/45R17 94W", kmh=260, axle_kg=1206).load.status == "enough"
    short = limits("225/45R17 94W", kmh=260, axle_kg=1340)
    assert short.load.shortfall is not None
    assert short.load.shortfall_percent is not None
    assert (short.load.shortfall.low, short.load.shortfall_percent.low) == (134, 10)


def test_the_same_tyre_on_a_slower_car_carries_its_whole_index() -> None:
    """UN R30 goes by the vehicle's top speed and not by the tyre's: at 240 km/h a 94W has its 670 kg."""
    assert single_kg(limits("225/45R17 94W", kmh=240)) == 670
    assert single_kg(limits("225/45R17 94V", kmh=240)) == pytest.approx(609.7)


@pytest.mark.parametrize(("axle_kg", "status"), [(12_600, "enough"), (12_601, "short")])
def test_152_148m_in_dual_pairs_against_twice_the_axles_load_of_two(axle_kg: float, status: str) -> None:
    """Load indices 152 and 148 are 3,550 and 3,150 kg (UN R54 Annex 4): four tyres carry 12,600 kg, two 7,100 kg."""
    answer = limits("295/80R22.5 152/148M", kmh=90, axle_kg=axle_kg, fitment="dual", kind="truck")
    assert answer.load.tyres_on_axle == 4
    assert answer.load.capacity is not None
    assert answer.load.capacity.low == 12_600
    assert answer.load.status == status
    assert limits("295/80R22.5 152/148M", kmh=90, axle_kg=7101).load.status == "short"


def test_lt_120_116_is_moulded_less_than_its_index() -> None:
    """An LT tyre of index 120 (1,400 kg = 3,086 lb) is moulded 3,042 lb = 1,379.8 kg (US sidewalls, published trap)."""
    moulded = round(3042 * 0.45359237, 1)
    assert moulded == 1379.8
    lt: dict[str, Any] = {"kmh": 150, "kind": "van"}
    by_index = limits("LT235/85R16 120/116R", **lt)
    assert by_index.load.single is not None
    assert by_index.load.single.low <= moulded < by_index.load.single.high == 1400
    read = limits("LT235/85R16 120/116R", moulded_kg=moulded, axle_kg=2790, **lt)
    assert (read.load.rests_on, single_kg(read), read.load.status) == ("moulded", moulded, "short")
    assert limits("LT235/85R16 120/116R", axle_kg=2790, **lt).load.status == "open"


def test_an_lt_tyres_dual_load_is_the_moulded_one_too() -> None:
    """The same tyre is moulded 2,778 lb = 1,260 kg dual beside an index 116 of 1,250 kg (from_memory)."""
    read = limits("LT235/85R16 120/116R", moulded_kg=1380, moulded_dual_kg=1260, kmh=150, fitment="dual", kind="van")
    assert dual_kg(read) == 1260


@pytest.mark.parametrize(
    ("kmh", "single", "dual"), [(120, 4000, 3350), (121, 3750, 3350), (130, 3750, 3350), (140, 3750, 3350)]
)
def test_an_additional_service_description_is_a_unique_point(kmh: float, single: float, dual: float) -> None:
    """UN R54: 156/150L (154/150M) carries 4,000 kg to 120 km/h and 3,750 kg to 130; M is never exceeded."""
    answer = limits("315/80R22.5 156/150L (154/150M)", kmh=kmh)
    assert (single_kg(answer), dual_kg(answer)) == (single, dual)


@pytest.mark.parametrize(
    ("own_in", "apart_in", "allowed"),
    [
        (29, 1 / 4, True),
        (29, 5 / 16, False),
        (35, 3 / 8, True),
        (35, 7 / 16, False),
        (45, 1 / 2, True),
        (45, 9 / 16, False),
        (55, 3 / 4, True),
        (55, 13 / 16, False),
    ],
)
def test_dual_pairs_by_the_armys_table(own_in: float, apart_in: float, allowed: bool) -> None:
    """US Army TM 9-2610-200-14, Table 2-1 (published): under 30 in 1/4, 30 to 40 3/8, 40 to 50 1/2, over 50 3/4 in."""
    own = own_in * 25.4
    mate = {"place": "dual_mate", "marking": "10.00R20", "overall_diameter_mm": round(own + apart_in * 25.4, 4)}
    answer = limits("10.00R20", fitment="dual", kind="truck", overall_diameter_mm=own, axle_mates=[mate])
    broken = {finding.rule for finding in answer.findings if finding.outcome == "broken"}
    assert ("dual_match" not in broken) == allowed
    assert "dual_match" not in {finding.rule for finding in answer.findings if finding.outcome == "open"}


@pytest.mark.parametrize(
    ("rulebook", "kmh"),
    [("gb", 80.5), ("us", 80), ("de", 80)],
)
def test_a_temporary_spares_speed(rulebook: str, kmh: float) -> None:
    """C&U regulation 24 (published_summary): 50 mph is 80.4672 km/h; elsewhere 80 km/h (from_memory)."""
    answer = limits("T125/70R16 96M", rulebook=rulebook, kind="car")
    assert answer.speed.ceiling_kmh == kmh


def test_torque_is_checked_again_after_50_to_100_miles() -> None:
    """Trucking council RP 237 (published_summary): 50 to 100 miles, 80 to 160 km."""
    (torque,) = [one for one in limits("315/80R22.5 156/150L", kind="truck").follow_ups if one.code == "re_torque"]
    assert (torque.from_miles, torque.to_miles, torque.from_km, torque.to_km) == (50, 100, 80, 160)
    assert (torque.basis, torque.clause) == ("published_summary", "RP 237")


@pytest.mark.parametrize(("kind", "until_kmh"), [("first_hours", 80), ("afterwards", 120)])
def test_a_repaired_motorcycle_tyre_in_france(kind: str, until_kmh: float) -> None:
    """80 km/h for 24 h (vehicle handbooks, published_summary), then 120 km/h (French trade body, from_memory)."""
    answer = limits("120/70R17 M/C 58V", rulebook="fr", kind="motorcycle")
    limit_until = {one.when: one.max_kmh for one in answer.speed.ceilings}
    assert limit_until.get(kind) == until_kmh
