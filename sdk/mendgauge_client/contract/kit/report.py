"""What came of the checks, as a table to read and as JUnit XML."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import groupby
from xml.etree import ElementTree as ET

from mendgauge_client.contract.kit.suite import Outcome

WORDS = {"ok": "ok", "failed": "FAILED", "not tried": "-"}
WIDTH = 6


def table(outcomes: Iterable[Outcome]) -> str:
    """Return the outcomes, group by group."""
    lines = []
    for group, members in groupby(outcomes, key=lambda outcome: outcome.check.group):
        lines.append(f"\n{group}\n")
        for outcome in members:
            lines.append(f"  {WORDS[outcome.result]:<{WIDTH}}  {outcome.check.name}\n")
            lines += [f"  {'':<{WIDTH}}    {line}\n" for line in outcome.says.splitlines()]
    return "".join(lines)


def summary(outcomes: Sequence[Outcome]) -> str:
    """Return how many checks came to what, in a line."""
    counts = Counter(outcome.result for outcome in outcomes)
    counted = ", ".join(f"{counts[result]} {result}" for result in ("ok", "failed", "not tried"))
    seconds = sum(outcome.seconds for outcome in outcomes)
    return f"{len(outcomes)} checks in {seconds:.1f} s: {counted}\n"


def junit(outcomes: Sequence[Outcome], address: str) -> bytes:
    """Return the outcomes as JUnit XML: a suite for the whole, a class for each group."""
    counts = Counter(outcome.result for outcome in outcomes)
    suite = ET.Element(
        "testsuite",
        name="mendgauge contract",
        tests=str(len(outcomes)),
        failures=str(counts["failed"]),
        errors="0",
        skipped=str(counts["not tried"]),
        time=f"{sum(outcome.seconds for outcome in outcomes):.3f}",
    )
    properties = ET.SubElement(suite, "properties")
    ET.SubElement(properties, "property", name="address", value=address)
    for outcome in outcomes:
        case = ET.SubElement(
            suite,
            "testcase",
            classname=f"contract.{outcome.check.group.replace(' ', '_')}",
            name=outcome.check.name,
            time=f"{outcome.seconds:.3f}",
        )
        first = _printable(outcome.says.partition("\n")[0])
        if outcome.result == "failed":
            ET.SubElement(case, "failure", message=first).text = _printable(outcome.says)
        elif outcome.result == "not tried":
            ET.SubElement(case, "skipped", message=first)
        elif outcome.says:
            ET.SubElement(case, "system-out").text = _printable(outcome.says)
    root = ET.Element("testsuites", name="mendgauge contract")
    root.append(suite)
    ET.indent(root)
    written: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return written


def _printable(text: str) -> str:
    """Return the text without the control characters that XML 1.0 has no form for; a broken answer may hold any."""
    return "".join(sign if sign in "\t\n" or sign.isprintable() else "�" for sign in text)
