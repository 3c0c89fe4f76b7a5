"""What the press and its caller say to each other: a length, then so many bytes; an answer begins with how it went."""

from __future__ import annotations

from struct import Struct
from typing import BinaryIO, Final

MADE: Final = b"+"
FAILED: Final = b"-"
LAST: Final = b"."
"""It was made, and whoever made it ends."""

_LENGTH: Final = Struct(">I")


def write_frame(target: BinaryIO, *parts: bytes) -> None:
    """Send bytes, and let them go out."""
    content = b"".join(parts)
    target.write(_LENGTH.pack(len(content)) + content)
    target.flush()


def read_frame(source: BinaryIO) -> bytes | None:
    """Return the bytes of the next frame; none where the other side has ended."""
    head = source.read(_LENGTH.size)
    if len(head) < _LENGTH.size:
        return None
    (length,) = _LENGTH.unpack(head)
    content = source.read(length)
    return content if len(content) == length else None
