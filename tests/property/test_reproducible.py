"""The same case under the same edition on the same day gets the same bytes: again, later, and in another process."""

from __future__ import annotations

import os
import subprocess
import sys
from random import Random
from typing import Final

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.bench.dearest import PARTS
from tests.bench.worst import DEAREST, FOUND, PRICED, WORST
from tests.property.cases import full_cases
from tests.property.effort import share
from tests.property.judging import Json, judge
from tests.property.vague import full_or_vague


@st.composite
def any_case(draw: st.DrawFn) -> Json:
    return draw(full_or_vague(draw(full_cases())))


def bytes_of(case: Json) -> bytes:
    return msgspec.json.encode(judge(case))


@share(0.1)
@given(any_case(), any_case())
def test_asked_again_with_another_case_between_it_answers_the_same(case: Json, between: Json) -> None:
    first = bytes_of(case)
    bytes_of(between)
    assert bytes_of(case) == first


ANSWER_EACH_LINE: Final = """
import random, sys, msgspec
from mendgauge.case.case import Case
from mendgauge.core.errors import CaseError
from mendgauge.operations.repair_plans import plan_repair
from mendgauge.operations.repairability import check_repairability
# Gaps in the memory, of every size and elsewhere for each seed: a set that goes by the addresses of objects made later
# has another order in each process.
random.seed(sys.argv[1])
holes = [tuple(range(random.randrange(60))) for _ in range(20_000)]
random.shuffle(holes)
del holes[::2]
operations = {"check": check_repairability, "plan": plan_repair}
for line in sys.stdin.buffer:
    case = msgspec.json.decode(line, type=Case)
    for name in sys.argv[2:]:
        try:
            answer = msgspec.json.encode(operations[name](case))
        except CaseError as error:
            answer = str(error).encode()
        sys.stdout.buffer.write(answer + b"\\n")
"""


def answered_apart(cases: list[Json], seed: int, *operations: str) -> list[bytes]:
    """Return the answers of a process of its own, with another order of sets for each seed."""
    lines = b"\n".join(msgspec.json.encode(case) for case in cases) + b"\n"
    answered = subprocess.run(
        [sys.executable, "-c", ANSWER_EACH_LINE, str(seed), *operations],
        input=lines,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONHASHSEED": str(seed)},
        check=True,
    )
    return answered.stdout.splitlines()


@pytest.mark.parametrize("seed", [1, 2])
@share(0.002)
@given(cases=st.lists(any_case(), min_size=25, max_size=25))
def test_another_process_with_another_order_of_sets_answers_the_same(seed: int, cases: list[Json]) -> None:
    assert answered_apart(cases, seed, "check") == [bytes_of(case) for case in cases]


def long_cases() -> list[Json]:
    """The dearest cases known, and some drawn as those were: in a few of them trial answers spend all their effort."""
    random = Random(3)
    drawn = [{name: draw(random) for name, draw in PARTS.items()} for _ in range(12)]
    given = [
        {name: part for name, part in body.items() if part is not None} | PRICED | {"vehicle": {}} for body in drawn
    ]
    return [*WORST.values(), FOUND, *DEAREST.values(), *given]


def test_a_long_case_has_one_answer_in_every_process() -> None:
    """Where effort is bounded, what is left out goes by the order in which things are tried: no set may decide it."""
    cases = [{**body, "detail": "full"} for body in long_cases()]
    first, second = (answered_apart(cases, seed, "check", "plan") for seed in (1, 2))
    assert len(first) == 2 * len(cases)
    assert [place for place, (one, other) in enumerate(zip(first, second, strict=True)) if one != other] == []
