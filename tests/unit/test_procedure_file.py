"""The procedure's file: what the loader refuses, and how it says so."""

from __future__ import annotations

from importlib import resources

import pytest
from tests.unit.test_rulebooks import BOOK, FILE, PROCEDURE, WORKSHOP

from mendgauge.rulebooks import Edition, RulebookError, list_editions
from mendgauge.rulebooks.loader import read_editions
from mendgauge.rulebooks.procedure_checks import sourced
from mendgauge.tyre.tyre_class import TyreClass


def shipped(name: str) -> str:
    return resources.files("mendgauge.rulebooks").joinpath(name).read_text("utf-8")


def load(procedure: str) -> tuple[Edition, ...]:
    return read_editions({FILE: BOOK, WORKSHOP: shipped(WORKSHOP), PROCEDURE: procedure})


def refusal(procedure: str) -> str:
    with pytest.raises(RulebookError) as refused:
        load(procedure)
    return str(refused.value)


BALANCE = 'code = "balance"\n'


@pytest.mark.parametrize(
    ("was", "becomes", "says"),
    [
        (BALANCE, BALANCE + 'colour = "red"\n', "Object contains unknown field `colour`"),
        ('code = "balance"\npart = "repair"', 'code = "balance"\npart = "rest"', "Invalid enum value 'rest'"),
        (
            "[sources.army]",
            '[sources.other]\ndocument = "Another"\n\n[sources.army]',
            "nothing rests on the source other.",
        ),
        ("[sources.army]", "[sources.navy]", "[sources] does not name army."),
        ('name = "bead_pressure"', 'name = "seat_pressure"', "step inflate, do: it has no parameter bead_pressure"),
        (
            "Never put a bias unit into",
            "Pull {pull_length}. Never put a bias unit into",
            "step fit_unit, cautions: it has no parameter pull_length for",
        ),
        ('cautions = ["speed_rating"]', 'cautions = ["speed"]', "there is no caution speed."),
        ('cautions = ["speed_rating"]', "cautions = []", "no step has the caution speed_rating."),
        ("balance = 5\n", "", "step balance has no time for van."),
        (
            "balance = 5\nrefit = 4",
            "balance = 6\nrefit = 4",
            "[[times]] of van: on_vehicle_minutes is 48, its steps come to 49.",
        ),
        ("low_minutes = 8\n", "low_minutes = 12\n", "time inner_dual: its minutes must not fall"),
        ("low_minutes = 8\n", "", "time inner_dual: it needs low_minutes, likely_minutes and high_minutes."),
        ("low = 138", "low = 150", "parameter cure_temperature of cure_fill: low is 150 and high is 149."),
        (
            'words = "opposite nuts in turn"\n',
            "",
            "parameter sequence of torque: it is a number (`low`, `high`) or `words`",
        ),
        ('on_lug = "the channel', 'on_bar = "the channel', "Invalid enum value 'on_bar'"),
        ('reinforced = "the unit is to be reinforced"\n', "", "[when] does not say what reinforced means."),
        ('surface = "liner"', 'surface = "channel"', "[[coats]] must say once how often the channel of car is coated."),
        (
            'fill = "two_part"',
            'fill = "tread_rubber"',
            "[[heat_cure]] must say once how long tread_rubber cures for car.",
        ),
        (BALANCE, 'code = "mount"\n', "the step mount stands there 2 times."),
        (
            'title = "Balance the wheel"\n',
            'title = "Balance the wheel"\nwhen = ["on_lug"]\n',
            "step balance: on_lug is of one injury",
        ),
        (
            'source = "rp_237"\nbasis = "published_summary"',
            'source = "rp_237"\nbasis = "published"',
            "rp_237 was seen in summary",
        ),
        (
            'source = "rp_237"\nbasis = "published_summary"',
            'source = "rp_237"\nbasis = "house_rule"',
            "house_rule is a caller's basis",
        ),
        (
            'steps = ["inflate"]\nname = "working_pressure"',
            'steps = ["inflate"]\nname = "bead_pressure"',
            "two figures are called bead_pressure.",
        ),
    ],
)
def test_a_procedure_that_does_not_hold_together_is_refused(was: str, becomes: str, says: str) -> None:
    procedure = shipped(PROCEDURE)
    assert was in procedure
    message = refusal(procedure.replace(was, becomes))
    assert message.startswith(f"{PROCEDURE}: ")
    assert says in message


def test_a_workshop_without_its_procedure_is_refused() -> None:
    with pytest.raises(RulebookError, match=f"^{WORKSHOP}: there is no procedure of edition 2026.1.$"):
        read_editions({FILE: BOOK, WORKSHOP: shipped(WORKSHOP)})


def test_everything_names_a_source_and_a_basis() -> None:
    procedure = list_editions()[0].procedure
    for heading, entry in sourced(procedure):
        assert procedure.source(entry), heading
        assert entry.basis != "house_rule", heading


@pytest.mark.parametrize("of", ["car", "van", "truck", "bus", "motorcycle"])
def test_every_step_has_a_time_for_every_class(of: TyreClass) -> None:
    procedure = list_editions()[0].procedure
    usual = {code for times in procedure.times if of in times.classes for code in times.likely_minutes}
    own = {extra.code for extra in procedure.extra_times if of in extra.classes}
    assert {step.code for step in procedure.steps if of in step.classes} <= usual | own
