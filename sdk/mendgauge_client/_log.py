"""The client's log, by the standard library: `logging.getLogger("mendgauge_client")`.

Each exchange is a record of DEBUG, each further try one of INFO. Neither has the key, nor anything of a body.
"""

from __future__ import annotations

import logging
from typing import TYPE_CHECKING

from mendgauge_client.errors import REQUEST_ID

if TYPE_CHECKING:
    import httpx2

LOGGER = logging.getLogger("mendgauge_client")
LOGGER.addHandler(logging.NullHandler())  # what is logged goes where the application says, and nowhere by itself


def answered(request: httpx2.Request, response: httpx2.Response, seconds: float) -> None:
    """Log a response."""
    LOGGER.debug(
        "%s %s: %d in %.0f ms (request %s)",
        request.method,
        request.url.path,
        response.status_code,
        seconds * 1000,
        request.headers[REQUEST_ID],
    )


def tried_again(request: httpx2.Request, why: str, pause: float) -> None:
    """Log that a call is tried again."""
    LOGGER.info(
        "%s %s: tried again in %.1f s: %s (request %s)",
        request.method,
        request.url.path,
        pause,
        why,
        request.headers[REQUEST_ID],
    )
