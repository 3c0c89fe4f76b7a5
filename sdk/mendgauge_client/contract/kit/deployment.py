"""The deployment under check: what is sent to it, and what comes back, untouched."""

from __future__ import annotations

import json
import time
from collections.abc import Mapping
from functools import cached_property
from types import TracebackType
from typing import Any, Self

import httpx2

from mendgauge_client._retry import LONGEST_WAIT_ASKED_S, retry_after
from mendgauge_client._settings import usable_key, usable_url
from mendgauge_client.contract.compat.changes import Document
from mendgauge_client.contract.kit.material import Operation

TRIES = 5
"""A request that is turned away with 429 is sent again so many times at most."""
JSON_HEADERS = {"Content-Type": "application/json"}


class Deployment:
    """A running service, asked without the client's own readers and retries in between."""

    def __init__(
        self, base_url: str | None = None, *, api_key: str | None = None, timeout: float = 30.0, burst: int = 0
    ) -> None:
        """
        Args:
            base_url: The address of the deployment; from MENDGAUGE_URL when left out.
            api_key: A key it takes; from MENDGAUGE_API_KEY when left out, and none where that is not set either.
            timeout: Seconds each request may take to connect, to send, and to wait for more of the answer.
            burst: How many requests to send at once to see that the deployment limits its callers; 0 does not try.

        Raises:
            SettingsError: There is no address, or the address or the key cannot be used.
        """
        self.base_url = usable_url(base_url)
        self.api_key = usable_key(api_key)
        self.burst = burst
        self.turned_away: httpx2.Response | None = None
        """The last answer of 429, if there was one."""
        self._http = httpx2.Client(timeout=timeout)

    def ask(
        self,
        method: str,
        path: str,
        *,
        content: bytes | None = None,
        params: Mapping[str, Any] | None = None,
        headers: Mapping[str, str] | None = None,
        key: str | None = "",
        patient: bool = True,
    ) -> httpx2.Response:
        """Send one request.

        Args:
            method: The HTTP method.
            path: The path, parameters filled in.
            content: The body.
            params: Query parameters.
            headers: Header fields beside the key.
            key: The API key; the deployment's own when left out, none where it is None.
            patient: Whether to wait and ask again when turned away with 429.

        Raises:
            httpx2.RequestError: No answer came.
        """
        sent = dict(headers or {})
        if key == "":
            key = self.api_key
        if key is not None:
            sent["Authorization"] = f"Bearer {key}"
        for _ in range(TRIES):
            response = self._http.request(method, self.base_url + path, content=content, params=params, headers=sent)
            if response.status_code != 429:
                break
            self.turned_away = response
            if not patient:
                break
            asked = retry_after(response.headers.get("Retry-After"))
            time.sleep(min(1.0 if asked is None else asked, LONGEST_WAIT_ASKED_S))
        return response

    def post(self, path: str, value: Any, headers: Mapping[str, str] | None = None) -> httpx2.Response:
        """Send a value as JSON."""
        return self.ask("POST", path, content=json.dumps(value).encode(), headers={**JSON_HEADERS, **(headers or {})})

    @cached_property
    def served(self) -> Document | None:
        """The deployment's OpenAPI document; None where it serves none that can be read."""
        response = self.ask("GET", "/openapi.json")
        try:
            document = response.json() if response.is_success else None
        except ValueError:
            return None
        return document if isinstance(document, dict) and isinstance(document.get("paths"), dict) else None

    def offers(self, operation: Operation) -> bool:
        """Return whether the deployment's document has an operation; without a document, the client's own counts."""
        return self.served is None or operation.method.lower() in self.served["paths"].get(operation.path, {})

    def close(self) -> None:
        """Close the connections."""
        self._http.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, at: TracebackType | None) -> None:
        self.close()
