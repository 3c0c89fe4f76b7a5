"""Rulebook files: what the loader refuses and how, what it finds, and what every released edition keeps to."""

from __future__ import annotations

import re
from importlib import resources
from typing import get_args

import pytest

from mendgauge.rulebooks import Edition, RulebookError, UnknownRulebookError, find_edition, list_editions
from mendgauge.rulebooks.coverage import coverage_table
from mendgauge.rulebooks.loader import read_editions
from mendgauge.rulebooks.provision import Basis
from mendgauge.rulebooks.schema.book import Book, provisions
from mendgauge.rules.binding import INJURY_RULES, TYRE_RULES
from mendgauge.tyre.tyre_class import TyreClass
from mendgauge.wording import wording

# Every edition released, with the digest of its content. A line is added with an edition and never altered.
DIGESTS = {
    "au@2026.1": "sha256:09e0757c80910357640f7679a4b269a04d3810c849e5eb622f8fd4c395a7f11e",
    "de@2026.1": "sha256:a61570c3d1c6d2d82347a0f3981c38e39587dfbf90053477fcbe6d9ecb1293ae",
    "fr@2026.1": "sha256:73f44ea17d9006705edf637fa2d64cfa9ea7cfa2f71a6a59e1fa04bb44ebdcf6",
    "gb@2026.1": "sha256:ba4418db0b6dd226bdf5be072f17cb76285fe514b631d0eb15e132c2cbca76f4",
    "in@2026.1": "sha256:d25d3e7ccabcb29d561b807fae038490f87bf4eb124496e33e8ae1f2541d1260",
    "jp@2026.1": "sha256:9a56e6caf925bb67eefdd150cec2e3cda12f6136ca17ca11ce3128767984b28d",
    "nz@2026.1": "sha256:65eff6823a10ae0140b8e824d00d9e9505ced0aa828d518dbb55e79544f11e76",
    "us@2026.1": "sha256:aa8fe3003d7009a07e0ba74d447aebc806d9a560c01367cb74b7f5bf3cc74cff",
    "za@2026.1": "sha256:37a60924b161cd7a40cfa40dddeb47af1cc4917d9d376feb51555039a799e2a5",
    "au@2026.2": "sha256:d01a6c2330d2b55b99a666b3e11ea748c7ea412dd9ee65770443d9643d4e63fb",
    "de@2026.2": "sha256:833994f1288444c6fab5cde44cad29dc825348a5e048de78c94513dac0762e4f",
    "fr@2026.2": "sha256:da68cc23a02773382b7e347bcd7678305276de03c19e3baa045eb361c534e564",
    "gb@2026.2": "sha256:18f4d18a6afcd3f1c47479c5e7f28fdc1eb846f5505b3d023c698646277d9977",
    "in@2026.2": "sha256:a184911f4b2d3167131b28b14402afe29fb764305c543efd54eb813d6b0aa099",
    "jp@2026.2": "sha256:6000b9e71a1c77496ee874e29c7ea3e6c5faf35f70c8cc03809275d77c4ffb3b",
    "nz@2026.2": "sha256:e5cea38e63e5246b3250895a20fdde5d05da691e9a41f2845aff18cd2b46eeb7",
    "us@2026.2": "sha256:71c3ff1189ffe978555223704019a6de7f1607c0a322826ede9cc59b7dc055d5",
    "za@2026.2": "sha256:09a83fa7121ce427db1d2a007a4200e210ace35979c766707f5c6da4a51020fc",
}

FILE = "xx-2026.1.toml"
WORKSHOP = "workshop-2026.1.toml"
PROCEDURE = "procedure-2026.1.toml"
BOOK = """
id = "xx"
edition = "2026.1"
released = 2026-11-24
title = "Repair of tyres in an invented country"
jurisdiction = "An invented country"
language = "en-GB"
workshop = "2026.1"

[sources.code]
document = "The invented code"

[[beyond]]
what = "minor"
classes = ["car"]
effect = "ends_the_tyre"
source = "code"
basis = "published"

[[injury_size]]
classes = ["car"]
found_to_mm = 6
prepared_to_mm = 6
source = "code"
basis = "published"

[[earlier_repair]]
classes = ["car"]
effect = "ends_the_tyre"
source = "code"
basis = "published"

[[sealant]]
classes = ["car"]
effect = "caution"
source = "code"
basis = "published"

[[special_tyres]]
tyre = "run_flat"
classes = ["car"]
treatment = "maker_decides"
source = "code"
basis = "published"

[[maker_policy]]
classes = ["car"]
consent_required = false
source = "code"
basis = "published"
"""
SPACING = """
[[spacing]]
classes = ["car", "van"]
min_mm = {mm}
source = "code"
basis = "published"
"""
LIMIT = "[[injury_size]]\n"
DEFINITIONS = {*(question.name for question in TYRE_RULES), *(question.name for question in INJURY_RULES)}
CORE = ("injury_size", "band", "lean", "repair_count", "spacing", "tread_depth")


def shipped(name: str) -> str:
    return resources.files("mendgauge.rulebooks").joinpath(name).read_text("utf-8")


def workshop() -> str:
    return shipped(WORKSHOP)


def procedure() -> str:
    return shipped(PROCEDURE)


def spacing(mm: int, extra: str = "") -> str:
    return SPACING.format(mm=mm) + extra + "\n"


def load(book: str, name: str = FILE) -> tuple[Edition, ...]:
    return read_editions({name: book, WORKSHOP: workshop(), PROCEDURE: procedure()})


def refusal(book: str, name: str = FILE) -> str:
    with pytest.raises(RulebookError) as refused:
        load(book, name)
    return str(refused.value)


def test_the_invented_book_is_sound_before_anything_is_done_to_it() -> None:
    (edition,) = load(BOOK)
    assert edition.reference == "xx@2026.1"
    assert edition.book.injury_size[0].found_to_mm == 6.0


@pytest.mark.parametrize(
    ("book", "says"),
    [
        pytest.param(
            BOOK.replace(LIMIT, LIMIT + 'colour = "red"\n'),
            f"{FILE}: Object contains unknown field `colour` - at `$.injury_size[0]`",
            id="unknown key",
        ),
        pytest.param(
            'colour = "red"\n' + BOOK, f"{FILE}: Object contains unknown field `colour`", id="unknown key of the book"
        ),
        pytest.param(
            BOOK.replace('prepared_to_mm = 6\nsource = "code"\n', "prepared_to_mm = 6\n"),
            f"{FILE}: Object missing required field `source` - at `$.injury_size[0]`",
            id="missing source",
        ),
        pytest.param(
            BOOK.replace(
                'prepared_to_mm = 6\nsource = "code"\nbasis = "published"', 'prepared_to_mm = 6\nsource = "code"'
            ),
            f"{FILE}: Object missing required field `basis` - at `$.injury_size[0]`",
            id="missing basis",
        ),
        pytest.param(
            BOOK.replace('6\nsource = "code"\nbasis = "published"', '6\nsource = "code"\nbasis = "hearsay"'),
            f"{FILE}: Invalid enum value 'hearsay' - at `$.injury_size[0].basis`",
            id="unknown basis",
        ),
        pytest.param(
            BOOK.replace(LIMIT + 'classes = ["car"]', LIMIT + "classes = []"),
            f"{FILE}: Expected `array` of length >= 1 - at `$.injury_size[0].classes`",
            id="for no class",
        ),
        pytest.param(
            BOOK.replace("found_to_mm = 6", 'found_to_mm = "6 mm"'),
            f"{FILE}: Expected `float`, got `str` - at `$.injury_size[0].found_to_mm`",
            id="text for a number",
        ),
        pytest.param(
            BOOK.replace('prepared_to_mm = 6\nsource = "code"', 'prepared_to_mm = 6\nsource = "elsewhere"'),
            f"{FILE}: [sources] does not name elsewhere.",
            id="unknown source",
        ),
        pytest.param(
            BOOK + '\n[sources.other]\ndocument = "Another document"\n',
            f"{FILE}: no provision rests on the source other.",
            id="unused source",
        ),
        pytest.param(
            BOOK + spacing(150) + spacing(400),
            f"{FILE}: [[spacing]]: two provisions hold for car, van at the same time.",
            id="two provisions for the same tyres",
        ),
        pytest.param(
            BOOK + spacing(150) + spacing(400, 'trait = "run_flat"'),
            f"{FILE}: [[spacing]]: two provisions hold for car, van at the same time.",
            id="a special case behind the general one",
        ),
        pytest.param(
            BOOK + spacing(150, 'trait = "run_flat"') + spacing(400, 'trait = "run_flat"'),
            f"{FILE}: [[spacing]]: two provisions hold for car, van at the same time.",
            id="two provisions under the same condition",
        ),
        pytest.param(
            BOOK + spacing(150, "ends = 2027-01-02") + spacing(400, "starts = 2027-01-01"),
            f"{FILE}: [[spacing]]: two provisions hold for car, van at the same time.",
            id="two provisions in force on one day",
        ),
        pytest.param(
            BOOK + BOOK[BOOK.index("[[special_tyres]]") : BOOK.index("[[maker_policy]]")],
            f"{FILE}: [[special_tyres]]: two provisions on run_flat hold for car at the same time.",
            id="two provisions on the same kind of tyre",
        ),
        pytest.param(
            BOOK + spacing(150, "starts = 2027-01-01\nends = 2026-01-01"),
            f"{FILE}: [[spacing]]: it ends on 2026-01-01, not after it starts on 2027-01-01.",
            id="ends before it starts",
        ),
        pytest.param(
            BOOK.replace('workshop = "2026.1"', 'workshop = "2025.4"'),
            f"{FILE}: there is no workshop practice of edition 2025.4.",
            id="missing workshop",
        ),
    ],
)
def test_a_file_that_breaks_the_schema_is_refused_by_file_and_place(book: str, says: str) -> None:
    assert book != BOOK
    assert refusal(book) == says


def test_what_is_not_toml_is_refused() -> None:
    assert re.match(rf"{re.escape(FILE)}: .*line 1", refusal("id = \n" + BOOK))


def test_a_file_is_named_by_its_book_and_edition() -> None:
    says = "xx-2026.2.toml: the file of xx 2026.1 is named xx-2026.1.toml."
    assert refusal(BOOK, "xx-2026.2.toml") == says


def test_a_workshop_file_is_held_to_its_schema_too() -> None:
    with pytest.raises(RulebookError, match=rf"^{re.escape(WORKSHOP)}: Object contains unknown field `colour`"):
        read_editions({FILE: BOOK, WORKSHOP: 'colour = "red"\n' + workshop()})


@pytest.mark.parametrize(
    "entries",
    [
        pytest.param(
            spacing(150, "ends = 2027-01-01") + spacing(400, "starts = 2027-01-01"),
            id="one ends where the other starts",
        ),
        pytest.param(spacing(400, 'trait = "run_flat"') + spacing(150), id="the general case stands last"),
        pytest.param(spacing(150) + spacing(400).replace('["car", "van"]', '["truck"]'), id="for other tyres"),
    ],
)
def test_provisions_that_leave_each_other_room_are_let_pass(entries: str) -> None:
    (edition,) = load(BOOK + entries)
    assert len(edition.book.spacing) == 2


def test_editions_of_a_book_come_newest_first_by_number() -> None:
    numbers = ["2026.9", "2027.1", "2026.10"]
    files = {f"xx-{number}.toml": BOOK.replace('edition = "2026.1"', f'edition = "{number}"') for number in numbers}
    editions = read_editions({**files, WORKSHOP: workshop(), PROCEDURE: procedure()})
    assert [edition.reference for edition in editions] == ["xx@2027.1", "xx@2026.10", "xx@2026.9"]


def test_a_digest_follows_every_value_of_the_book_its_workshop_practice_and_its_procedure() -> None:
    (edition,) = load(BOOK)
    (other,) = load(BOOK.replace("found_to_mm = 6", "found_to_mm = 5"))
    changed = workshop().replace("under_years = 6", "under_years = 7")
    (elsewhere,) = read_editions({FILE: BOOK, WORKSHOP: changed, PROCEDURE: procedure()})
    slower = procedure().replace("likely_minutes = 12", "likely_minutes = 13")
    (otherwise,) = read_editions({FILE: BOOK, WORKSHOP: workshop(), PROCEDURE: slower})
    assert len({edition.digest, other.digest, elsewhere.digest, otherwise.digest}) == 4
    assert load("# Only a comment.\n" + BOOK)[0].digest == edition.digest


def test_a_released_edition_never_changes() -> None:
    found = {edition.reference: edition.digest for edition in list_editions()}
    changed = sorted(reference for reference in DIGESTS if found.get(reference) != DIGESTS[reference])
    assert not changed, (
        f"{', '.join(changed)} was released and answers rest on it: put its file (or its workshop practice) back as it "
        "was, and make the change in a new edition, a file of its own."
    )
    new = {reference: digest for reference, digest in found.items() if reference not in DIGESTS}
    assert not new, f"Pin the new edition: add to DIGESTS {new}."


def test_an_edition_is_found_by_its_id_and_pinned() -> None:
    assert find_edition("gb") is find_edition("gb@2026.2")
    assert find_edition("nz@2026.1").book.jurisdiction == "New Zealand"


@pytest.mark.parametrize("reference", ["xx", "GB", "", "xx@2026.1"])
def test_an_unknown_rulebook_is_refused_with_those_there_are(reference: str) -> None:
    with pytest.raises(UnknownRulebookError) as unknown:
        find_edition(reference)
    assert unknown.value.reference == reference
    ids = ", ".join(dict.fromkeys(edition.book.id for edition in list_editions()))
    assert str(unknown.value) == f"No rulebook {reference!r}. There are {ids}."


def test_an_unknown_edition_is_refused_with_those_of_its_book() -> None:
    with pytest.raises(UnknownRulebookError) as unknown:
        find_edition("gb@2025.1")
    assert str(unknown.value) == "No edition 'gb@2025.1'. Of gb there are gb@2026.2, gb@2026.1."


def test_there_is_a_rulebook_for_every_country_promised() -> None:
    assert {edition.book.id for edition in list_editions()} == {"gb", "us", "de", "au", "nz", "za", "in", "jp", "fr"}


@pytest.mark.parametrize("edition", list_editions(), ids=lambda edition: edition.reference)
class TestEveryEdition:
    def test_says_of_every_provision_whose_word_it_is_and_how_it_is_known(self, edition: Edition) -> None:
        for file in (edition.book, edition.workshop):
            for heading, entries in provisions(file):
                for entry in entries:
                    assert edition.source(entry).strip(), heading
                    assert entry.basis in get_args(Basis), heading

    def test_calls_nothing_published_that_was_seen_at_second_hand(self, edition: Edition) -> None:
        for file in (edition.book, edition.workshop):
            for heading, entries in provisions(file):
                for entry in entries:
                    assert entry.basis != "published" or file.sources[entry.source].seen_in is None, heading

    def test_speaks_of_every_class_or_says_that_it_does_not(self, edition: Edition) -> None:
        book = edition.book
        outside = {of for entry in book.outside if entry.unconditional for of in entry.classes}
        for of in get_args(TyreClass):
            silent = {entry.question for entry in book.not_covered if of in entry.classes}
            for question in CORE if of not in outside else ():
                answered = any(of in entry.classes for entry in getattr(book, question))
                assert answered or question in silent, (of, question)

    def test_never_lets_a_class_go_without_a_size_and_a_band(self, edition: Edition) -> None:
        book = edition.book
        sized = {of for entry in book.injury_size for of in entry.classes}
        banded = {of for entry in book.band for of in entry.classes}
        outside = {of for entry in book.outside if entry.unconditional for of in entry.classes}
        assert sized == banded
        assert sized | outside == set(get_args(TyreClass))
        assert not sized & outside

    def test_says_of_every_class_what_lies_beyond_a_minor_repair(self, edition: Edition) -> None:
        said = {(entry.what, of) for entry in edition.book.beyond for of in entry.classes}
        assert said == {(what, of) for what in ("minor", "sidewall", "bead") for of in get_args(TyreClass)}

    def test_names_the_questions_it_does_not_cover_as_the_rules_do(self, edition: Edition) -> None:
        assert {entry.question for entry in edition.book.not_covered} <= DEFINITIONS | {"beyond"}

    def test_writes_in_its_own_spelling_and_in_short_sentences(self, edition: Edition) -> None:
        foreign = r"\b(tyres?|centre)\b" if edition.book.language == "en-US" else r"\b(tires?|center)\b"
        for text in _texts(edition.book):
            assert not re.search(foreign, text), text
            assert all(len(sentence) <= 160 for sentence in re.split(r"(?<=[.:;])\s", text)), text


def _texts(book: Book) -> list[str]:
    notes = [entry.note for _, entries in provisions(book) for entry in entries]
    return [book.title, book.note, *notes]


def test_every_rule_has_its_words() -> None:
    findings = wording("en-GB").findings
    assert findings.keys() >= DEFINITIONS
    assert all(findings[name].broken for name in DEFINITIONS)


def test_the_table_of_what_is_covered_is_that_of_the_books() -> None:
    """`make coverage` writes it."""
    file = resources.files("mendgauge.rulebooks").joinpath("COVERAGE.md")
    assert file.read_text("utf-8") == coverage_table() + "\n"


FROM_MEMORY = (
    ("us", "special_tyres", "run_flat"),
    ("us", "sealant", None),
    ("us", "tolerances", None),
    ("us", "follow_ups", "pressure_check"),
    ("us", "follow_ups", "inspection"),
    ("us", "follow_ups", "foam_look"),
    ("us", "follow_ups", "self_sealing_look"),
    ("us", "cautions", "flammable_inside"),
    ("us", "cautions", "off_the_rim"),
    ("us", "cautions", "no_ether"),
)
"""What no document was read for, by book, heading and topic."""


@pytest.mark.parametrize(("book", "heading", "topic"), FROM_MEMORY)
def test_what_no_document_was_read_for_is_from_memory(book: str, heading: str, topic: str | None) -> None:
    edition = find_edition(book)
    file = next(one for one in (edition.book, edition.workshop, edition.procedure) if hasattr(one, heading))
    entries = [
        entry
        for entry in getattr(file, heading)
        if topic in (None, *(getattr(entry, name, None) for name in ("tyre", "what", "code")))
    ]
    assert entries
    assert {entry.basis for entry in entries} == {"from_memory"}


def test_a_caution_of_gas_inside_says_that_it_is_from_memory() -> None:
    assert wording("en-GB").cautions["flammable_inside"].basis == "from_memory"
