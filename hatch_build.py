"""What packs the golden examples into the service, whose documentation shows them; they stand in `openapi/`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class ExamplesHook(BuildHookInterface[Any]):
    """Adds the examples to a wheel; from a checkout the service reads them where they stand."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        examples = Path(self.root, "openapi", "examples")
        if self.target_name != "wheel" or version == "editable":
            return
        if not examples.is_dir():
            raise FileNotFoundError(f"{examples} is to be packed into the service and is not there")
        build_data["force_include"][str(examples)] = "mendgauge/api/docs/examples"
