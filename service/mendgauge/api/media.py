"""Answers that are no JSON: pictures and pages, in the form that the caller accepts."""

from __future__ import annotations

from typing import Final, Literal, NamedTuple, TypeAlias

from litestar import Response

from mendgauge.api.problems import NOT_ACCEPTABLE, Refusal

MediaType: TypeAlias = Literal["image/svg+xml", "image/png", "application/pdf"]
SVG: Final = "image/svg+xml"
PNG: Final = "image/png"
PDF: Final = "application/pdf"

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
    ranges = [_range(part) for part in (accept or "*/*").lower().split(",") if part.strip()]
    weighed = [(_weight(form, ranges), -place, form) for place, form in enumerate(answer.forms)]
    weight, _, form = max(weighed)
    if weight <= 0.0:
        raise Refusal(
            NOT_ACCEPTABLE, f"this operation answers with {' or '.join(answer.forms)}; ask for it in `Accept`"
        )
    return form


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
