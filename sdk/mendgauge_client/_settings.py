"""What a client is set up with: the address, the key and the header fields, each checked before it is used."""

from __future__ import annotations

import os
import re
import sys
from urllib.parse import urlsplit

from mendgauge_client._version import __version__
from mendgauge_client.errors import SettingsError

URL_VARIABLE = "MENDGAUGE_URL"
KEY_VARIABLE = "MENDGAUGE_API_KEY"
REQUEST_ID_PATTERN = "[A-Za-z0-9._:-]{1,64}"
APP_PATTERN = r"[!#$%&'*+.^_`|~0-9A-Za-z-]+(/[!#$%&'*+.^_`|~0-9A-Za-z-]+)?"
"""A product and its version, as RFC 9110 (section 10.1.5) writes them in `User-Agent`."""


def usable_url(url: str | None) -> str:
    """Return the service's address without a slash at its end; from MENDGAUGE_URL when `url` is None or empty.

    Raises:
        SettingsError: There is none, or it is not the address of a service.
    """
    url = url or os.environ.get(URL_VARIABLE) or None
    if url is None:
        raise SettingsError(
            f"Say where the service is: pass base_url= or set {URL_VARIABLE}, for instance http://127.0.0.1:8340."
        )
    try:
        parts = urlsplit(url)
        usable = parts.scheme in ("http", "https") and parts.hostname and not parts.query and not parts.fragment
    except ValueError:
        usable = False
    if not usable:
        raise SettingsError(
            f"Give the service's address as http://host:port or https://host, without a query: {url!r} is none."
        )
    return url.rstrip("/")


def usable_key(key: str | None) -> str | None:
    """Return the key; from MENDGAUGE_API_KEY when `key` is None or empty, and None where that is not set either.

    Raises:
        SettingsError: It cannot be sent in a header field.
    """
    key = key or os.environ.get(KEY_VARIABLE) or None
    if key is not None and not (key.isascii() and key.isprintable() and " " not in key):
        # The key itself stays out of the text, which ends up in logs.
        raise SettingsError("Give the key in plain characters without spaces or line breaks; see how it is read in.")
    return key


def user_agent(app_info: str | None) -> str:
    """Return the `User-Agent`: the application first, where it names itself, then the client and Python.

    Raises:
        SettingsError: `app_info` is not of the form `depot-board/2.1`.
    """
    client = f"mendgauge-client/{__version__} python/{sys.version_info.major}.{sys.version_info.minor}"
    if app_info is None:
        return client
    if not re.fullmatch(APP_PATTERN, app_info):
        raise SettingsError(f"Give app_info= as a name and a version, such as depot-board/2.1: {app_info!r} is not.")
    return f"{app_info} {client}"


def usable_id(request_id: str | None) -> str:
    """Return the request id; a new one when it is None.

    Raises:
        ValueError: The service would replace it.
    """
    if request_id is None:
        return os.urandom(16).hex()
    if not re.fullmatch(REQUEST_ID_PATTERN, request_id):
        raise ValueError(f"request_id= must match {REQUEST_ID_PATTERN}, or the service replaces it: {request_id!r}")
    return request_id
