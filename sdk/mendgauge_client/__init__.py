"""Typed Python client of the Mendgauge tyre repair service: see `Mendgauge`, `AsyncMendgauge` and `TyreCase`.

`bench_case` and `roadside_case` make the usual cases. What is sent and what comes back is in
`mendgauge_client.models`, what can go wrong in `mendgauge_client.errors`; all of it can be imported from here.
"""

from mendgauge_client import cases, errors, models
from mendgauge_client._batches import CaseResult, Progress
from mendgauge_client._call import Media, Reply
from mendgauge_client._version import __version__
from mendgauge_client.cases import *  # noqa: F403
from mendgauge_client.client import AsyncMendgauge, Mendgauge
from mendgauge_client.errors import *  # noqa: F403
from mendgauge_client.models import *  # noqa: F403
from mendgauge_client.questions import Where, questions_at

__all__ = [
    "AsyncMendgauge",
    "CaseResult",
    "Media",
    "Mendgauge",
    "Progress",
    "Reply",
    "Where",
    "__version__",
    "questions_at",
]
__all__ += cases.__all__
__all__ += errors.__all__
__all__ += models.__all__
