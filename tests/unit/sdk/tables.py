"""Tables of tyres for the command line, and its results read back."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any

EXAMPLE = Path(__file__).parents[3] / "sdk" / "examples" / "tyres.csv"
DAY = ["--rulebook", "gb", "--assessed-on", "2026-11-24"]
KEEP = ["--keep", "fleet_number"]
SOUND = {
    "marking": "205/55R16 91V",
    "vehicle": "car",
    "axle": "front",
    "date_code": "2323",
    "tread_mm": 5.0,
    "region": "tread",
    "depth": "through",
    "hole_mm": 4.0,
    "across_mm": 12,
    "around_mm": 640,
    "lean_deg": 5,
    "repairs": "none",
    "traits_complete": True,
    "inspected": True,
    "driver_asked": True,
    "pressure_percent": 85,
}


def rows(path: Path) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(path.read_text("utf-8"))))


def lines(path: Path) -> list[dict[str, Any]]:
    return [json.loads(line) for line in path.read_text("utf-8").splitlines()]


def write_csv(path: Path, *tyres: dict[str, Any]) -> Path:
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.DictWriter(file, list(dict.fromkeys(name for tyre in tyres for name in tyre)))
        writer.writeheader()
        writer.writerows(tyres)
    return path
