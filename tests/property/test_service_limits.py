"""The service limits are sound and monotone: more facts never overturn them, and a harder use never betters them."""

from __future__ import annotations

from typing import Any, Final

import msgspec
from hypothesis import given, note
from hypothesis import strategies as st
from tests.property.effort import share
from tests.property.in_use import ever_vaguer, in_use, widened
from tests.property.judging import Json
from tests.property.vague import get, put, span, vaguer

from mendgauge.answers.finding import Observed
from mendgauge.case.case import Case
from mendgauge.operations.service_limits import find_service_limits
from mendgauge.operations.service_limits.answer import ServiceLimits
from mendgauge.tyre.load import load_kg

WORDS: Final = {
    "verdict": ("repairable", "specialist", "not_covered", "not_repairable"),
    "speed": ("retained", "capped", "void"),
    "covers": ("yes", "no"),
    "load": ("enough", "short"),
    "position": ("allowed", "not_allowed"),
    "fit": ("fit", "not_fit"),
}
"""What each part of the answer may be, best first; anything else leaves all of it open."""

# Answers are rounded to a hundredth.
_ROUNDING: Final = 0.011


def limits(case: Json) -> ServiceLimits:
    answer = find_service_limits(msgspec.convert(case, Case))
    note(f"{msgspec.json.encode(case).decode()}\n    {possible(answer)}")
    return answer


def possible(answer: ServiceLimits) -> dict[str, set[str]]:
    """What each part of the answer may still become."""
    stated = {
        "covers": answer.speed.covers_vehicle,
        "load": answer.load.status,
        "position": answer.position.status,
        "fit": answer.fit,
    }
    return {
        "verdict": set(answer.possible_verdicts),
        "speed": set(answer.speed.possible_statuses),
        **{part: {word} if word in WORDS[part] else set(WORDS[part]) for part, word in stated.items()},
    }


def within(inner: Observed | None, outer: Observed | None) -> bool:
    """Whether a range lies in another; nothing known is any range."""
    if outer is None:
        return True
    return inner is not None and outer.low - _ROUNDING <= inner.low and inner.high <= outer.high + _ROUNDING


def holds_all(vaguer_one: ServiceLimits, fuller: ServiceLimits) -> bool:
    """Whether an answer leaves open all that became of it when more was known."""
    before, after = possible(vaguer_one), possible(fuller)
    if not all(after[part] <= before[part] for part in WORDS):
        return False
    if not all(
        within(getattr(fuller.load, part), getattr(vaguer_one.load, part)) for part in ("single", "dual", "capacity")
    ):
        return False
    old, new = vaguer_one.speed, fuller.speed
    if old.ceiling_settled:
        return new.ceiling_settled and new.ceiling_kmh == old.ceiling_kmh
    return old.ceiling_kmh is None or (new.ceiling_kmh is not None and new.ceiling_kmh <= old.ceiling_kmh)


@given(ever_vaguer())
def test_what_becomes_of_a_limit_was_possible_before_more_was_known(cases: tuple[Json, Json, Json]) -> None:
    full, partly, barely = (limits(case) for case in cases)
    assert holds_all(partly, full)
    assert holds_all(barely, partly)


@share(0.4)
@given(ever_vaguer())
def test_only_what_is_not_known_is_asked_for(cases: tuple[Json, Json, Json]) -> None:
    for case in cases:
        for question in limits(case).to_establish:
            stated = get(case, question.field)
            known = stated is not None and not (isinstance(stated, dict) and stated["low"] < stated["high"])
            assert not known or question.field in ("/tyre/marking", "/in_service/axle_mates"), question.field
            assert question.asks
            assert question.settles


@share(0.4)
@given(ever_vaguer())
def test_no_rating_is_kept_without_its_makers_word(cases: tuple[Json, Json, Json]) -> None:
    for case in cases:
        answer = limits(case)
        word = get(case, "/tyre/maker_policy/speed_rating_after_repair")
        nothing_repaired = answer.speed.rests_on == "marking"
        assert answer.speed.status != "retained" or word == "retained" or nothing_repaired
        assert ("rating_retained" not in {caveat.code for caveat in answer.caveats}) or word == "retained"
        if nothing_repaired:
            assert case["injuries"] == [] or all(one.get("depth") != "through" for one in case["injuries"])
            assert case["earlier_repairs"] == []


@share(0.4)
@given(ever_vaguer())
def test_nothing_grants_more_than_the_highest_load_index(cases: tuple[Json, Json, Json]) -> None:
    """No variation with speed, and no moulded load that the index does not bear out (within its 1 %), adds any."""
    for case in cases:
        load = limits(case).load
        marking = msgspec.convert(case, Case).tyre.marking
        indices = [int(part) for word in marking.split() for part in _indices(word)]
        if not indices or load.single is None:
            continue
        most = max(load_kg(index) for index in indices)
        assert load.single.high <= most * 1.01 + _ROUNDING
        if load.dual is not None:
            assert load.dual.high <= load.single.high + _ROUNDING or load.dual.high <= most * 1.01


def _indices(word: str) -> list[str]:
    """The load indices in a word of a marking: `156/150L` has two."""
    bare = word.strip("()").rstrip("ABCDEFGJKLMNPQRSTUHVWY")
    return bare.split("/") if bare.replace("/", "").isdigit() and bare != word.strip("()") else []


@share(0.2)
@given(in_use())
def test_the_same_case_gets_the_same_bytes(drawn: Any) -> None:
    one, other = (msgspec.json.encode(limits(drawn.case)) for _ in range(2))
    assert one == other


# --- A harder use is never better -----------------------------------------------------------------------------------


def ranks(part: str, words: set[str]) -> tuple[int, int]:
    found = [WORDS[part].index(word) for word in words]
    return min(found), max(found)


def never_better(worse: ServiceLimits, case: ServiceLimits) -> bool:
    after, before = possible(worse), possible(case)
    for part in WORDS:
        (best, worst), (best_before, worst_before) = ranks(part, after[part]), ranks(part, before[part])
        if best < best_before or worst < worst_before:
            return False
    for part in ("single", "dual", "capacity"):
        now, then = getattr(worse.load, part), getattr(case.load, part)
        if now is not None and then is not None and (now.low > then.low or now.high > then.high):
            return False
    now, then = worse.speed.ceiling_kmh, case.speed.ceiling_kmh
    return now is None or then is None or now <= then


@st.composite
def harder(draw: st.DrawFn, pointer: str, most: float, steps: tuple[float, ...]) -> tuple[Json, Json]:
    """A case, full or vague, and the same with a measurement raised."""
    drawn = draw(in_use())
    case = draw(vaguer(drawn, draw(widened(drawn.case)))) if draw(st.booleans()) else drawn.case
    value = get(case, pointer)
    if value is None:
        return case, case
    by = draw(st.sampled_from(steps))
    low, high = (min(end + by, most) for end in span(value))
    return put(case, pointer, {"low": low, "high": high} if isinstance(value, dict) else low), case


@share(0.5)
@given(harder("/vehicle/max_speed_kmh", 500, (1, 5, 30, 100)))
def test_a_faster_vehicle_is_never_better(pair: tuple[Json, Json]) -> None:
    worse, case = (limits(one) for one in pair)
    assert never_better(worse, case)


@share(0.5)
@given(harder("/position/axle_load_kg", 50_000, (0.1, 10, 500, 20_000)))
def test_a_heavier_axle_is_never_better(pair: tuple[Json, Json]) -> None:
    worse, case = (limits(one) for one in pair)
    assert never_better(worse, case)


_WORSE_WORD: Final = (("retained", "capped"), ("capped", "void"), ("retained", "void"))


@share(0.3)
@given(in_use(), st.sampled_from(_WORSE_WORD))
def test_a_worse_word_of_the_maker_is_never_better(drawn: Any, words: tuple[str, str]) -> None:
    case = put(drawn.case, "/tyre/maker_policy/speed_cap_kmh", None)
    better, worse = (limits(put(case, "/tyre/maker_policy/speed_rating_after_repair", word)) for word in words)
    assert never_better(worse, better)
