"""The same case under the same edition on the same day gets the same bytes: again, later, and in another process."""

from __future__ import annotations

import os
import subprocess
import sys
from typing import Final

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
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
import sys, msgspec
from mendgauge.case.case import Case
from mendgauge.operations.repairability import check_repairability
for line in sys.stdin.buffer:
    answer = check_repairability(msgspec.json.decode(line, type=Case))
    sys.stdout.buffer.write(msgspec.json.encode(answer) + b"\\n")
"""


@pytest.mark.parametrize("seed", ["1", "2"])
@share(0.002)
@given(cases=st.lists(any_case(), min_size=25, max_size=25))
def test_another_process_with_another_order_of_sets_answers_the_same(seed: str, cases: list[Json]) -> None:
    lines = b"\n".join(msgspec.json.encode(case) for case in cases) + b"\n"
    answered = subprocess.run(
        [sys.executable, "-c", ANSWER_EACH_LINE],
        input=lines,
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONHASHSEED": seed},
        check=True,
    )
    assert answered.stdout.splitlines() == [bytes_of(case) for case in cases]
