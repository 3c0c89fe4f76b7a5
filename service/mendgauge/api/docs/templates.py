"""HTML made of templates: everything that is put into one is escaped, and Markdown has no HTML of its own."""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any, Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markdown_it import MarkdownIt
from markupsafe import Markup

_MARKDOWN: Final = MarkdownIt("commonmark", {"html": False}).enable("table")


def rendered(template: str, content: dict[str, Any]) -> str:
    """Return a template with what it is to show."""
    return _ENVIRONMENT.get_template(template).render(content)


def from_markdown(text: str) -> Markup:
    """Return Markdown as HTML, its headings with an id to link to; tags in it stay text.

    >>> str(from_markdown("a `<b>` and **c**")).strip()
    '<p>a <code>&lt;b&gt;</code> and <strong>c</strong></p>'
    """
    tokens = _MARKDOWN.parse(text)
    for at, token in enumerate(tokens):
        if token.type == "heading_open":
            token.attrSet("id", _anchor(tokens[at + 1].content))
        if token.type == "th_open":
            token.attrSet("scope", "col")
    return Markup(_MARKDOWN.renderer.render(tokens, _MARKDOWN.options, {}))


def headings_of(text: str) -> list[tuple[str, str]]:
    """Return the headings of a text in Markdown, each with its id."""
    tokens = _MARKDOWN.parse(text)
    headings = [tokens[at + 1].content for at, token in enumerate(tokens) if token.type == "heading_open"]
    return [(_anchor(heading), heading) for heading in headings]


def _anchor(heading: str) -> str:
    """Return the id of a heading.

    >>> _anchor("Who has the last word?")
    'who-has-the-last-word'
    """
    return re.sub(r"[^a-z0-9_]+", "-", heading.lower()).strip("-")


def from_markdown_line(text: str) -> Markup:
    """Return one line of Markdown as HTML without a paragraph around it."""
    return Markup(_MARKDOWN.renderInline(text))


def from_figures(template: str, figures: dict[str, Any]) -> str:
    """Return a text in Markdown with figures put where it names them."""
    return _TEXTS.from_string(template).render(figures)


def as_json(content: Any) -> str:
    """Return JSON with an object or list that fits a line on one, as a person would write it.

    >>> print(as_json({"tyre": {"marking": "205/55R16 91V"}, "injuries": [{"lean_deg": 5}], "note": None}))
    {
      "tyre": {"marking": "205/55R16 91V"},
      "injuries": [{"lean_deg": 5}],
      "note": null
    }
    """
    return _laid_out(content, "\n", partial(json.dumps, ensure_ascii=False))


def as_python(content: Any) -> str:
    """Return the same as a literal of Python."""
    return _laid_out(content, "\n", repr)


def _laid_out(node: Any, indent: str, written: Callable[[Any], str]) -> str:
    line = written(node)
    if not isinstance(node, (dict, list)) or not node or (len(line) + len(indent) <= _LINE and indent != "\n"):
        return line
    inner = indent + "  "
    if isinstance(node, dict):
        parts = [f"{written(name)}: {_laid_out(part, inner, written)}" for name, part in node.items()]
        return "{" + inner + f",{inner}".join(parts) + indent + "}"
    return "[" + inner + f",{inner}".join(_laid_out(part, inner, written) for part in node) + indent + "]"


_LINE: Final = 88
"""Characters that fit a line of an example."""

_ENVIRONMENT: Final = Environment(
    loader=FileSystemLoader(Path(__file__).parent / "templates"),
    autoescape=True,
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)
_ENVIRONMENT.filters |= {"markdown": from_markdown, "line": from_markdown_line, "as_json": as_json}
_TEXTS: Final = Environment(autoescape=False, undefined=StrictUndefined)
