"""The command line: what can be asked for, and what the shell gets for each way of ending."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from mendgauge_client._detail import DETAILS
from mendgauge_client._transport import DEFAULT_RETRIES, DEFAULT_TIMEOUT_S
from mendgauge_client._version import __version__
from mendgauge_client.cli.ask import ask
from mendgauge_client.cli.check import check
from mendgauge_client.cli.decode import decode
from mendgauge_client.cli.fault import ASKED_WRONGLY, EXIT_CODES, INTERRUPTED, NO_ANSWER, UsageError
from mendgauge_client.cli.printing import card, gauge
from mendgauge_client.errors import CallError, SettingsError
from mendgauge_client.questions import PLACES

MOST_WORKERS = 64
"""As many as the service itself would start."""

COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "check": check,
    "ask": ask,
    "decode": decode,
    "card": card,
    "gauge": gauge,
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        return COMMANDS[options.command](options)
    except (UsageError, SettingsError) as error:
        sys.stderr.write(f"{error}\n")
        return ASKED_WRONGLY
    except CallError as error:
        sys.stderr.write(f"{error}\n")
        return NO_ANSWER
    except KeyboardInterrupt:
        sys.stderr.write("interrupted\n")
        return INTERRUPTED
    except BrokenPipeError:
        # Whoever reads has seen enough; what is still buffered has nowhere to go.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return INTERRUPTED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="mendgauge-client",
        description="Ask a Mendgauge service about punctured tyres.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"mendgauge-client {__version__}")
    commands = parser.add_subparsers(dest="command", required=True)
    where = _where()
    _add_check(commands, where)
    _add_ask(commands, where)
    _add_decode(commands, where)
    _add_card(commands, where)
    _add_gauge(commands, where)
    return parser


def _where() -> argparse.ArgumentParser:
    """Return the options that say which service is asked, the same for every command."""
    where = argparse.ArgumentParser(add_help=False)
    asked = where.add_argument_group("the service").add_mutually_exclusive_group()
    asked.add_argument("--url", help="its address; MENDGAUGE_URL when left out. A key is taken from MENDGAUGE_API_KEY")
    asked.add_argument("--local", action="store_true", help="in this process; needs the package mendgauge")
    where.set_defaults(workers=1)
    where.add_argument("--timeout", type=float, default=DEFAULT_TIMEOUT_S, help="seconds each try may take")
    where.add_argument("--retries", type=int, default=DEFAULT_RETRIES, help="how often a call is tried again")
    return where


def _add_check(commands: argparse._SubParsersAction[argparse.ArgumentParser], where: argparse.ArgumentParser) -> None:
    command = commands.add_parser(
        "check",
        parents=[where],
        help="judge a table of tyres",
        description="Judge a table of tyres, and print how many there are of each verdict, by depot.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("table", help="CSV, JSON lines or Parquet; - is the standard input")
    command.add_argument(
        "--format", choices=["csv", "jsonl", "parquet"], help="of the table; by its ending if not given"
    )
    command.add_argument(
        "--encoding", help="of a table in text, such as cp1252; by its byte order mark if not given, or UTF-8"
    )
    command.add_argument(
        "--decimal",
        choices=["comma", "point"],
        help="of numbers; a comma in a table parted by ; if not given",
    )
    command.add_argument(
        "--column",
        metavar="FIELD=COLUMN",
        type=_named,
        action="append",
        default=[],
        help="what a column is called in this table, such as tread=Profiltiefe; may be given more than once",
    )
    command.add_argument(
        "--map", metavar="FILE", type=Path, help='the same from a file in TOML: tread = "Profiltiefe", a line each'
    )
    command.add_argument("--output", metavar="FILE", help="where the results go, a row each; - is the standard output")
    command.add_argument(
        "--output-format", choices=["csv", "jsonl", "parquet"], help="of the results; by the ending if not given"
    )
    command.add_argument("--resume", action="store_true", help="go on with the results that FILE has already")
    command.add_argument(
        "--keep",
        metavar="COLUMNS",
        type=_names,
        default=[],
        help="columns that say nothing of the tyre, with commas between: they are carried over to the results",
    )
    command.add_argument(
        "--workers", metavar="N", type=_count, help="with --local, the processes that judge at the same time"
    )
    command.add_argument(
        "--where", choices=PLACES, help="where the question of ask_first is to be answered; anywhere if not given"
    )
    command.add_argument("--detail", choices=DETAILS, help="how much the answers of JSON lines say; brief if not given")
    command.add_argument("--rulebook", help="for rows that name none")
    command.add_argument("--vehicle", help="kind of vehicle, for rows that name none")
    command.add_argument("--assessed-on", metavar="DAY", help="the day to judge on, for rows that name none; or today")


def _add_ask(commands: argparse._SubParsersAction[argparse.ArgumentParser], where: argparse.ArgumentParser) -> None:
    command = commands.add_parser(
        "ask",
        parents=[where],
        help="be asked about one tyre, a question at a time",
        description="Be asked about one tyre, in the order in which things can be known, until the verdict stands.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("marking", nargs="?", help="size and service description, such as 205/55R16 91V")
    command.add_argument("--rulebook", help="the rulebook that applies")
    command.add_argument("--vehicle", help="kind of vehicle")
    command.add_argument(
        "--where",
        choices=PLACES,
        default="bench",
        help="who is asked: a driver by phone, somebody at the vehicle, or at the bench with the tyre off its rim",
    )


def _add_decode(commands: argparse._SubParsersAction[argparse.ArgumentParser], where: argparse.ArgumentParser) -> None:
    command = commands.add_parser(
        "decode",
        parents=[where],
        help="read a marking",
        description="Read a marking: dimensions, load and speed; and its age, with a date code.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("marking", help="size and service description, such as 205/55R16 91V")
    command.add_argument("--date-code", help="week and year, or the identification number that ends in them")
    command.add_argument("--json", action="store_true", help="print it as JSON")


def _add_card(commands: argparse._SubParsersAction[argparse.ArgumentParser], where: argparse.ArgumentParser) -> None:
    command = commands.add_parser(
        "card",
        parents=[where],
        help="print the job card of a tyre",
        description="Save what is printed of a tyre as PDF: a job card, a slip that refuses it, or an intake sheet.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("case", metavar="FILE", help="the case in JSON; - is the standard input")
    _add_page(command)


def _add_gauge(commands: argparse._SubParsersAction[argparse.ArgumentParser], where: argparse.ArgumentParser) -> None:
    command = commands.add_parser(
        "gauge",
        parents=[where],
        help="print the paper gauge for a size of tyre",
        description="Save the paper gauge for a size of tyre as PDF, to print at 100 %% and cut out.",
        epilog=EXIT_CODES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    command.add_argument("marking", help="size and service description, such as 205/55R16 91V")
    command.add_argument("--rulebook", default="gb", help="the rulebook that applies; gb when left out")
    command.add_argument("--vehicle", default="car", help="kind of vehicle; car when left out")
    command.add_argument("--tread-width", metavar="MM", type=float, help="width of the tread, if the band hangs on it")
    _add_page(command)


def _add_page(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "-o", "--output", metavar="FILE", required=True, help="where the PDF goes; - is the standard output"
    )
    command.add_argument("--paper", choices=["a4", "letter"], default="a4")


def _count(text: str) -> int:
    if not text.isdigit() or not 1 <= int(text) <= MOST_WORKERS:
        raise argparse.ArgumentTypeError(f"{text!r} is not a whole number from 1 to {MOST_WORKERS}")
    return int(text)


def _names(text: str) -> list[str]:
    return [name.strip() for name in text.split(",") if name.strip()]


def _named(text: str) -> tuple[str, str]:
    field, _, column = text.partition("=")
    if not field.strip() or not column.strip():
        raise argparse.ArgumentTypeError(f"{text!r} is not of the form tread=Profiltiefe")
    return field.strip(), column.strip()
