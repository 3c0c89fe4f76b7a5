"""An application served over HTTP as in service, from a thread of the test."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Thread

import uvicorn
from litestar.types import ASGIApp

from mendgauge.api.wire import Wire


@contextmanager
def served(app: ASGIApp) -> Iterator[str]:
    """Serve an application on a free port; gives its address."""
    config = uvicorn.Config(app, port=0, log_config=None, access_log=False, http=Wire)
    server = uvicorn.Server(config)
    thread = Thread(target=server.run)
    thread.start()
    try:
        while not server.started and thread.is_alive():
            time.sleep(0.01)
        yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}"
    finally:
        server.should_exit = True
        thread.join()
