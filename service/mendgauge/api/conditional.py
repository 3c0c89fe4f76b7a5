"""Answers that a caller may hold already: tags of their bytes, and whether one it holds is good (RFC 9110, 13.1.2)."""

from __future__ import annotations

from hashlib import sha256


def etag_of(body: bytes) -> str:
    """Return the strong entity tag of a body."""
    return f'"{sha256(body).hexdigest()[:32]}"'


def is_held(if_none_match: str | None, etag: str) -> bool:
    """Return whether an `If-None-Match` lists a tag, by weak comparison, or is `*`."""
    held = [tag.strip().removeprefix("W/") for tag in (if_none_match or "").split(",")]
    return etag in held or held == ["*"]
