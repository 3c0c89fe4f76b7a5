"""How a call goes out and its answer comes in, for both clients."""

from __future__ import annotations

import copy
import time
from collections.abc import Mapping
from contextlib import AbstractAsyncContextManager, nullcontext
from types import TracebackType
from typing import TYPE_CHECKING, Generic, Self, TypeVar

from mendgauge_client._body import encode
from mendgauge_client._call import Call, Reply, read
from mendgauge_client._settings import usable_id, usable_key, usable_url, user_agent
from mendgauge_client._tries import tries_of
from mendgauge_client.errors import REQUEST_ID, ClosedError

if TYPE_CHECKING:
    # The HTTP client takes longer to import than all the rest: it waits until a client is made.
    import httpx2

DEFAULT_TIMEOUT_S = 10.0
DEFAULT_RETRIES = 4
"""With the pauses between them they outlast the five seconds in which a lone service restarts on a busy machine."""
DEFAULT_TIMEOUT_RETRIES = 1
MOST_AT_ONCE = 20
"""Calls under way at once under asyncio, each on a connection that is kept open; further ones queue here.

More of them would not be answered sooner, but the last would wait longer in the service than its timeout allows.
"""

T = TypeVar("T")
V = TypeVar("V")
HttpClient = TypeVar("HttpClient", bound="httpx2.Client | httpx2.AsyncClient")


class Session(Generic[HttpClient]):
    """An address, a key, and an HTTP client to reach the service with."""

    def __init__(
        self,
        base_url: str | None = None,
        *,
        api_key: str | None = None,
        timeout: float = DEFAULT_TIMEOUT_S,
        retries: int = DEFAULT_RETRIES,
        timeout_retries: int = DEFAULT_TIMEOUT_RETRIES,
        app_info: str | None = None,
        http_client: HttpClient | None = None,
    ) -> None:
        """
        Args:
            base_url: The service's address, such as `http://127.0.0.1:8340`; from MENDGAUGE_URL when left out.
            api_key: The key to send; from MENDGAUGE_API_KEY when left out, and none where that is not set either.
            timeout: Seconds each try may wait to connect, to send, and for the next part of the answer.
            retries: How often a call is tried again where the service was not reached or answered 408, 429, 502, 503
                or 504.
            timeout_retries: How often a call is tried again that timed out, beside those `retries`.
            app_info: The name and version of your program, such as `depot-board/2.1`; goes into `User-Agent`.
            http_client: An HTTP client of your own, with its proxies and certificates; you close it yourself.

        Raises:
            SettingsError: There is no address, or the address, the key or `app_info` cannot be used.
        """
        self._base_url = usable_url(base_url)
        self._headers = {"Accept": "application/json", "User-Agent": user_agent(app_info)}
        if key := usable_key(api_key):
            self._headers["Authorization"] = f"Bearer {key}"
        self._timeout = timeout
        self._retries = retries
        self._timeout_retries = timeout_retries
        self._owns_http_client = http_client is None
        self._http = self._new_http_client() if http_client is None else http_client

    def _new_http_client(self) -> HttpClient:
        raise NotImplementedError

    def with_options(
        self,
        *,
        api_key: str | None = None,
        timeout: float | None = None,
        retries: int | None = None,
        timeout_retries: int | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Self:
        """Return a client with other settings that shares this one's connections, and closes with it.

        Args:
            api_key: As for the client; unchanged when left out.
            timeout: As for the client; unchanged when left out.
            retries: As for the client; unchanged when left out.
            timeout_retries: As for the client; unchanged when left out.
            headers: Header fields to send with every call, beside those of this client or in place of them.

        Raises:
            SettingsError: The key cannot be used.
        """
        other = copy.copy(self)
        other.__dict__.pop("raw", None)  # it belongs to the client it was made for
        other._owns_http_client = False
        other._headers = dict(self._headers)
        if api_key is not None:
            other._headers["Authorization"] = f"Bearer {usable_key(api_key)}"
        other._headers = _merged(other._headers, headers)
        other._timeout = self._timeout if timeout is None else timeout
        other._retries = self._retries if retries is None else retries
        other._timeout_retries = self._timeout_retries if timeout_retries is None else timeout_retries
        return other

    def _request(
        self, call: Call[T], timeout: float | None, request_id: str | None, headers: Mapping[str, str] | None
    ) -> httpx2.Request:
        import httpx2

        if self._http.is_closed:
            raise ClosedError("This client is closed: make the call before close(), or make a new client.")
        fields = self._headers | _given(call.headers) | {REQUEST_ID: usable_id(request_id)}
        content = None
        if call.body is not None:
            content = encode(call.body)
            fields["Content-Type"] = "application/json"
        return self._http.build_request(
            call.method,
            self._base_url + call.path,
            params=_given(call.params),
            content=content,
            headers=_merged(fields, headers),
            # A call waits for its turn as long as the calls before it take: that is no fault of the service.
            timeout=httpx2.Timeout(self._timeout if timeout is None else timeout, pool=None),
        )


class SyncTransport(Session["httpx2.Client"]):
    """Sends calls and waits for them. May be shared between threads."""

    def _new_http_client(self) -> httpx2.Client:
        import httpx2

        return httpx2.Client()

    def send(
        self,
        call: Call[T],
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[T]:
        """Send a call, try again where that may help, and read the answer.

        Args:
            call: What to ask for.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Raises:
            CallError: The call brought no answer.
        """
        return read(call, self._exchange(self._request(call, timeout, request_id, headers)))

    def _exchange(self, request: httpx2.Request) -> httpx2.Response:
        import httpx2

        tries = tries_of(request, self._retries, self._timeout_retries)
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

    _turns: AbstractAsyncContextManager[None] = nullcontext()
    """Where a call waits for its turn. An HTTP client of the caller's own has limits of its own."""

    def _new_http_client(self) -> httpx2.AsyncClient:
        import asyncio

        import httpx2

        self._turns = asyncio.Semaphore(MOST_AT_ONCE)
        return httpx2.AsyncClient(
            limits=httpx2.Limits(max_connections=MOST_AT_ONCE, max_keepalive_connections=MOST_AT_ONCE)
        )

    async def send(
        self,
        call: Call[T],
        timeout: float | None = None,
        request_id: str | None = None,
        headers: Mapping[str, str] | None = None,
    ) -> Reply[T]:
        """Send a call, try again where that may help, and read the answer.

        Args:
            call: What to ask for.
            timeout: Seconds each try may take; the client's own when left out.
            request_id: What the service's log is to know the call by; made up when left out.
            headers: Header fields to send beside the client's own, or in place of them.

        Raises:
            CallError: The call brought no answer.
        """
        return read(call, await self._exchange(self._request(call, timeout, request_id, headers)))

    async def _exchange(self, request: httpx2.Request) -> httpx2.Response:
        import asyncio

        import httpx2

        tries = tries_of(request, self._retries, self._timeout_retries)
        pause = next(tries)
        try:
            while True:
                if pause:
                    await asyncio.sleep(pause)
                try:
                    async with self._turns:
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


def _given(values: Mapping[str, V | None]) -> dict[str, V]:
    """Return the values without those left out."""
    return {name: value for name, value in values.items() if value is not None}


def _merged(fields: Mapping[str, str], others: Mapping[str, str] | None) -> dict[str, str]:
    """Return header fields with others beside or in place of them; their names differ not by case (RFC 9110, 5.1)."""
    if not others:
        return dict(fields)
    replaced = {name.casefold() for name in others}
    return {name: value for name, value in fields.items() if name.casefold() not in replaced} | dict(others)
