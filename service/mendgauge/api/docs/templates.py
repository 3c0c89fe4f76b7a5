"""HTML made of templates: everything that is put into one is escaped, and Markdown has no HTML of its own."""

from __future__ import annotations

import json
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
    """Return Markdown as HTML; tags in it stay text.

    >>> str(from_markdown("a `<b>` and **c**")).strip()
    '<p>a <code>&lt;b&gt;</code> and <strong>c</strong></p>'
    """
    return Markup(_MARKDOWN.render(text))


def from_markdown_line(text: str) -> Markup:
    """Return one line of Markdown as HTML without a paragraph around it."""
    return Markup(_MARKDOWN.renderInline(text))


def from_figures(template: str, figures: dict[str, Any]) -> str:
    """Return a text in Markdown with figures put where it names them."""
    return _TEXTS.from_string(template).render(figures)


def as_json(content: Any) -> str:
    """Return JSON with an object or list of plain values on one line, as a person would write it.

    >>> print(as_json({"tyre": {"marking": "205/55R16 91V"}, "injuries": [{"lean_deg": 5}], "note": None}))
    {
      "tyre": {"marking": "205/55R16 91V"},
      "injuries": [{"lean_deg": 5}],
      "note": null
    }
    """
    return _laid_out(content, "\n")


def _laid_out(node: Any, indent: str) -> str:
    line = json.dumps(node, ensure_ascii=False)
    if not isinstance(node, (dict, list)) or not node or (len(line) + len(indent) <= _LINE and indent != "\n"):
        return line
    inner = indent + "  "
    if isinstance(node, dict):
        parts = [f"{json.dumps(name, ensure_ascii=False)}: {_laid_out(part, inner)}" for name, part in node.items()]
        return "{" + inner + f",{inner}".join(parts) + indent + "}"
    return "[" + inner + f",{inner}".join(_laid_out(part, inner) for part in node) + indent + "]"


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
