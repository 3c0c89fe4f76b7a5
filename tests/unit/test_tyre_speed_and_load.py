"""Speed symbols, floors and contradictions; the load that a marking grants at a vehicle's top speed."""

from __future__ import annotations

import math

import pytest

from mendgauge.core.interval import EITHER, NO, YES, Interval, Truth
from mendgauge.tyre.load import Load, load_at_speed, load_kg, load_of
from mendgauge.tyre.marking import read_marking
from mendgauge.tyre.speed import SpeedRating, at_least_symbol, kmh_of, rated_speed, speed_of


def over(kmh: float) -> float:
    """The first speed over one: a floor is not itself among the speeds it leaves possible."""
    return math.nextafter(kmh, math.inf)


@pytest.mark.parametrize(
    ("marking", "symbol", "answer"),
    [
        ("205/55R16 91H", "V", NO),
        ("205/55R16 91U", "V", NO),
        ("205/55R16 91U", "H", NO),
        ("205/55R16 91V", "V", YES),
        ("205/55R16 91V", "W", NO),
        ("205/55R16 91Y", "V", YES),
        ("205/55R16", "V", EITHER),
        ("205/55R16", "F", YES),
        ("255/40ZR17", "V", YES),
        ("255/40ZR17", "W", EITHER),
        ("255/40ZR17 (97Y)", "Y", YES),
        ("120/70ZR17 M/C (58W)", "Y", EITHER),
        ("205/55VR16", "V", YES),
        ("205/55VR16", "W", EITHER),
        ("185/70HR14", "V", NO),
        ("185/70HR14 88H", "V", NO),
        ("235/30ZR20 88Y", "Y", YES),
        ("205/55ZR16 91T", "V", EITHER),
        ("205/55VR16 91H", "V", EITHER),
        ("275/65R18LT 123/120", "H", EITHER),
    ],
)
def test_whether_a_tyre_is_of_a_symbol_or_above(marking: str, symbol: str, answer: Truth) -> None:
    assert at_least_symbol(read_marking(marking), symbol) == answer


@pytest.mark.parametrize(
    ("marking", "rating", "low", "high"),
    [
        ("205/55R16 91V", SpeedRating("V", 240, False), 240, 240),
        ("205/55R16 (91Y)", SpeedRating("(Y)", 300, True), over(300), math.inf),
        ("255/40ZR17", SpeedRating("ZR", 240, True), over(240), math.inf),
        ("205/55VR16", SpeedRating("VR", 210, True), over(210), math.inf),
        ("185/70SR14", SpeedRating("SR", 180, False), 180, 180),
        ("185/70TR14", SpeedRating("TR", 190, False), 190, 190),
        ("195/50ZR15 82W", SpeedRating("W", 270, False), 270, 270),
        ("205/55ZR16 91T", SpeedRating("T", 190, False), 190, math.inf),
        ("185/70HR14 88T", SpeedRating("T", 190, False), 190, 210),
        ("205/55R16", None, 80, math.inf),
    ],
)
def test_the_rated_speed_is_as_wide_as_the_marking_leaves_it(
    marking: str, rating: SpeedRating | None, low: float, high: float
) -> None:
    assert speed_of(read_marking(marking)) == rating
    assert rated_speed(read_marking(marking)) == Interval(low, high)


@pytest.mark.parametrize("symbol", ["I", "ZR", "(Y)", "A9", "", "v"])
def test_what_is_no_speed_symbol_is_refused(symbol: str) -> None:
    with pytest.raises(ValueError, match="no speed symbol"):
        kmh_of(symbol)


@pytest.mark.parametrize("index", [-1, 280])
def test_what_is_no_load_index_is_refused(index: int) -> None:
    with pytest.raises(ValueError, match="go from 0 to 279"):
        load_kg(index)


@pytest.mark.parametrize(
    ("marking", "vehicle_kmh", "load"),
    [
        ("205/55R16 91H", 210, Load(615, None)),
        ("205/55R16 91H", 211, None),
        ("205/55R16 91V", 209, Load(615, None)),
        ("205/55R16 91V", 225, Load(615 * 0.955, None)),
        ("205/55R16 91V", 241, None),
        ("205/55R16 91W", 255, Load(615 * 0.925, None)),
        ("245/35ZR20 (95Y)", 300, Load(690 * 0.85, None)),
        ("245/35ZR20 (95Y)", 310, None),
        ("275/65R18LT 123/120", 100, None),
        ("255/40ZR17", 100, None),
        ("215/65R16C 109/107T", 40, Load(1030, 975)),
        ("120/70ZR17 M/C (58W)", 240, Load(236, None)),
        ("120/70ZR17 M/C (58W)", 250, None),
        ("315/80R22.5 156/150L (154/150M)", 120, Load(4000, 3350)),
        ("315/80R22.5 156/150L (154/150M)", 125, Load(3750, 3350)),
        ("315/80R22.5 156/150L (154/150M)", 131, None),
        ("235/75R17.5 143/141J (144/144F)", 80, Load(2800, 2800)),
        ("235/75R17.5 143/141J (144/144F)", 81, Load(2725, 2575)),
        ("385/65R22.5 160K (158L)", 115, Load(4250, None)),
    ],
)
def test_the_load_a_marking_grants_at_a_vehicles_speed(marking: str, vehicle_kmh: float, load: Load | None) -> None:
    """UN R30, definition of the maximum load rating; an additional service description is a single point (UN R54)."""
    granted = load_at_speed(read_marking(marking), vehicle_kmh)
    if load is None or granted is None:
        assert granted is load
    else:
        assert (granted.single_kg, granted.dual_kg) == pytest.approx((load.single_kg, load.dual_kg))


def test_a_marking_without_load_index_gives_no_load() -> None:
    assert load_of(read_marking("205/55R16")) is None
