"""What a tyre is worth, against worked examples from outside the code; the source stands beside each."""

from __future__ import annotations

from decimal import Decimal

import msgspec
import pytest

from mendgauge.operations.quotes.worth import (
    Stake,
    break_even_depth,
    cost_per_distance_new,
    cost_per_distance_repaired,
    gain,
    lost_on_mates,
    share_worn,
    tread_value,
    turns,
    value_left,
    value_per_depth,
    worth_paying,
)

NOTHING = Decimal(0)


def stake(**given: str) -> Stake:
    nothing = {"casing": "0", "pull": "0", "remaining": "0", "repair": "0"}
    return msgspec.convert(nothing | given, Stake)


TRUCK = stake(
    price="450", casing="60", new="15", pull="4", remaining="10", repair="55", failure_share="0.01", failure_cost="600"
)
CAR = stake(price="110", new="8", pull="1.6", remaining="5", repair="30")


# Published: a trade article on what is buffed away before retreading. A tyre of 150 less a casing of 35 is 115; over
# 14/32 in of tread that is 8.21 for each 32nd; pulled 3/32 in early, so over 11/32 in, 10.45.
@pytest.mark.parametrize(("pull", "per_32nd"), [("0", "8.21"), ("3", "10.45")])
def test_the_worth_of_a_32nd_of_an_inch(pull: str, per_32nd: str) -> None:
    assert round(value_per_depth(stake(price="150", casing="35", new="14", pull=pull)), 2) == Decimal(per_32nd)


# Derived: the same tyre given in millimetres, a 32nd of an inch being 0.79375 mm (25.4 mm to the inch, by definition).
def test_units_of_depth_do_not_matter() -> None:
    inch32 = Decimal("25.4") / 32
    in_mm = Stake(
        price=Decimal(150), casing=Decimal(35), new=14 * inch32, pull=NOTHING, remaining=NOTHING, repair=NOTHING
    )
    assert round(value_per_depth(in_mm) * inch32, 2) == Decimal("8.21")


# Derived, a truck tyre: 450 new, casing 60, 15 mm of tread new, pulled at 4, 10 left. (450 - 60) / 11 is 35.5 a
# millimetre; six of them 213, with the casing 273. A repair at 55, of which 1 % fail at 600: 212 gained.
def test_a_truck_tyre() -> None:
    assert round(value_per_depth(TRUCK), 1) == Decimal("35.5")
    assert round(tread_value(TRUCK)) == 213
    assert round(value_left(TRUCK)) == 273
    assert round(gain(TRUCK)) == 212


# Derived: the same without a casing value breaks even at 5.5 mm: 450 / 11 is 40.9, and 4 + (55 + 6) / 40.9 is 5.49.
def test_a_truck_tyre_breaks_even() -> None:
    assert round(break_even_depth(msgspec.structs.replace(TRUCK, casing=NOTHING)), 1) == Decimal("5.5")


# Derived, a car tyre: 110 new, 8 mm new, worn out at 1.6, 5 left. 110 / 6.4 is 17.2 a millimetre, 58 left; a repair
# at 30 breaks even at 1.6 + 30 / 17.2 = 3.3 mm.
def test_a_car_tyre() -> None:
    assert round(value_per_depth(CAR), 1) == Decimal("17.2")
    assert round(value_left(CAR)) == 58
    assert round(break_even_depth(CAR), 1) == Decimal("3.3")


# Derived, by the formula: (8 - 5) / (8 - 1.6) of a car tyre's tread is gone, 46.875 %.
def test_the_share_worn() -> None:
    assert share_worn(Decimal(8), Decimal(5), Decimal("1.6")) == Decimal("0.46875")


# Derived, by the formula "all costs less casing credit over distance": the truck tyre at 6,000 km a millimetre runs
# 66,000 km new for 390, 0.0059 a km; repaired 36,000 km for 55 + 6 - 60 = 1.
def test_cost_per_distance() -> None:
    assert round(cost_per_distance_new(TRUCK, Decimal(6000)), 4) == Decimal("0.0059")
    assert cost_per_distance_repaired(TRUCK, Decimal(6000)) == Decimal(1) / 36_000
    assert cost_per_distance_repaired(msgspec.structs.replace(TRUCK, remaining=TRUCK.pull), Decimal(6000)) is None


# Derived: a new tyre beside one of 3 mm would not match, so that one goes too, and (3 - 1.6) x 17.1875 = 24.06 with it.
def test_tyres_replaced_to_match_count_for_the_repair() -> None:
    paired = msgspec.structs.replace(CAR, mates=(Decimal(3),))
    assert round(lost_on_mates(paired), 2) == Decimal("24.06")
    assert gain(paired) == gain(CAR) + lost_on_mates(paired)
    assert break_even_depth(paired) < break_even_depth(CAR)


# Derived: what would turn the car's repair at 30, each of the others held. Its gain is 58.4375 - 30 = 28.4375.
def test_what_would_turn_it() -> None:
    found = {turn.input: round(turn.turns_at, 3) for turn in turns(CAR)}
    assert found == {
        "remaining": Decimal("3.345"),  # 5 - 28.4375 / 17.1875
        "price": Decimal("56.471"),  # 30 x 6.4 / 3.4
        "repair": Decimal("58.438"),  # 30 + 28.4375
        "new": Decimal("14.067"),  # 1.6 + 110 x 3.4 / 30
        "pull": Decimal("3.875"),  # where 110 (5 - p) = 30 (8 - p): 310 / 80
        "downtime": Decimal("28.438"),
    }
    assert next(turn.input for turn in turns(CAR)) == "remaining"
    assert worth_paying(CAR) == CAR.repair + gain(CAR)
