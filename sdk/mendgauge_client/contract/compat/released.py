"""The gate before a release: the document may break callers of the last release only with a new major version.

    python -m mendgauge_client.contract.compat.released openapi/released openapi/openapi.json

The folder holds each released document as `<version>.json`. Exit code 0: the document may be released; 1: it may not;
2: a file cannot be read.
"""

from __future__ import annotations

import argparse
import json
import re
import sys
from pathlib import Path

from mendgauge_client.contract.compat.changes import Document, changes, major

VERSION = re.compile(r"([0-9]+)\.([0-9]+)\.([0-9]+)")


def main(arguments: list[str] | None = None) -> int:
    """Run the gate; returns the exit code."""
    options = argparse.ArgumentParser(
        prog="python -m mendgauge_client.contract.compat.released",
        description="Hold an OpenAPI document against the last one released.",
    )
    options.add_argument("released", type=Path, help="the folder of the released documents, <version>.json")
    options.add_argument("document", type=Path, help="the document that is to be released")
    chosen = options.parse_args(arguments)
    try:
        document = _read(chosen.document)
        last = last_released(chosen.released)
        permitted, lines = verdict(last, document) if last else (True, ["nothing is released yet: no caller to break"])
    except ValueError as error:
        sys.stderr.write(f"{error}\n")
        return 2
    sys.stdout.write("".join(f"{line}\n" for line in lines))
    return 0 if permitted else 1


def last_released(folder: Path) -> Document | None:
    """Return the released document of the highest version; None where nothing is released.

    Raises:
        ValueError: A file is not called after a version, or not after the version of the document in it.
    """
    found: dict[tuple[int, ...], Document] = {}
    for path in sorted(folder.glob("*.json")):
        document = _read(path)
        if path.stem != document["info"]["version"]:
            raise ValueError(f"{path} must be called after its version, {document['info']['version']}.json")
        found[_version(document)] = document
    return found[max(found)] if found else None


def verdict(last: Document, document: Document) -> tuple[bool, list[str]]:
    """Return whether a document may be released after another, and the changes between them, line by line.

    Raises:
        ValueError: A version is not of the form 1.2.3, or is older than the one released.
    """
    was, now = last["info"]["version"], document["info"]["version"]
    if _version(document) < _version(last):
        raise ValueError(f"the document has version {now}, older than {was}, which is released")
    found = changes(last, document)
    breaking = [change for change in found if change.breaking]
    permitted = not breaking or major(document) > major(last)
    lines = [f"{len(breaking)} breaking and {len(found) - len(breaking)} other changes from {was} to {now}"]
    lines += [f"  {'BREAKS  ' if change.breaking else 'adds    '}{change}" for change in found]
    if breaking:
        lines.append(
            f"a new major version: {now} may break callers of {was}"
            if permitted
            else f"{now} would break callers of {was}: take the changes back, or make it version {major(last) + 1}.0.0"
        )
    return permitted, lines


def _version(document: Document) -> tuple[int, ...]:
    version = document["info"]["version"]
    if not (found := VERSION.fullmatch(version)):
        raise ValueError(f"the document's version must be of the form 1.2.3: {version!r} is not")
    return tuple(map(int, found.groups()))


def _read(path: Path) -> Document:
    try:
        document: Document = json.loads(path.read_bytes())
        if not isinstance(document["info"]["version"], str) or not isinstance(document["paths"], dict):
            raise TypeError
    except OSError as error:
        raise ValueError(f"{path} cannot be read: {error.strerror}") from error
    except (ValueError, KeyError, TypeError) as error:
        raise ValueError(f"{path} is no OpenAPI document: it needs `info.version` and `paths`") from error
    return document


if __name__ == "__main__":
    sys.exit(main())
