"""Typed Python client of the Mendgauge tyre repair service.

>>> from mendgauge_client import Case, Mendgauge, Tyre
>>> with Mendgauge("http://127.0.0.1:8340") as service:  # doctest: +SKIP
...     service.check_repairability(Case(rulebook="gb", tyre=Tyre(marking="205/55R16 91V"))).verdict
<Verdict.INSPECT: 'inspect'>
"""

from mendgauge_client import errors, models
from mendgauge_client._call import Reply
from mendgauge_client._version import __version__
from mendgauge_client.client import AsyncMendgauge, Mendgauge
from mendgauge_client.errors import *  # noqa: F403
from mendgauge_client.models import *  # noqa: F403

__all__ = ["AsyncMendgauge", "Mendgauge", "Reply", "__version__"]
__all__ += errors.__all__
__all__ += models.__all__
