"""Whatever is kept between requests has a bound, and DEVELOPERS.md lists it."""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final, NamedTuple

ROOT: Final = Path(__file__).parents[2]
HOUSE: Final = ROOT / "service" / "mendgauge"
GUIDE: Final = ROOT / "DEVELOPERS.md"
BEGIN: Final = "<!-- caches: written by `make map` -->\n"
END: Final = "<!-- end of caches -->"

BOUNDED_BY: Final = {
    "api.body._decoder": "the request bodies there are",
    "api.docs.document": "one",
    "api.docs.golden.golden_examples": "one",
    "api.docs.problem_pages.occasions": "one",
    "api.docs.rulebook_words._about": "the parts of a rulebook",
    "api.flaws._described": "the types in a request",
    "api.flaws._fields": "the Structs in a request",
    "api.given_twice._unread": "the request bodies there are",
    "api.log.standard_output": "one",
    "api.metrics._of_next_step": "the next steps there are",
    "api.metrics._of_open_fact": "the fields there are",
    "api.metrics._of_requests": "the paths and statuses there are",
    "api.metrics._of_verdict": "the editions and verdicts there are",
    "api.body._most": "the operations there are",
    "api.parameters._declared": "the operations there are",
    "judging.missing._placed": "the fields there are, and the longest list in a case",
    "rulebooks.resolver._trait": "the traits there are",
    "rules.outcome.possible_verdicts": "the outcomes there are",
    "tyre.tyre_class._uses": "the combinations of four traits of a marking",
    "wording.page.form": "the languages there are",
    "wording.rulebook_pages.rulebook_page_words": "the languages there are",
    "wording.wording": "the languages there are",
}
"""What bounds a cache without a number: something there are only so many of, whatever callers send."""


class Cache(NamedTuple):
    """A function whose results are kept: its name, how many at most, and what they are kept by."""

    name: str
    bound: int | None
    kept_by: tuple[str, ...]

    @property
    def row(self) -> str:
        bound = f"{self.bound:,}" if self.bound is not None else BOUNDED_BY.get(self.name, "NOTHING")
        return f"| `{self.name}` | {', '.join(f'`{one}`' for one in self.kept_by)} | {bound} |"


def caches() -> list[Cache]:
    """Return every cache of the service, by name."""
    return sorted(cache for file in HOUSE.rglob("*.py") for cache in _caches_of(file))


def _caches_of(file: Path) -> Iterator[Cache]:
    module = ".".join(file.relative_to(HOUSE).with_suffix("").parts).removesuffix(".__init__")
    tree = ast.walk(ast.parse(file.read_text("utf-8")))
    for node in (node for node in tree if isinstance(node, ast.FunctionDef)):
        for decorator in node.decorator_list:
            text = ast.unparse(decorator)
            if text == "cache" or text.startswith("lru_cache"):
                arguments = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
                bound = None if text == "cache" else int(text.removeprefix("lru_cache(maxsize=").removesuffix(")"))
                yield Cache(f"{module}.{node.name}", bound, tuple(one.arg for one in arguments))


def written() -> str:
    """Return the table as the code has it."""
    head = "| function | kept by | at most |\n|---|---|---|\n"
    return head + "\n".join(cache.row for cache in caches()) + "\n"


def test_the_table_is_what_the_code_keeps() -> None:
    table = GUIDE.read_text("utf-8").partition(BEGIN)[2].partition(END)[0]
    assert table == written(), "run `make map`"


def test_a_cache_without_a_number_says_what_bounds_it() -> None:
    assert {cache.name for cache in caches() if cache.bound is None} == BOUNDED_BY.keys()


def test_a_cache_with_a_number_holds_no_more() -> None:
    assert [cache for cache in caches() if cache.bound is not None and not 0 < cache.bound <= 4096] == []


if __name__ == "__main__":
    before, _, rest = GUIDE.read_text("utf-8").partition(BEGIN)
    after = rest.partition(END)[2]
    if not after:
        sys.exit("DEVELOPERS.md has no place for the table")
    GUIDE.write_text(before + BEGIN + written() + END + after, "utf-8")
