"""The morning's papers: what is printed of each tyre, and a gauge to lay on the tread of one size."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from mendgauge_client import InvalidRequestError, Media, Mendgauge, StatusError, TyreCase

FOLDER = Path("morning_papers")
CANNOT_PRINT = 501


def save_papers(service: Mendgauge, cases: Iterable[TyreCase], folder: Path = FOLDER) -> int:
    """Save the printed sheets of each case that can be answered, and one gauge. Return how many files there are.

    A service without the typesetter cannot print, and nothing is saved.
    """
    folder.mkdir(parents=True, exist_ok=True)
    saved = 0
    for case in cases:
        try:
            page = service.print_job_card(case)
            if not saved:
                _save(folder / "gauge.pdf", _gauge(service, case))
                saved = 1
        except InvalidRequestError:
            continue  # it went back to whoever typed it in
        except StatusError as refusal:
            if refusal.status == CANNOT_PRINT:
                return 0
            raise
        # The case's name may hold what no file can be called.
        _save(folder / f"card-{re.sub(r'[^A-Za-z0-9._-]', '-', case.reference or 'tyre')}.pdf", page)
        saved += 1
    return saved


def _gauge(service: Mendgauge, case: TyreCase) -> Media:
    return service.print_gauge(marking=case.tyre.marking, rulebook=case.rulebook, vehicle_kind="car")


def _save(file: Path, page: Media) -> None:
    file.write_bytes(page.content)
