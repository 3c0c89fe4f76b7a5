"""Answers that are no JSON: pictures and pages, in the form that the caller accepts."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, TypeAlias, TypeVar

from litestar import Response

from mendgauge.api.problems import NOT_ACCEPTABLE, Refusal

MediaType: TypeAlias = Literal["image/svg+xml", "image/png", "application/pdf"]
Form = TypeVar("Form", bound=str)
SVG: Final = "image/svg+xml"
PNG: Final = "image/png"
PDF: Final = "application/pdf"
JSON: Final = "application/json"
HTML: Final = "text/html"

_ENDINGS: Final = {SVG: "svg", PNG: "png", PDF: "pdf"}
_HEADERS: Final = {
    # A picture that a browser opens by itself may fetch and run nothing.
    "Content-Security-Policy": "default-src 'none'; style-src 'unsafe-inline'; sandbox",
    "X-Content-Type-Options": "nosniff",
}


class MediaAnswer(NamedTuple):
    """What an operation answers with, and in which forms, the first where the caller accepts anything."""

    description: str
    forms: tuple[MediaType, ...]


def accepted(accept: str | None, answer: MediaAnswer) -> MediaType:
    """Return the form that an `Accept` header prefers (RFC 9110, 12.5.1).

    Raises:
        Refusal: 406 when it accepts none of them.
    """
    form = preferred(accept, answer.forms)
    if form is None:
        raise Refusal(
            NOT_ACCEPTABLE, f"this operation answers with {' or '.join(answer.forms)}; ask for it in `Accept`"
        )
    return form


def preferred(accept: str | None, forms: tuple[Form, ...]) -> Form | None:
    """Return which of these forms an `Accept` header prefers, the first of equals; None when it accepts none.

    >>> preferred("text/html,*/*;q=0.8", ("application/json", "text/html"))
    'text/html'
    >>> preferred("*/*", ("application/json", "text/html"))
    'application/json'
    """
    ranges = [_range(part) for part in (accept or "*/*").lower().split(",") if part.strip()]
    weighed = [(_weight(form, ranges), -place, form) for place, form in enumerate(forms)]
    weight, _, form = max(weighed)
    return form if weight > 0.0 else None


def _range(part: str) -> tuple[str, float]:
    """Return a media range and its weight; one that cannot be read weighs nothing."""
    name, *parameters = [one.strip() for one in part.split(";")]
    for parameter in parameters:
        if parameter.startswith("q="):
            try:
                return name, min(1.0, max(0.0, float(parameter[2:])))
            except ValueError:
                return name, 0.0
    return name, 1.0


def _weight(form: str, ranges: list[tuple[str, float]]) -> float:
    """Return what a form weighs: by the range that names it most exactly."""
    kind = form.partition("/")[0]
    for wanted in (form, f"{kind}/*", "*/*"):
        found = [weight for name, weight in ranges if name == wanted]
        if found:
            return max(found)
    return 0.0


def media_response(content: bytes, form: str, name: str) -> Response[bytes]:
    """Return an answer in a form, called by a name where it is saved."""
    disposition = f'inline; filename="{name}.{_ENDINGS[form]}"'
    headers = {**_HEADERS, "Content-Disposition": disposition, "Vary": "Accept"}
    return Response(content, media_type=form, headers=headers)
