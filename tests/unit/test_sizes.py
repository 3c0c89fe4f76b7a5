"""Brief answers stay as small as they are said to be, for the golden cases in every book."""

from __future__ import annotations

import pytest
from tests.bench.sizes import BOOKS, Size, sizes


@pytest.fixture(scope="module")
def measured() -> list[Size]:
    return list(sizes())


def test_brief_answers_are_small(measured: list[Size]) -> None:
    assert [one for one in measured if one.size > one.most] == []


def test_every_book_has_its_sizes(measured: list[Size]) -> None:
    kinds = {one.kind for one in measured}
    assert len(kinds) == 5
    assert {(one.kind, one.book) for one in measured} == {(kind, book) for kind in kinds for book in BOOKS}
