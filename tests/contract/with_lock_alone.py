"""Run the service with the packages of the lock alone, and print which of them it loaded.

`python with_lock_alone.py NAME …` names the packages; every other package that is installed cannot be imported.
"""

from __future__ import annotations

import importlib
import json
import pkgutil
import re
import sys
import threading
import time
import urllib.request
from collections.abc import Sequence
from importlib.metadata import packages_distributions
from typing import Any

LOCKED = {"mendgauge", *sys.argv[1:]}
OWNERS = {
    module: {re.sub("[-_.]+", "-", name).lower() for name in names}
    for module, names in packages_distributions().items()
}
OF_AN_EXTRA = "mendgauge.bulk"
"""It is not of the service, and says itself what it needs."""


class NotLocked:
    """Keeps what is not locked from being found."""

    @staticmethod
    def find_spec(name: str, _path: Sequence[str] | None, _target: Any = None) -> None:
        owners = OWNERS.get(name.partition(".")[0])
        if owners and not owners & LOCKED:
            raise ModuleNotFoundError(f"{name} is not in the lock", name=name)


def serve_a_case() -> int:
    """Return the status of a repair plan, asked of the server as in service."""
    import uvicorn

    from mendgauge.api.wire import Wire
    from mendgauge.server import create_app

    config = uvicorn.Config(create_app(), port=0, loop="uvloop", http=Wire, ws="none", log_config=None)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run)
    thread.start()
    while not server.started and thread.is_alive():
        time.sleep(0.01)
    port = server.servers[0].sockets[0].getsockname()[1]
    request = urllib.request.Request(
        f"http://127.0.0.1:{port}/v1/repair-plans",
        data=b'{"rulebook":"gb","tyre":{"marking":"205/55R16 91V"}}',
        headers={"content-type": "application/json"},
    )
    with urllib.request.urlopen(request) as answer:
        status: int = answer.status
    server.should_exit = True
    thread.join()
    return status


if __name__ == "__main__":
    sys.meta_path.insert(0, NotLocked)
    import mendgauge

    for module in pkgutil.walk_packages(mendgauge.__path__, "mendgauge."):
        if not module.name.endswith("__main__") and module.name != OF_AN_EXTRA:
            importlib.import_module(module.name)
    status = serve_a_case()
    loaded = {name for module in sys.modules for name in OWNERS.get(module.partition(".")[0], ())}
    sys.stderr.write(json.dumps({"status": status, "loaded": sorted(loaded & LOCKED - {"mendgauge"})}))
