"""The service that a command asks: at an address, or in this very process, or in several of its own."""

from __future__ import annotations

import asyncio
import importlib
import logging
import os
import sys
import threading
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context
from typing import TYPE_CHECKING, Any

import httpx2

from mendgauge_client._settings import URL_VARIABLE
from mendgauge_client.cli.fault import UsageError
from mendgauge_client.client import Mendgauge

if TYPE_CHECKING:
    import argparse

SERVICE = "mendgauge.server"
"""Where the service package has its application. It is looked for only when asked for: the client stands without it."""
LOG = "structlog"
"""What the service logs with."""
LOCAL_URL = "http://in-this-process"


@contextmanager
def chosen_service(options: argparse.Namespace) -> Iterator[Mendgauge]:
    """Yield the service that the options of a command ask for.

    Raises:
        UsageError: It is to be in this process, and is not installed; or nothing says where it is.
        SettingsError: It is to be at an address, and that cannot be used.
    """
    if options.local:
        transport = InProcesses(options.workers) if options.workers > 1 else InProcess(_application())
        with (
            httpx2.Client(transport=transport) as http,
            Mendgauge(LOCAL_URL, http_client=http, retries=0) as service,
        ):
            yield service
    elif not (options.url or os.environ.get(URL_VARIABLE)):
        raise UsageError(
            f"Say where the service is: name its address with --url, or in {URL_VARIABLE}, such as "
            "http://127.0.0.1:8340; or ask it in this process with --local."
        )
    else:
        with Mendgauge(options.url, timeout=options.timeout, retries=options.retries) as service:
            yield service


def _application() -> Any:
    try:
        module = importlib.import_module(SERVICE)
    except ModuleNotFoundError as error:
        if error.name is None or not SERVICE.startswith(error.name):
            raise
        raise UsageError(
            "--local asks the service in this process, and it is not installed beside the client: install the package "
            "mendgauge, or name the address of a service with --url."
        ) from None
    # It logs each request to the standard output, where here the results go.
    log = importlib.import_module(LOG)
    log.configure(
        wrapper_class=log.make_filtering_bound_logger(logging.ERROR), logger_factory=log.PrintLoggerFactory(sys.stderr)
    )
    return module.create_app()


class InProcess(httpx2.BaseTransport):
    """Carries requests to an application in this process, one at a time."""

    def __init__(self, application: Any) -> None:
        self._application = httpx2.ASGITransport(application, raise_app_exceptions=False)
        self._runner = asyncio.Runner()
        self._one_at_a_time = threading.Lock()

    def handle_request(self, request: httpx2.Request) -> httpx2.Response:
        """Return the application's response."""
        sent = httpx2.Request(request.method, request.url, headers=request.headers, content=request.read())
        with self._one_at_a_time:
            return self._runner.run(self._answer(sent))

    async def _answer(self, request: httpx2.Request) -> httpx2.Response:
        response = await self._application.handle_async_request(request)
        content = await response.aread()
        response.headers.pop("Content-Encoding", None)  # it is unpacked, and would be once more
        return httpx2.Response(response.status_code, headers=response.headers, content=content)

    def close(self) -> None:
        """Close the loop that the application ran in."""
        self._runner.close()


class InProcesses(httpx2.BaseTransport):
    """Carries requests to applications in processes of their own, one at a time to each."""

    def __init__(self, workers: int) -> None:
        _application()  # what is wrong with it is said here, and not by every worker
        self._pool = ProcessPoolExecutor(workers, get_context("spawn"), _start)

    def handle_request(self, request: httpx2.Request) -> httpx2.Response:
        """Return the response of the application that is free first."""
        sent = (request.method, str(request.url), request.headers.multi_items(), request.read())
        status, headers, content = self._pool.submit(_answer, *sent).result()
        return httpx2.Response(status, headers=headers, content=content)

    def close(self) -> None:
        """End the processes."""
        self._pool.shutdown(cancel_futures=True)


_here: list[InProcess] = []
"""The application of a worker."""


def _start() -> None:
    _here.append(InProcess(_application()))


def _answer(
    method: str, url: str, headers: list[tuple[str, str]], content: bytes
) -> tuple[int, list[tuple[str, str]], bytes]:
    response = _here[0].handle_request(httpx2.Request(method, url, headers=headers, content=content))
    return response.status_code, response.headers.multi_items(), response.read()
