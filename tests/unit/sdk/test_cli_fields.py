"""How what people write becomes the fields of a case, and what the error says where it does not."""

from __future__ import annotations

import re
from datetime import date, datetime
from decimal import Decimal
from typing import Any

import msgspec
import pytest

from mendgauge_client import History, Injury, Inspection, Position, Traits, Tyre, TyreCase, Vehicle
from mendgauge_client.tabular import fields, values
from mendgauge_client.tabular.columns import Columns, aliases
from mendgauge_client.tabular.faults import HeaderError, UnusableValueError
from mendgauge_client.tabular.plausible import bounds, doubt

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
    # An inch is 25.4 mm, a pound 0.45359237 kg, a mile 1.609344 km (NIST SP 811, appendix B); 0 °C is 32 °F.
    ("/tyre/tread_depth_mm", "4/32", 3.175),
    ("/tyre/tread_depth_mm", '4/32"', 3.175),
    ("/tyre/tread_depth_mm", "4/32nds", 3.175),
    ("/tyre/tread_depth_mm", "4/32..6/32", {"low": 3.175, "high": 4.7625}),
    ("/injuries/0/diameter_mm", '1/4"', 6.35),
    ("/injuries/0/diameter_mm", "1/4 in", 6.35),
    ("/injuries/0/diameter_mm", '1/8" to 1/4"', {"low": 3.175, "high": 6.35}),
    ("/injuries/0/across_mm", '-1 1/4"', -31.75),
    ("/injuries/0/diameter_mm", "0.25 inch", 6.35),
    ("/vehicle/gross_mass_kg", "4,200.5 lb", 1905.314750185),
    ("/vehicle/gross_mass_kg", "1\u202f900", 1900.0),
    ("/vehicle/gross_mass_kg", "1.9 t", 1900.0),
    ("/vehicle/max_speed_kmh", "100 mph", 160.9344),
    ("/bench/air_temperature_c", "68 °F", 20.0),
    *[("/injuries/0/diameter_mm", word, None) for word in ("n/a", "-", "?", "unknown", "#N/A", "nan", "Not measured")],
    ("/inspection/bulge", "n/a", None),
    ("/vehicle/kind", "Unknown", None),
    ("/tyre/date_code", "?", None),
    ("/assessed_on", "NaT", None),
    ("/reference", "NA", "NA"),
    ("/injuries/0/object", "?", "?"),
    # What pandas makes of a column in which a value is missing.
    ("/earlier_repairs", "0.0", []),
    ("/earlier_repairs", 0.0, []),
    ("/earlier_repairs", "2.0", [{}, {}]),
    ("/earlier_repairs", 2, [{}, {}]),
    ("/inspection/bulge", "1.0", True),
    ("/inspection/bulge", 0.0, False),
    ("/reference", 104.0, "104"),
    ("/tyre/date_code", "2323.0", "2323"),
    ("/tyre/date_code", 2323, "2323"),
    ("/assessed_on", "2026-11-24 00:00:00", date(2026, 11, 24)),
    ("/assessed_on", "2026-11-24T00:00:00.000000", date(2026, 11, 24)),
    ("/assessed_on", datetime(2026, 11, 24), date(2026, 11, 24)),
]


@pytest.mark.parametrize(("pointer", "written", "value"), READ)
def test_a_value_is_read_as_people_write_it(pointer: str, written: Any, value: Any) -> None:
    assert values.read(pointer, written) == value


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("4,5", 4.5),
        ("4.5", 4.5),
        ("3,5..4,5 mm", {"low": 3.5, "high": 4.5}),
        ("3,5-4,5", {"low": 3.5, "high": 4.5}),
        ("1.234,5", 1234.5),
        ("4", 4.0),
    ],
)
def test_a_decimal_comma_is_read_where_the_table_has_one(written: str, value: Any) -> None:
    assert values.read("/injuries/0/diameter_mm", written, decimal_comma=True) == value


@pytest.mark.parametrize(
    ("written", "unit", "value"),
    [
        ("4", "32nds", 3.175),
        ("4/32", "32nds", 3.175),
        ("0.25", "in", 6.35),
        ("1/4", "in", 6.35),
        ("4 mm", "in", 4.0),
        (0.25, "in", 6.35),
    ],
)
def test_a_number_has_the_unit_of_its_column_unless_it_has_its_own(written: Any, unit: str, value: float) -> None:
    assert values.read("/tyre/tread_depth_mm", written, unit=unit) == value


@pytest.mark.parametrize(
    ("pointer", "written", "value", "says"),
    [
        (
            "/vehicle/gross_mass_kg",
            "1.900",
            1.9,
            "'1.900' is read as 1.9 kilograms, where 50 to 80000 is usual; if 1900 is meant, write it so",
        ),
        ("/tyre/tread_depth_mm", "45", 45.0, "'45' is read as 45 millimetres, where 0 to 30 is usual"),
        ("/injuries/0/diameter_mm", "0.1..4", {"low": 0.1, "high": 4.0}, "is read as 0.1 millimetres"),
        ("/vehicle/gross_mass_kg", "1900", 1900.0, ""),
        ("/tyre/marking", "205", "205", ""),
        ("/inspection/bulge", "yes", True, ""),
    ],
)
def test_what_is_hardly_meant_is_doubted(pointer: str, written: str, value: Any, says: str) -> None:
    assert values.read(pointer, written) == value
    assert (says in doubt(pointer, written, value)) if says else not doubt(pointer, written, value)


def test_a_point_before_three_digits_is_doubted_where_the_comma_is_the_decimal_sign() -> None:
    says = "'1.200' is read as 1.2 millimetres; if 1200 is meant, write it so"
    assert doubt("/injuries/0/around_mm", "1.200", 1.2, decimal_comma=True) == says
    assert not doubt("/injuries/0/around_mm", "1.200", 1.2)
    assert not doubt("/injuries/0/around_mm", "1.2", 1.2, decimal_comma=True)


def test_every_bound_and_every_unit_is_of_a_field() -> None:
    names = set(re.findall(r"(\w+_(?:mm|deg|kg|kmh|km|percent|c|minutes))\b", msgspec.json.schema(TyreCase).__repr__()))
    assert set(bounds()) <= names
    assert len(bounds()) > 10


REFUSED: list[tuple[str, Any, str]] = [
    ("/injuries/0/diameter_mm", "four", "'four' is no number: write millimetres such as 4.5, or a range such as"),
    ("/injuries/0/diameter_mm", "4,5", "with a point, not a comma"),
    ("/injuries/0/diameter_mm", "4 kg", "write millimetres such as 4.5"),
    ("/injuries/0/diameter_mm", "1/4", "'1/4' is a fraction of what? Write 1/4\" where inches are meant"),
    # 3/32 to 4/32 in most shops, and 3 4/32 in others.
    ("/tyre/tread_depth_mm", "3-4/32", "can be read in two ways: write both ends alike, such as 3/32..4/32"),
    ("/injuries/0/diameter_mm", "4/32 mm", "is a fraction of what?"),
    ("/injuries/0/diameter_mm", '4/0"', "is a fraction of what?"),
    ("/vehicle/gross_mass_kg", "4/32", "is a fraction of what?"),
    ("/vehicle/gross_mass_kg", "1,900", "with a point, not a comma"),
    ("/tyre/date_code", "523.0", "a zero in front would be lost; write it as text"),
    ("/earlier_repairs", 1.5, "write none, or how many there are"),
    ("/injuries/0/diameter_mm", "4.5..3.5", "from more to less: write it as 3.5..4.5"),
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


@pytest.mark.parametrize(("pointer", "written", "shown"), REFUSED)
def test_what_a_field_does_not_take_is_reported(pointer: str, written: Any, shown: str) -> None:
    with pytest.raises(UnusableValueError) as caught:
        values.read(pointer, written)
    assert shown in str(caught.value)


@pytest.mark.parametrize(
    ("pointer", "shown"),
    [
        ("/tyer", "the case has no /tyer; did you mean tyre?"),
        ("/tyre/tread_dpeth_mm", "did you mean tread_depth_mm?"),
        ("/tyre/marking/x", "nothing of that name stands below /tyre/marking"),
        ("/injuries/first/depth", "nothing of that name stands below /injuries"),
        ("/injuries/1000000/depth", "nothing of that name stands below /injuries"),
    ],
)
def test_a_field_that_is_none_is_reported(pointer: str, shown: str) -> None:
    with pytest.raises(LookupError) as caught:
        fields.kind_of(pointer)
    assert shown in str(caught.value)


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


def test_what_is_no_case_is_reported_with_its_place() -> None:
    with pytest.raises(fields.MisfitError) as caught:
        fields.case_of({"rulebook": "gb", "tyre": {"marking": "x"}, "injuries": [{}, {"across_mm": [1]}]})
    assert caught.value.pointer == "/injuries/1/across_mm"
    assert fields.case_of({"rulebook": "gb", "tyre": {"marking": "x"}}) == TyreCase(
        rulebook="gb", tyre=Tyre(marking="x")
    )


def test_the_columns_listed_are_fields_of_the_case() -> None:
    assert len(aliases()) > 60
    for name, pointer in aliases().items():
        assert not fields.is_section(fields.kind_of(pointer)) or pointer in ("/injuries", "/earlier_repairs"), name


@pytest.mark.parametrize(
    ("section", "place"),
    [
        (Vehicle, "/vehicle"),
        (Position, "/position"),
        (Tyre, "/tyre"),
        (Traits, "/tyre/traits"),
        (Injury, "/injuries/0"),
        (Inspection, "/inspection"),
        (History, "/history"),
    ],
)
def test_what_is_known_of_a_tyre_has_a_column_of_its_own_name(section: type[msgspec.Struct], place: str) -> None:
    names = {*section.__struct_fields__} - {"kind", "complete", "traits", "maker_policy"}
    for name in names:
        assert Columns(()).named(name).pointer == f"{place}/{name}"


@pytest.mark.parametrize(
    ("name", "pointer"),
    [
        ("Size", "/tyre/marking"),
        ("hole (in)", "/injuries/0/diameter_mm"),
        ("across (in)", "/injuries/0/across_mm"),
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
    ("header", "keep", "shown"),
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
def test_a_header_that_cannot_be_used_is_reported_at_once(header: list[str], keep: list[str], shown: str) -> None:
    with pytest.raises(HeaderError) as caught:
        Columns(keep).header(header, ["/rulebook"])
    assert shown in str(caught.value)


@pytest.mark.parametrize(
    ("name", "pointer", "unit"),
    [
        ("tread (mm)", "/tyre/tread_depth_mm", "mm"),
        ("Tread [32nds]", "/tyre/tread_depth_mm", "32nds"),
        ("hole_mm (in)", "/injuries/0/diameter_mm", "in"),
        ("gross mass kg (lb)", "/vehicle/gross_mass_kg", "lb"),
        ("Profiltiefe", "/tyre/tread_depth_mm", ""),
        ("profiltiefe (mm)", "/tyre/tread_depth_mm", "mm"),
        ("Loch [mm]", "/injuries/0/diameter_mm", "mm"),
    ],
)
def test_a_column_has_a_name_and_a_unit_of_the_tables_own(name: str, pointer: str, unit: str) -> None:
    columns = Columns((), {"tread": "Profiltiefe", "/injuries/0/diameter_mm": "Loch [mm]"})
    assert (columns.named(name).pointer, columns.named(name).unit) == (pointer, unit)


@pytest.mark.parametrize(
    ("header", "names", "says"),
    [
        (["size", "tread (kg)"], {}, "'tread (kg)' names a unit that is not known here: it is in mm."),
        (["size", "vehicle (old)"], {}, "names a unit that is not known here: it has no unit."),
        (["size"], {"tread": "Tiefe"}, "No column is called 'Tiefe', which is to mean tread."),
        (["size", "Tiefe"], {"tred": "Tiefe"}, "'tred' is no column of a tyre; did you mean tread?"),
        (["size", "x"], {"tread": "x", "hole_mm": "X"}, "'X' is to mean both tread and hole_mm: leave one out."),
    ],
)
def test_names_of_the_tables_own_that_cannot_be_used(header: list[str], names: dict[str, str], says: str) -> None:
    with pytest.raises(HeaderError) as caught:
        Columns((), names).header(header, ["/rulebook"])
    assert says in str(caught.value)


def test_a_rulebook_is_needed_from_a_column_or_for_all() -> None:
    with pytest.raises(HeaderError, match="No column has the rulebook: call it rulebook, or name one for all rows"):
        Columns(()).header(["size"], [])
    Columns(()).header(["size", "rulebook"], [])


def test_a_name_means_all_of_a_section_where_it_holds_one() -> None:
    columns = Columns(())
    assert [columns.named("vehicle").pointer, columns.named("vehicle", nested=True).pointer] == [
        "/vehicle/kind",
        "/vehicle",
    ]
