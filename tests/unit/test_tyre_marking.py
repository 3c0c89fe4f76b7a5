"""Markings as people type them: what is let pass, what is offered instead, what can never happen."""

from __future__ import annotations

import string

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendgauge.tyre.marking import LONGEST, Marking, MarkingError, read_marking
from mendgauge.tyre.tokens import TAGS


def refusal(text: str) -> MarkingError:
    with pytest.raises(MarkingError) as refused:
        read_marking(text)
    return refused.value


def outcome(text: str) -> Marking | MarkingError:
    try:
        return read_marking(text)
    except MarkingError as error:
        return error


def warning_codes(text: str) -> list[str]:
    return [warning.code for warning in read_marking(text).warnings]


@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("  205/55  r 16 91v ", "205/55R16 91V"),
        ("205\u00a0/\u00a055R16\u200991V", "205/55R16 91V"),
        ("\ufeff205/55R16", "205/55R16"),
        ("7,50 r16 c 122/118 l", "7.50R16C 122/118L"),
        ("31×10,50R15LT", "31x10.50R15LT"),
        ("2½\u201316", "2 1/2-16"),
        ("lt 265/75 r16 123/120r load range e", "LT265/75R16 123/120R LRE"),
        ("120/70zr17 mc (58w)", "120/70ZR17 M/C (58W)"),
        ("P235/75R-15 extra load tubeless m & s", "P235/75R15 XL TL M+S"),
        ("185/75R16C 8 PR 104 / 102 R", "185/75R16C 8PR 104/102R"),
        ("185/75R16C 8PLY", "185/75R16C 8PR"),
        ("GR78-15", "GR78-15"),
        ("205/55R16, 91V, XL", "205/55R16 91V XL"),
        ("150/80 VB 16", "150/80VB16"),
        ("205/55R16 ( 91 V )", "205/55R16 (91V)"),
    ],
)
def test_spacing_case_and_common_signs_are_free(typed: str, plain: str) -> None:
    assert read_marking(typed).text == plain


@given(
    width=st.integers(100, 999),
    aspect=st.integers(20, 99),
    structure=st.sampled_from(("R", "ZR")),
    rim=st.integers(20, 98).map(lambda halves: f"{halves / 2:g}"),
    suffix=st.sampled_from(("", "C")),
    service=st.one_of(
        st.just(""),
        st.builds(" {}{}".format, st.integers(10, 320), st.sampled_from(string.ascii_uppercase)),
        st.builds(
            " {}/{}{}".format, st.integers(10, 320), st.integers(10, 320), st.sampled_from(string.ascii_uppercase)
        ),
    ),
    extra_load=st.sampled_from(("", " XL")),
)
def test_the_common_form_reads_as_its_words_do_one_by_one(
    width: int, aspect: int, structure: str, rim: str, suffix: str, service: str, extra_load: str
) -> None:
    behind = f"{rim}{suffix}{service}{extra_load}"
    at_once, word_by_word = (outcome(f"{width}/{aspect}{gap}{structure}{behind}") for gap in ("", " "))
    if isinstance(at_once, Marking):
        assert at_once == word_by_word
    else:
        assert isinstance(word_by_word, MarkingError)
        assert (at_once.code, at_once.detail) == (word_by_word.code, word_by_word.detail)


@pytest.mark.parametrize(
    ("typed", "code", "meant"),
    [
        ("205 55 16", "ambiguous_separators", "205/55R16"),
        ("205-55-16 91V", "ambiguous_separators", "205/55R16 91V"),
        ("2055516", "ambiguous_separators", "205/55R16"),
        ("205/55/16", "ambiguous_separators", "205/55R16"),
        ("205/5516", "ambiguous_separators", "205/55R16"),
        ("205x55R16", "ambiguous_separators", "205/55R16"),
        ("205 55 R16 91V", "ambiguous_separators", "205/55R16 91V"),
        ("205,55R16", "ambiguous_separators", "205/55R16"),
        ("195/R14C 106/104S", "ambiguous_separators", "195R14C 106/104S"),
        ("31,10.50R15 109Q", "ambiguous_separators", "31x10.50R15 109Q"),
        ("7.50 16", "ambiguous_separators", None),
        ("195 14", "ambiguous_separators", None),
        ("R16 205/55 91V", "order", "205/55R16 91V"),
        ("91V 205/55R16", "order", "205/55R16 91V"),
        ("２０５/５５R16", "non_ascii_digits", "205/55R16"),
        ("205/55Ｒ16", "non_ascii_sign", "205/55R16"),
        ("205/55R16 91V ★", "non_ascii_sign", None),
    ],
)
def test_a_likely_meaning_is_offered_and_never_assumed(typed: str, code: str, meant: str | None) -> None:
    error = refusal(typed)
    assert (error.code, error.suggestion) == (code, meant)
    assert meant is None or str(error).endswith(f"Is it {meant}?")


@pytest.mark.parametrize("metric_bias", ["195-14 85N", "165-13 16PR", "155-13", "110/80 17 54H", "120/90-18 65S"])
def test_a_size_with_its_own_signs_is_not_taken_for_bare_figures(metric_bias: str) -> None:
    assert read_marking(metric_bias).text == metric_bias


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("\t \u00a0", "empty"),
        ("205/55R16 " + "X" * LONGEST, "too_long"),
        ("205/55R16" + " TEMPORARY USE" * 5, "too_long"),
        ("winter tyre", "unreadable"),
        ("120/70Z17", "unreadable"),
        ("205/555R16", "size_implausible"),
        ("20/55R16", "size_implausible"),
        ("99.5R16", "size_implausible"),
        ("75x10.50R15", "size_implausible"),
        ("205/55", "rim_missing"),
        ("195R", "rim_missing"),
        ("205/55R16.3", "rim_implausible"),
        ("205/55R1691V", "rim_implausible"),
        ("205/55R3", "rim_implausible"),
        ("220/55VR391", "rim_implausible"),
        ("205/55R16 91/280V", "load_index_range"),
        ("205/55R16 91A", "speed_symbol_unknown"),
        ("205/55R16 V", "load_range_unknown"),
        ("LT235/85R16 LOAD RANGE I", "load_range_unknown"),
        ("LT235/85R16 LRE LRD", "said_twice"),
        ("185R14C 8PR 6PR", "said_twice"),
        ("205/55R16 91V 94W", "said_twice"),
        ("315/80R22.5 (154/150M) 156/150L", "said_twice"),
        ("205/55R16 (XL)", "brackets"),
        ("205/55R16 ()", "brackets"),
        ("205/55R16 ((91V))", "brackets"),
        ("205/55R16 91ZR", "word_unreadable"),
        ("205/55R16 91V 3XY", "word_unreadable"),
    ],
)
def test_what_cannot_be_is_refused_with_its_own_code(typed: str, code: str) -> None:
    assert refusal(typed).code == code


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ("205/55VR16 91H", "speed_in_size_differs"),
        ("7.50R16 LRE 8PR", "load_range_ply_differ"),
        ("315/80R22.5 156/150L (150/154M)", "dual_gt_single"),
        ("205/55R16 91V LEFT", "word_not_read"),
        ("205/70R15 106/104R C", "trailing_c_is_load_range"),
        ("31x10.50R15LT C", "trailing_c_is_load_range"),
    ],
)
def test_what_reads_but_should_be_looked_at_is_warned_of(typed: str, code: str) -> None:
    assert warning_codes(typed) == [code]


def test_c_behind_the_rim_is_commercial_and_behind_the_service_description_a_load_range() -> None:
    commercial, load_range = read_marking("195R14 C 106/104S"), read_marking("LT255/75R17 111/108Q C")
    assert (commercial.suffix, commercial.load_range) == (("C",), None)
    assert (load_range.suffix, load_range.load_range) == ((), "C")


def test_rf_in_the_size_is_run_flat_and_behind_it_reinforced() -> None:
    in_size, behind = read_marking("225/45RF17 91W"), read_marking("225/45R17 91W RF")
    assert (in_size.run_flat, in_size.tags) == (True, ())
    assert (behind.run_flat, behind.tags) == (False, ("REINFORCED",))


@pytest.mark.parametrize("typed", ["225/45R17 91W RUNFLAT", "225/45R17 91W run flat", "225/45R17 91W Run-Flat"])
def test_run_flat_in_words_is_run_flat(typed: str) -> None:
    assert read_marking(typed).run_flat


def test_words_that_are_no_markings_own_are_kept_apart() -> None:
    marking = read_marking("205/55R16 91V LEFT XL")
    assert (marking.unread, marking.tags) == (("LEFT",), ("XL",))


@pytest.mark.parametrize(
    ("typed", "width_mm"),
    [
        ("205/55R16", 205),
        ("195R14C", 195),
        ("7.50R16", 190.5),
        ("2 1/4-16", 57.15),
        ("31x10.50R15", 266.7),
        ("G78-15", None),
    ],
)
def test_nominal_section_width(typed: str, width_mm: float | None) -> None:
    assert read_marking(typed).section_width_mm == (None if width_mm is None else pytest.approx(width_mm))


def test_what_kind_of_tyre_the_marking_says_it_is() -> None:
    assert read_marking("T125/70D15 95M").temporary_spare
    assert read_marking("125/70D15 95M TEMPORARY USE ONLY").temporary_spare
    assert not read_marking("205/55R16 91T").temporary_spare
    assert read_marking("150/70R17 M/C 69V").motorcycle
    assert read_marking("MT90B16 72H").motorcycle
    assert not read_marking("120/70ZR17 58W").motorcycle
    assert read_marking("LT235/85R16").light_truck
    assert read_marking("275/65R18LT").light_truck
    assert not read_marking("195R14C").light_truck


# fmt: off
SIZES = [
    "205/55R16", "LT 235/85 R 16", "7,50-16", "31X10.50R15", "195R14", "2 1/4-16", "MT90B16", "GR78-15",
    "T125/70D15", "120/90-V18", "255/35ZRF19", "220/55VR390", "110/80 17", "315/80R22.5", "205-55-16",
    "205 55", "",
]
WORDS = [
    *sorted(TAGS),
    "91V", "(97Y)", "123/120", "91", "(154/150M)", "8PR", "8 PR", "LRE", "LR C", "LOAD RANGE E", "C", "E",
    "S", "LT", "CP", "ST", "M/C", "MC", "LEFT", "N0", "LOAD", "EXTRA", "TUBE", "TYPE", "RUN", "FLAT", "+",
    "(", ")", "280V",
]
# fmt: on
SIDEWALL_TEXT = st.one_of(
    st.builds(
        lambda size, words: " ".join([size, *words]),
        st.sampled_from(SIZES),
        st.lists(st.sampled_from(WORDS), max_size=7),
    ),
    st.builds(
        lambda size, words: size + "".join(words), st.sampled_from(SIZES), st.lists(st.sampled_from(WORDS), max_size=4)
    ),
    st.text(alphabet="0123456789/.,-xX RBZVTPMC()", max_size=LONGEST),
    st.text(max_size=LONGEST + 5),
)


@settings(deadline=None, max_examples=600)
@given(SIDEWALL_TEXT)
def test_any_text_reads_to_a_marking_that_reads_back_or_is_refused(text: str) -> None:
    read = outcome(text)
    if isinstance(read, MarkingError):
        assert read.detail
        assert read.suggestion is None or read_marking(read.suggestion).text == read.suggestion
    else:
        assert read_marking(read.text) == read
        assert read_marking(read.text.lower()) == read


@pytest.mark.parametrize(
    ("marking", "meant"),
    [
        ("205/55R61 91V", "205/55R16 91V"),
        ("7.50R61", "7.50R16"),
        ("205/55R91V", None),  # the rim is left out: nothing says which
        ("205/55R3", None),
    ],
)
def test_figures_of_a_rim_that_changed_places_are_put_right(marking: str, meant: str | None) -> None:
    with pytest.raises(MarkingError) as refused:
        read_marking(marking)
    assert (refused.value.code, refused.value.suggestion) == ("rim_implausible", meant)
    assert str(refused.value).endswith(f"Is it {meant}?" if meant else "or run into the load index?")
