"""What packs the contract into the client: the OpenAPI document and the golden examples, which stand in `openapi/`."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

PACKED = Path("mendgauge_client", "contract", "material")
FROM = ("openapi.json", "examples")


class ContractHook(BuildHookInterface[Any]):
    """Adds the contract to an sdist, and to a wheel that is built from a checkout; an sdist has it in place."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        contract = Path(self.root).parent / "openapi"
        if version == "editable" or Path(self.root, PACKED).is_dir():
            return
        for name in FROM:
            if not (contract / name).exists():
                raise FileNotFoundError(f"{contract / name} is to be packed into the client and is not there")
            build_data["force_include"][str(contract / name)] = str(PACKED / name)
