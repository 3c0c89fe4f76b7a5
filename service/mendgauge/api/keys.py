"""API keys: none asked for unless the operator sets some, then one needed for everything under `/v1`.

What is stored of a key is its name and its SHA-256 digest, as `NAME:DIGEST`. A plain digest is enough: a key is 256
random bits, which nobody can guess or list. A name may stand for two keys, so that one can be replaced without a gap.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from hashlib import sha256
from hmac import compare_digest
from pathlib import Path
from secrets import token_urlsafe
from typing import Any, NamedTuple

import structlog
from litestar.connection import ASGIConnection
from litestar.handlers import BaseRouteHandler
from litestar.types import Guard

from mendgauge.api.problems import KEY_REFUSED, TOO_MANY_REQUESTS, Refusal
from mendgauge.api.rate import RateLimit

KEY_NAME_PATTERN = r"[A-Za-z0-9][A-Za-z0-9._-]{0,63}"
STORED_KEY_PATTERN = rf"^{KEY_NAME_PATTERN}:[0-9a-f]{{64}}\Z"

_log = structlog.get_logger()


class KeysError(ValueError):
    """Keys that cannot be used; the message says where and what would be right, and holds nothing of a key."""


class StoredKey(NamedTuple):
    """What is kept of a key."""

    name: str
    digest: str


def new_key(name: str) -> tuple[str, str]:
    """Return a new key, and the `NAME:DIGEST` to store of it.

    Raises:
        KeysError: the name has another form than a key's name has.
    """
    if not re.fullmatch(KEY_NAME_PATTERN, name):
        raise KeysError("a key's name is 1 to 64 letters, digits or `._-`, and begins with a letter or digit")
    key = f"mendgauge_{token_urlsafe(32)}"
    return key, f"{name}:{_digest(key)}"


def stored_keys(lines: Iterable[str], place: str) -> tuple[StoredKey, ...]:
    """Return the keys that are stored in lines of `NAME:DIGEST`; blank lines and those that begin with `#` are none.

    Raises:
        KeysError: a line has another form, or there is no key; `place` says where they stand.
    """
    found = []
    for number, line in enumerate(lines, 1):
        entry = line.strip()
        if entry and not entry.startswith("#"):
            if not re.match(STORED_KEY_PATTERN, entry):
                raise KeysError(f"{place}, entry {number}: not NAME:DIGEST as `mendgauge keys new NAME` prints it")
            found.append(StoredKey(*entry.split(":")))
    if not found:
        raise KeysError(f"{place} holds no key; `mendgauge keys new NAME` makes one")
    return tuple(found)


class KeyRing:
    """The keys in force: some given for good, and those of a file, which can be read again."""

    def __init__(self, given: tuple[StoredKey, ...] = (), file: str | None = None) -> None:
        """Read the file, if there is one.

        Raises:
            KeysError: the file cannot be read, holds no key or something else.
        """
        self._given, self._file = given, file
        self._keys = (*given, *self._from_file())

    def __bool__(self) -> bool:
        return bool(self._keys)

    def reload(self) -> None:
        """Read the file again; one that cannot be used leaves the keys as they are, and is logged."""
        try:
            self._keys = (*self._given, *self._from_file())
        except KeysError as error:
            _log.error("keys not reloaded, those before still hold", why=str(error))
        else:
            _log.info("keys reloaded", names=sorted({key.name for key in self._keys}))

    def name_of(self, key: str) -> str | None:
        """Return the name of a key, or None where it is not one of these.

        Every stored digest is compared, so that the time taken says nothing of how near a guess came.
        """
        digest = _digest(key)
        found = [stored.name for stored in self._keys if compare_digest(stored.digest, digest)]
        return found[0] if found else None

    def _from_file(self) -> tuple[StoredKey, ...]:
        if self._file is None:
            return ()
        try:
            text = Path(self._file).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise KeysError(f"{self._file} cannot be read: {error}") from error
        return stored_keys(text.splitlines(), self._file)


def key_guard(ring: KeyRing, limit: RateLimit | None) -> Guard:
    """Return a guard that lets through requests with `Authorization: Bearer <key>` (RFC 6750) within the key's rate."""

    async def guard(connection: ASGIConnection[Any, Any, Any, Any], _handler: BaseRouteHandler) -> None:
        state = connection.scope["state"]
        scheme, _, key = state["headers"].get(b"authorization", b"").decode("latin-1").partition(" ")
        if not key or scheme.lower() != "bearer":
            raise _refusal("no API key was sent", "")
        name = ring.name_of(key.strip())
        if name is None:
            raise _refusal("the API key sent is not one of this service's", ', error="invalid_token"')
        state["key"] = name
        if limit:
            quota = limit.take(name)
            state["rate_limit_headers"] = quota.headers()
            if quota.retry_after:
                raise Refusal(
                    TOO_MANY_REQUESTS,
                    f"this key may ask {limit.rate:g} times a second, and {limit.burst} times at once; "
                    f"it may ask again in {quota.retry_after} s",
                    headers={"Retry-After": str(quota.retry_after)},
                )

    return guard


def _digest(key: str) -> str:
    return sha256(key.encode()).hexdigest()


def _refusal(detail: str, error: str) -> Refusal:
    return Refusal(KEY_REFUSED, detail, headers={"WWW-Authenticate": f'Bearer realm="mendgauge"{error}'})
