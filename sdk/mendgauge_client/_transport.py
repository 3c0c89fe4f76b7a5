"""How a call goes out and its answer comes in, told once for both clients.

A generator says how long to pause before each try, and is handed what came of it: so when to try again is decided in
one place, and the two clients differ only in how they wait and how they send.
"""

from __future__ import annotations

import os
import re
import sys
import time
from collections.abc import Generator, Mapping
from types import TracebackType
from typing import TYPE_CHECKING, Generic, Self, TypeAlias, TypeVar
from urllib.parse import urlsplit

import msgspec

from mendgauge_client._call import Call, Reply, read
from mendgauge_client._retry import LONGEST_WAIT_ASKED_S, RETRIED_STATUSES, backoff, retry_after
from mendgauge_client._version import __version__
from mendgauge_client.errors import (
    REQUEST_ID,
    CallError,
    SettingsError,
    TimedOutError,
    UnreachableError,
    UnreadableAnswerError,
)

if TYPE_CHECKING:
    # The HTTP client takes longer to import than all the rest: it waits until a client is made.
    import httpx2

URL_VARIABLE = "MENDGAUGE_URL"
KEY_VARIABLE = "MENDGAUGE_API_KEY"
REQUEST_ID_PATTERN = "[A-Za-z0-9._:-]{1,64}"
DEFAULT_TIMEOUT_S = 10.0
DEFAULT_RETRIES = 2

T = TypeVar("T")
V = TypeVar("V")
HttpClient = TypeVar("HttpClient", bound="httpx2.Client | httpx2.AsyncClient")
Tries: TypeAlias = "Generator[float, httpx2.Response, httpx2.Response]"


def tries_of(request: httpx2.Request, retries: int) -> Tries:
    """The tries of a call: yields the seconds to pause before each, and returns the response to keep.

    Whoever makes them sends in the response to each, or throws in the error that came instead.

    Raises:
        CallError: No response is to be had.
    """
    import httpx2

    retry, pause = 0, 0.0
    while True:
        last = retry >= retries
        try:
            response = yield pause
        except httpx2.RequestError as error:
            told = _told(error, request, tries=retry + 1)
            if last or not isinstance(told, UnreachableError):
                raise told from error
            pause = backoff(retry)
        else:
            asked = retry_after(response.headers.get("Retry-After"))
            pause = backoff(retry) if asked is None else asked
            if last or response.status_code not in RETRIED_STATUSES or pause > LONGEST_WAIT_ASKED_S:
                return response
        retry += 1


def _told(error: httpx2.RequestError, request: httpx2.Request, tries: int) -> CallError:
    import httpx2

    request_id = request.headers[REQUEST_ID]
    why = str(error) or type(error).__name__
    if isinstance(error, httpx2.TimeoutException):
        return TimedOutError(
            f"Allow more time with timeout=, or see how busy the service is: {request.url} did not answer: {why}",
            request_id,
        )
    if isinstance(error, httpx2.DecodingError):
        return UnreadableAnswerError(
            f"See what lies between here and {request.url}: its answer cannot be unpacked: {why}", request_id
        )
    return UnreachableError(
        f"Check the service's address and that it runs: {request.url} not reached in {tries} "
        f"{'try' if tries == 1 else 'tries'}: {why}",
        request_id,
    )


class Session(Generic[HttpClient]):
    """An address, a key, and an HTTP client to reach the service with."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        api_key: str | None = None,
        timeout: float = DEFAULT_TIMEOUT_S,
        retries: int = DEFAULT_RETRIES,
        http_client: HttpClient | None = None,
    ) -> None:
        """
        Args:
            base_url: The service's address, such as `http://127.0.0.1:8340`; from MENDGAUGE_URL when left out.
            api_key: The key to send; from MENDGAUGE_API_KEY when left out, and none where that is not set either.
            timeout: Seconds each try may wait to connect, to send, and for the next part of the answer.
            retries: How often a call is tried again where the service was not reached or answered 408, 429, 502, 503
                or 504.
            http_client: An HTTP client of your own, with its proxies and certificates; you close it yourself.

        Raises:
            SettingsError: There is no address, or the address or the key cannot be used.
        """
        self._base_url = _usable_url(base_url or os.environ.get(URL_VARIABLE) or None)
        self._headers = {
            "Accept": "application/json",
            "User-Agent": f"mendgauge-client/{__version__} python/{sys.version_info.major}.{sys.version_info.minor}",
        }
        if key := _usable_key(api_key or os.environ.get(KEY_VARIABLE) or None):
            self._headers["Authorization"] = f"Bearer {key}"
        self._timeout = timeout
        self._retries = retries
        self._owns_http_client = http_client is None
        self._http = self._new_http_client() if http_client is None else http_client

    def _new_http_client(self) -> HttpClient:
        raise NotImplementedError

    def _request(self, call: Call[T], timeout: float | None, request_id: str | None) -> httpx2.Request:
        headers = self._headers | _given(call.headers) | {REQUEST_ID: _usable_id(request_id)}
        content = None
        if call.body is not None:
            content = msgspec.json.encode(call.body)
            headers["Content-Type"] = "application/json"
        return self._http.build_request(
            call.method,
            self._base_url + call.path,
            params=_given(call.params),
            content=content,
            headers=headers,
            timeout=self._timeout if timeout is None else timeout,
        )


class SyncTransport(Session["httpx2.Client"]):
    """Sends calls and waits for them. May be shared between threads."""

    def _new_http_client(self) -> httpx2.Client:
        import httpx2

        return httpx2.Client()

    def send(self, call: Call[T], timeout: float | None = None, request_id: str | None = None) -> Reply[T]:
        """Send a call, try again where that may help, and read the answer.

        Args:
            call: What to ask for.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.

        Raises:
            CallError: The call brought no answer.
        """
        return read(call, self._exchange(self._request(call, timeout, request_id)))

    def _exchange(self, request: httpx2.Request) -> httpx2.Response:
        import httpx2

        tries = tries_of(request, self._retries)
        pause = next(tries)
        try:
            while True:
                if pause:
                    time.sleep(pause)
                try:
                    response = self._http.send(request)
                except httpx2.RequestError as error:
                    pause = tries.throw(error)
                else:
                    pause = tries.send(response)
        except StopIteration as end:
            kept: httpx2.Response = end.value
            return kept

    def close(self) -> None:
        """Close the connections, unless the HTTP client is your own."""
        if self._owns_http_client:
            self._http.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()


class AsyncTransport(Session["httpx2.AsyncClient"]):
    """Sends calls under asyncio."""

    def _new_http_client(self) -> httpx2.AsyncClient:
        import httpx2

        return httpx2.AsyncClient()

    async def send(self, call: Call[T], timeout: float | None = None, request_id: str | None = None) -> Reply[T]:
        """Send a call, try again where that may help, and read the answer.

        Args:
            call: What to ask for.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.

        Raises:
            CallError: The call brought no answer.
        """
        return read(call, await self._exchange(self._request(call, timeout, request_id)))

    async def _exchange(self, request: httpx2.Request) -> httpx2.Response:
        import asyncio

        import httpx2

        tries = tries_of(request, self._retries)
        pause = next(tries)
        try:
            while True:
                if pause:
                    await asyncio.sleep(pause)
                try:
                    response = await self._http.send(request)
                except httpx2.RequestError as error:
                    pause = tries.throw(error)
                else:
                    pause = tries.send(response)
        except StopIteration as end:
            kept: httpx2.Response = end.value
            return kept

    async def close(self) -> None:
        """Close the connections, unless the HTTP client is your own."""
        if self._owns_http_client:
            await self._http.aclose()

    async def __aenter__(self) -> Self:
        return self

    async def __aexit__(
        self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None
    ) -> None:
        await self.close()


def _usable_id(request_id: str | None) -> str:
    if request_id is None:
        return os.urandom(16).hex()
    if not re.fullmatch(REQUEST_ID_PATTERN, request_id):
        raise ValueError(f"request_id= must match {REQUEST_ID_PATTERN}, or the service replaces it: {request_id!r}")
    return request_id


def _given(values: Mapping[str, V | None]) -> dict[str, V]:
    """The values without those left out."""
    return {name: value for name, value in values.items() if value is not None}


def _usable_url(url: str | None) -> str:
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


def _usable_key(key: str | None) -> str | None:
    if key is not None and not (key.isascii() and key.isprintable() and " " not in key):
        # The key itself stays out of the text, which ends up in logs.
        raise SettingsError("Give the key in plain characters without spaces or line breaks; see how it is read in.")
    return key
