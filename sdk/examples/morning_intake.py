"""A fleet's punctured tyres of one morning: each is asked about, and what to do with it is shown, with papers to print.

Run it with `python -m examples.morning_intake`; it starts a service of its own and stops it again. The tyres are in
`morning_intake.json`: some were on the bench, of others there is no more than what a driver said.
"""

from __future__ import annotations

import signal
import sys

from examples.board import Outcome, print_board
from examples.intake import read_intake
from examples.own_service import own_service
from examples.papers import FOLDER, save_papers
from mendgauge_client import InvalidRequestError, Mendgauge, TyreCase


def ask(service: Mendgauge, case: TyreCase) -> Outcome:
    """Return what the service says of a case, or what it finds wrong with the case."""
    try:
        return service.check_repairability(case)
    except InvalidRequestError as refusal:
        return refusal  # a slip of whoever typed it in: it goes back to them, and the rest of the morning goes on


def main() -> int:
    """Ask about every tyre, print the board, and return the exit status."""
    intake = read_intake()
    with own_service() as service:  # where one runs already: `with Mendgauge("http://…") as service:`
        outcomes = [ask(service, tyre.case) for tyre in intake.tyres]
        saved = save_papers(service, [tyre.case for tyre in intake.tyres])
    print_board(intake, outcomes)
    if saved:
        print(f"{saved} papers to print, job cards and a gauge, are in {FOLDER.resolve()}")  # noqa: T201
    return 0


if __name__ == "__main__":
    # Whoever ends the demo ends its service too: a SIGTERM unwinds the `with` as Ctrl-C does.
    signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        sys.exit(main())
    except KeyboardInterrupt:
        sys.exit(130)
