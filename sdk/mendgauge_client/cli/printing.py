"""`mendgauge-client card` and `gauge`: what is printed of a tyre, saved as a file."""

from __future__ import annotations

import argparse
import codecs
import sys
from pathlib import Path

import msgspec

from mendgauge_client._call import Media
from mendgauge_client.cli.fault import AT_FAULT, DONE, UsageError
from mendgauge_client.cli.given_twice import GivenTwiceError, refuse_names_given_twice
from mendgauge_client.cli.service import chosen_service
from mendgauge_client.errors import InvalidRequestError
from mendgauge_client.models import TyreCase

STANDARD = "-"


def card(options: argparse.Namespace) -> int:
    """Save the printed sheets of a case: a job card, or why there is none.

    Raises:
        UsageError: A file cannot be used.
        CallError: The service gave no answer.
    """
    case = _case(options.case)
    with chosen_service(options) as service:
        try:
            page = service.print_job_card(case, paper=options.paper)
        except InvalidRequestError as error:
            return _at_fault(error)
    return _saved(page, options.output)


def gauge(options: argparse.Namespace) -> int:
    """Save the paper gauge for a size of tyre.

    Raises:
        UsageError: The file cannot be written.
        CallError: The service gave no answer.
    """
    with chosen_service(options) as service:
        try:
            page = service.print_gauge(
                marking=options.marking,
                rulebook=options.rulebook,
                vehicle_kind=options.vehicle,
                paper=options.paper,
                tread_width_mm=options.tread_width,
            )
        except InvalidRequestError as error:
            return _at_fault(error)
    return _saved(page, options.output)


def _case(file: str) -> TyreCase:
    name = "The standard input" if file == STANDARD else file
    try:
        content = sys.stdin.buffer.read() if file == STANDARD else Path(file).read_bytes()
        # Editors put a byte order mark before what they save; JSON itself has none.
        content = content.removeprefix(codecs.BOM_UTF8)
        case = msgspec.json.decode(content, type=TyreCase)
        refuse_names_given_twice(content)
    except OSError as error:
        raise UsageError(f"{name} cannot be read: {error.strerror}.") from None
    except UnicodeDecodeError:
        raise UsageError(f"{name} is not in UTF-8: save it in that encoding.") from None
    except GivenTwiceError as error:
        raise UsageError(f"{name} cannot be used: {error}.") from None
    except (msgspec.MsgspecError, RecursionError) as error:
        raise UsageError(f"{name} is no case in JSON: {error}.") from None
    return case


def _saved(page: Media, file: str) -> int:
    try:
        if file == STANDARD:
            sys.stdout.buffer.write(page.content)
            sys.stdout.buffer.flush()
        else:
            Path(file).write_bytes(page.content)
            sys.stdout.write(f"saved {file}\n")
    except BrokenPipeError:
        raise
    except OSError as error:
        raise UsageError(f"{file} cannot be written: {error.strerror}.") from None
    return DONE


def _at_fault(error: InvalidRequestError) -> int:
    places = ((fault.pointer or fault.parameter or "", fault.detail) for fault in error.faults)
    sys.stderr.write("".join(f"{place}: {detail}\n" if place else f"{detail}\n" for place, detail in places))
    return AT_FAULT
