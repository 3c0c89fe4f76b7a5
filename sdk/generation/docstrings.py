"""Prose of the document as the text of Python docstrings."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

from generation.operations import Operation

LINE_LENGTH = 120
QUOTES = 3
METHOD_INDENT = 8
DETAIL = "How much the answer says, `brief` or `full`; as the case has it when left out."


def escaped(text: str) -> str:
    """Return the text as it may stand between triple quotes."""
    safe = text.replace("\\", "\\\\").replace('"""', r"\"\"\"")
    return safe[:-1] + r"\"" if safe.endswith('"') else safe


def filled(text: str, indent: int = 4, first: int = QUOTES, hanging: int = 0) -> str:
    """Return the text refilled to the line length, with that indent before every line but the first.

    Args:
        text: Prose; an empty line parts two paragraphs.
        indent: Columns before each line.
        first: Columns that something else takes on the first line, beside its indent.
        hanging: Columns added to the indent of all lines but the first.
    """
    lead, inner = " " * (indent + first), " " * (indent + hanging)
    paragraphs = [
        textwrap.fill(
            " ".join(paragraph.split()),
            width=LINE_LENGTH - QUOTES,
            initial_indent=inner if place else lead,
            subsequent_indent=inner,
            break_long_words=False,
            break_on_hyphens=False,
        )
        for place, paragraph in enumerate(text.strip().split("\n\n"))
    ]
    return "\n\n".join(paragraphs).removeprefix(lead)


def method_docstring(operation: Operation) -> str:
    """Return the docstring of a method: what it does, what it takes, gives and raises."""
    parts = [filled(escaped(operation.summary), METHOD_INDENT)]
    if operation.description:
        parts.append(" " * METHOD_INDENT + filled(escaped(operation.description), METHOD_INDENT, 0))
    taken = [(argument.name, argument.says) for argument in operation.arguments]
    if operation.detailed:
        taken.append(("detail", DETAIL))
    if operation.forms:
        taken.append(("media_type", "The form to answer in."))
    taken.append(("timeout", "Seconds each try may take; the client's own when left out."))
    taken.append(("request_id", "What the service's log is to know the call by; made up when left out."))
    taken.append(("headers", "Header fields to send beside the client's own, or in place of them."))
    raised = [(refusal.error, f"{refusal.status}, {refusal.says}") for refusal in operation.refusals]
    raised.append(("CallError", "Whatever else went wrong; `mendgauge_client.errors` has the tree."))
    parts += _section("Args", taken), _section("Returns", [(operation.answer, operation.answer_says)])
    parts.append(_section("Raises", raised))
    return "\n\n".join(parts) + "\n" + " " * METHOD_INDENT


def each_docstring(operation: Operation) -> str:
    """Return the docstring of the method that asks about any number of cases by way of a batch operation."""
    parts = [
        filled(escaped(operation.summary), METHOD_INDENT),
        " " * METHOD_INDENT
        + filled(
            f"As `{operation.name}`, for any number of cases: they go out by the chunk, and their results come in the "
            "order of the cases, a few chunks at a time in memory. Each chunk is tried again like any call. Where one "
            "brings no answer, the results before it have been given, and the error ends them.",
            METHOD_INDENT,
            0,
        ),
        _section(
            "Args",
            [
                ("cases", "The cases, from whatever yields them."),
                ("chunk", "The most cases to send at a time, up to 1,000; less where they are large."),
                ("concurrency", "The most chunks to have under way at a time."),
                ("progress", "Called after each chunk with how far the cases have come."),
                ("detail", DETAIL),
                ("timeout", "Seconds each try may take; the client's own when left out."),
            ],
        ),
        _section("Yields", [("CaseResult", "For each case its answer, or what the service finds wrong with it.")]),
        _section(
            "Raises",
            [
                ("ValueError", "`chunk` or `concurrency` is out of bounds."),
                ("NotFiniteError", "A number in a case is NaN or infinite; the cases before it have been answered."),
                ("CallError", "A chunk brought no answer; `mendgauge_client.errors` has the tree."),
            ],
        ),
    ]
    return "\n\n".join(parts) + "\n" + " " * METHOD_INDENT


def _section(title: str, entries: Iterable[tuple[str, str]]) -> str:
    indent = METHOD_INDENT + 4
    lines = [
        f"{' ' * indent}{name}: {filled(escaped(says), indent, len(name) + 2, hanging=4)}" for name, says in entries
    ]
    return "\n".join([f"{' ' * METHOD_INDENT}{title}:", *lines])
