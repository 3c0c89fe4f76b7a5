"""What ends a command, and the exit code of each."""

from __future__ import annotations

DONE = 0
AT_FAULT = 1
ASKED_WRONGLY = 2
NO_ANSWER = 3
INTERRUPTED = 130

EXIT_CODES = f"""\
exit codes:
  {DONE}    done
  {AT_FAULT}    answered, but something given is at fault: a row, a marking
  {ASKED_WRONGLY}    asked wrongly: an option, a column, a file that cannot be used
  {NO_ANSWER}    the service gave no answer
  {INTERRUPTED}  interrupted
"""


class UsageError(Exception):
    """The command was asked for wrongly; the text says what would be right."""


def sentence(error: Exception) -> str:
    """Return what an error says as a sentence; one that ends by asking what was meant is one already."""
    text = str(error)
    return text if text.endswith("?") else f"{text}."
