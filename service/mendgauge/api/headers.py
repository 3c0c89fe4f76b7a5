"""Request headers by their names, read once for all who ask."""

from __future__ import annotations

from collections.abc import Iterable


def headers_by_name(headers: Iterable[tuple[bytes, bytes]]) -> dict[bytes, bytes]:
    """Return each header's value by its name in small letters; one sent several times is one list (RFC 9110, 5.3).

    >>> headers_by_name([(b"accept-encoding", b"gzip"), (b"host", b"bench"), (b"accept-encoding", b"zstd")])
    {b'accept-encoding': b'gzip, zstd', b'host': b'bench'}
    """
    found: dict[bytes, bytes] = {}
    for name, value in headers:
        found[name] = b"%b, %b" % (found[name], value) if name in found else value
    return found
