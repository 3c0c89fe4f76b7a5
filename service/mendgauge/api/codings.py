"""Content codings (RFC 9110, 8.4): which one a caller gets, and bodies packed and unpacked piece by piece.

Levels were measured on this service's answers: gzip 1 and zstd 3 take the least time from the first byte packed to the
last one received on links of 10 Mbit/s and faster; beyond them packing costs more than the bytes it spares.
"""

from __future__ import annotations

import sys
import zlib
from collections.abc import Iterator
from typing import Final, Protocol

if sys.version_info >= (3, 14):
    from compression import zstd
else:
    from backports import zstd

_GZIP: Final = 31
"""The window of 32 kB, with gzip's own head and sum (zlib's `wbits`)."""

_ZSTD: Final[dict[int, int]] = {
    zstd.CompressionParameter.compression_level: 3,
    zstd.CompressionParameter.window_log: 18,  # 256 kB: larger ones cost megabytes for each answer under way
}


class Packer(Protocol):
    """A coding being applied to one answer."""

    def pack(self, part: bytes) -> bytes:
        """Return what can be sent once `part` is added; it may be nothing yet."""

    def end(self) -> bytes:
        """Return the rest."""


class _Gzip:
    def __init__(self) -> None:
        self._stream = zlib.compressobj(1, zlib.DEFLATED, _GZIP)
        self.pack, self.end = self._stream.compress, self._stream.flush


class _Zstd:
    def __init__(self) -> None:
        self._stream = zstd.ZstdCompressor(options=_ZSTD)
        self.pack, self.end = self._stream.compress, self._stream.flush


PACKERS: Final[dict[str, type[Packer]]] = {"zstd": _Zstd, "gzip": _Gzip}
"""The codings that answers are sent in; the first that a caller likes as well as any other is taken."""


def preferred(accepted: str) -> str | None:
    """Return the coding that an `Accept-Encoding` asks for most, or nothing where the answer is to go as it is.

    >>> preferred("gzip, deflate, br"), preferred("gzip;q=0.5, zstd;q=0"), preferred("identity"), preferred("")
    ('gzip', 'gzip', None, None)
    """
    weights = dict(map(_weighed, accepted.lower().split(",")))
    others = weights.get("*", 0.0)
    best = max(PACKERS, key=lambda coding: weights.get(coding, others))
    weight = weights.get(best, others)
    return best if weight > 0 and weight >= weights.get("identity", 0.0) else None


def _weighed(entry: str) -> tuple[str, float]:
    """Return a coding and its weight from 0 to 1; what cannot be read weighs nothing."""
    coding, *parameters = [part.strip() for part in entry.split(";")]
    weight = next((part[2:] for part in parameters if part.startswith("q=")), "1")
    digits = weight.replace(".", "", 1)
    return coding, float(weight) if digits.isascii() and digits.isdigit() and len(weight) <= 5 else 0.0


MEMBERS_MAX: Final = 16
"""Members of a gzip body (RFC 1952, 2.2); each costs more to begin than its bytes to send."""


class UnpackError(ValueError):
    """What was sent is not what its coding makes."""


class Gunzip:
    """A gzip body being unpacked, in parts of a bounded size however much one byte stands for."""

    def __init__(self) -> None:
        self._member = zlib.decompressobj(_GZIP)
        self._begun = 0

    def parts(self, sent: bytes, most: int) -> Iterator[bytes]:
        """Yield what the next bytes sent unpack to, at most `most` bytes at a time.

        Raises:
            UnpackError: they are not gzip.
        """
        while sent:
            if self._member.eof or not self._begun:
                self._member = zlib.decompressobj(_GZIP)
                self._begun += 1
            if self._begun > MEMBERS_MAX:
                raise UnpackError(f"the gzip body has more than {MEMBERS_MAX} members")
            try:
                part = self._member.decompress(sent, most)
            except zlib.error as error:
                raise UnpackError("the body is declared as gzip, but is not gzip, or not to its end") from error
            if part:
                yield part
            sent = self._member.unused_data if self._member.eof else self._member.unconsumed_tail

    def end(self) -> None:
        """Note that no more bytes come.

        Raises:
            UnpackError: the end is missing.
        """
        if self._begun and not self._member.eof:
            raise UnpackError("the gzip body ends too early")
