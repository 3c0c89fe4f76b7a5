"""How what people write becomes the fields of a case, and what they are told where it does not."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

import pytest

from mendgauge_client import Case, Injury, Tyre
from mendgauge_client.cli import fields
from mendgauge_client.cli.columns import Columns, aliases
from mendgauge_client.cli.fault import UnusableValueError, UsageError

READ: list[tuple[str, Any, Any]] = [
    ("/injuries/0/diameter_mm", "4", 4.0),
    ("/injuries/0/diameter_mm", " 4.5 mm ", 4.5),
    ("/injuries/0/diameter_mm", "3.5..4.5", {"low": 3.5, "high": 4.5}),
    ("/injuries/0/diameter_mm", "3.5 to 4.5 mm", {"low": 3.5, "high": 4.5}),
    ("/injuries/0/diameter_mm", "3.5-4.5", {"low": 3.5, "high": 4.5}),
    ("/injuries/0/across_mm", "-30", -30.0),
    ("/injuries/0/across_mm", "-30--20", {"low": -30.0, "high": -20.0}),
    ("/injuries/0/across_mm", "-30..+20", {"low": -30.0, "high": 20.0}),
    ("/injuries/0/lean_deg", "5°", 5.0),
    ("/vehicle/max_speed_kmh", "215 km/h", 215.0),
    ("/history/pressure_found_percent", "85 %", 85.0),
    ("/house_rules/max_injury_mm", "5", 5.0),
    ("/injuries/0/diameter_mm", 4, 4),
    ("/injuries/0/diameter_mm", Decimal("4.5"), 4.5),
    ("/injuries/0/diameter_mm", {"low": 3, "high": 4}, {"low": 3, "high": 4}),
    ("/injuries/0/diameter_mm", "", None),
    ("/injuries/0/diameter_mm", "  ", None),
    ("/injuries/0/diameter_mm", None, None),
    ("/injuries/0/diameter_mm", float("nan"), None),
    ("/inspection/bulge", "Yes", True),
    ("/inspection/bulge", "n", False),
    ("/inspection/bulge", "TRUE", True),
    ("/inspection/bulge", "0", False),
    ("/inspection/bulge", False, False),
    ("/vehicle/kind", "Car", "car"),
    ("/injuries/0/depth", "rubber only", "rubber_only"),
    ("/injuries/0/depth", "Rubber-Only", "rubber_only"),
    ("/position/fitment", "dual inner", "dual_inner"),
    ("/tyre/marking", " 205/55R16 91V ", "205/55R16 91V"),
    ("/tyre/date_code", "0523", "0523"),
    ("/assessed_on", "2026-11-24", date(2026, 11, 24)),
    ("/assessed_on", date(2026, 11, 24), date(2026, 11, 24)),
    ("/reference", 104, "104"),
    ("/earlier_repairs", "none", []),
    ("/earlier_repairs", "0", []),
    ("/earlier_repairs", "2", [{}, {}]),
    ("/house_rules/refuse_regions", "shoulder; Sidewall", ["shoulder", "sidewall"]),
]


@pytest.mark.parametrize(("pointer", "written", "value"), READ)
def test_a_value_is_read_as_people_write_it(pointer: str, written: Any, value: Any) -> None:
    assert fields.read(pointer, written) == value


REFUSED: list[tuple[str, Any, str]] = [
    ("/injuries/0/diameter_mm", "four", "'four' is no number: write millimetres such as 4.5, or a range such as"),
    ("/injuries/0/diameter_mm", "4,5", "with a point, not a comma"),
    ("/injuries/0/diameter_mm", "4 in", "write millimetres such as 4.5"),
    ("/injuries/0/diameter_mm", "4.5..3.5", "from more to less: write it as 3.5..4.5"),
    ("/injuries/0/diameter_mm", "nan", "is no number"),
    ("/injuries/0/diameter_mm", "1e3", "is no number"),
    ("/injuries/0/diameter_mm", True, "True is no number"),
    ("/house_rules/max_injury_mm", "4..5", "write millimetres such as 4.5"),
    ("/house_rules/max_repairs", "many", "write a number such as 4.5"),
    ("/inspection/bulge", "maybe", "write yes or no, or nothing where it is not known"),
    ("/vehicle/kind", "cra", "'cra' is none of bus, car, motorcycle, trailer, truck, van; did you mean car?"),
    ("/assessed_on", "24.11.2026", "write year, month and day, such as 2026-11-24"),
    ("/tyre/date_code", 523, "a zero in front would be lost; write it as text"),
    ("/earlier_repairs", "some", "write none, or how many there are"),
    ("/earlier_repairs", "999999999", "write none, or how many there are"),
    ("/tyre/traits", "run_flat", "give it as JSON lines"),
    ("/house_rules/refuse_regions", "tread; bed", "did you mean bead?"),
]


@pytest.mark.parametrize(("pointer", "written", "told"), REFUSED)
def test_what_a_field_does_not_take_is_told(pointer: str, written: Any, told: str) -> None:
    with pytest.raises(UnusableValueError) as caught:
        fields.read(pointer, written)
    assert told in str(caught.value)


@pytest.mark.parametrize(
    ("pointer", "told"),
    [
        ("/tyer", "the case has no /tyer; did you mean tyre?"),
        ("/tyre/tread_dpeth_mm", "did you mean tread_depth_mm?"),
        ("/tyre/marking/x", "nothing of that name stands below /tyre/marking"),
        ("/injuries/first/depth", "nothing of that name stands below /injuries"),
        ("/injuries/1000000/depth", "nothing of that name stands below /injuries"),
    ],
)
def test_a_field_that_is_none_is_told(pointer: str, told: str) -> None:
    with pytest.raises(LookupError) as caught:
        fields.kind_of(pointer)
    assert told in str(caught.value)


def test_values_are_put_in_their_places() -> None:
    tree: dict[str, Any] = {}
    for pointer, value in (
        ("/rulebook", "gb"),
        ("/tyre/marking", "205/55R16 91V"),
        ("/earlier_repairs", []),
        ("/injuries/1/depth", "through"),
        ("/injuries/0/across_mm", {"low": 1, "high": 2}),
    ):
        fields.put(tree, pointer, value)
    assert tree == {
        "rulebook": "gb",
        "tyre": {"marking": "205/55R16 91V"},
        "earlier_repairs": [],
        "injuries": [{"across_mm": {"low": 1, "high": 2}}, {"depth": "through"}],
    }
    assert fields.case_of(tree).injuries == [
        Injury(across_mm=fields.case_of(tree).injuries[0].across_mm),  # type: ignore[index]
        Injury(depth="through"),
    ]


def test_what_is_no_case_is_told_with_its_place() -> None:
    with pytest.raises(fields.MisfitError) as caught:
        fields.case_of({"rulebook": "gb", "tyre": {"marking": "x"}, "injuries": [{}, {"across_mm": [1]}]})
    assert caught.value.pointer == "/injuries/1/across_mm"
    assert fields.case_of({"rulebook": "gb", "tyre": {"marking": "x"}}) == Case(rulebook="gb", tyre=Tyre(marking="x"))


def test_the_columns_listed_are_fields_of_the_case() -> None:
    assert len(aliases()) > 60
    for name, pointer in aliases().items():
        assert not fields.is_section(fields.kind_of(pointer)) or pointer in ("/injuries", "/earlier_repairs"), name


@pytest.mark.parametrize(
    ("name", "pointer"),
    [
        ("Size", "/tyre/marking"),
        (" Tread Depth-mm ", "/tyre/tread_depth_mm"),
        ("DOT", "/tyre/date_code"),
        ("hole_mm", "/injuries/0/diameter_mm"),
        ("injuries.1.diameter_mm", "/injuries/1/diameter_mm"),
        ("/injuries/1/diameter_mm", "/injuries/1/diameter_mm"),
        ("tyre.maker_policy.repair", "/tyre/maker_policy/repair"),
        ("house_rules.max_injury_mm", "/house_rules/max_injury_mm"),
    ],
)
def test_a_column_is_named_as_people_name_it(name: str, pointer: str) -> None:
    assert Columns(()).named(name).pointer == pointer


@pytest.mark.parametrize(
    ("header", "keep", "told"),
    [
        (["size", "tread_dpeth_mm"], [], "'tread_dpeth_mm' is no column of a tyre; did you mean tread_depth_mm?"),
        (["size", "driver"], [], "Name it in --keep"),
        (["size", "tyre.marking"], [], "'size' and 'tyre.marking' are both the /tyre/marking: leave one out."),
        (["size", "site", "depot"], [], "are both the depot"),
        (["size", "injuries.0.dept"], [], "the case has no /injuries/0/dept; did you mean depth?"),
        (["size"], ["plate"], "'plate' is to be kept, and there is no such column."),
        (["reference"], [], "No column has the marking: call it marking or size"),
    ],
)
def test_a_header_that_cannot_be_used_is_told_at_once(header: list[str], keep: list[str], told: str) -> None:
    with pytest.raises(UsageError) as caught:
        Columns(keep).header(header, ["/rulebook"])
    assert told in str(caught.value)


def test_a_rulebook_is_needed_from_a_column_or_for_all() -> None:
    with pytest.raises(UsageError, match="No column has the rulebook: call it rulebook, or name one for all rows"):
        Columns(()).header(["size"], [])
    Columns(()).header(["size", "rulebook"], [])


def test_a_name_means_all_of_a_section_where_it_holds_one() -> None:
    columns = Columns(())
    assert [columns.named("vehicle").pointer, columns.named("vehicle", nested=True).pointer] == [
        "/vehicle/kind",
        "/vehicle",
    ]
