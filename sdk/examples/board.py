"""The board: a morning's answers as a table to work from, what to do first at the top."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from typing import TypeAlias

from rich.box import HORIZONTALS
from rich.console import Console, Group, RenderableType
from rich.table import Table
from rich.text import Text

from examples.intake import Intake, IntakeTyre
from mendgauge_client import Finding, InvalidRequestError, Repairability, ToEstablish, TyreCase, Where, questions_at

Outcome: TypeAlias = Repairability | InvalidRequestError
"""An answer, or a refusal of a case that somebody typed in wrongly."""
Pairs: TypeAlias = Sequence[tuple[IntakeTyre, Outcome]]

VERDICTS = {
    "repairable": "green",
    "specialist": "magenta",
    "not_covered": "yellow",
    "not_repairable": "red",
    "inspect": "cyan",
    "refused": "",
}
STEPS = (
    "ask_first",
    "book_in",
    "repair",
    "repair_for_another_position",
    "send_to_specialist",
    "ask_the_maker",
    "replace",
    "correct_and_send_again",
)
WHOLE_MORNING = ("inspection_decides", "maker_silent", "speed_rating", "not_covered")
"""Cautions that hold for every tyre and are printed once, at the end; any other stands beside its tyre."""
WIDE, WIDEST = 130, 160
PIPED = 120


def print_board(intake: Intake, outcomes: Sequence[Outcome]) -> None:
    """Print what to do with each tyre of the intake, by the outcome at the same place, a summary, and the cautions."""
    pairs = sorted(zip(intake.tyres, outcomes, strict=True), key=lambda pair: _urgency(step(pair[1])))
    answers = [outcome for outcome in outcomes if isinstance(outcome, Repairability)]
    console = _console()
    for part in (_title(intake, answers), _board(pairs, console.width >= WIDE), _summary(pairs), _cautions(answers)):
        console.print(part)
        console.print()


def _console() -> Console:
    """Return a console as wide as the terminal, within reason; a pipe has no width of its own."""
    console = Console(highlight=False)
    if not console.is_terminal and "COLUMNS" not in os.environ:
        console.width = PIPED
    console.width = min(console.width, WIDEST)
    return console


def verdict(outcome: Outcome) -> str:
    """Return the verdict, or that the case was refused."""
    return outcome.verdict if isinstance(outcome, Repairability) else "refused"


def step(outcome: Outcome) -> str:
    """Return what to do now."""
    return outcome.next_step if isinstance(outcome, Repairability) else "correct_and_send_again"


def _urgency(word: str) -> int:
    """Return the place among the steps; a step that a newer service adds comes last."""
    return STEPS.index(word) if word in STEPS else len(STEPS)


def first_question(answer: Repairability) -> ToEstablish | None:
    """Return what to ask first, if anything; of a tyre that is booked in, what the bench sees."""
    where: Where = "vehicle" if answer.next_step == "ask_first" else "bench"
    return next(iter(questions_at(where, answer.to_establish)), None)


def deciding(answer: Repairability) -> Finding | None:
    """Return the finding that decides: the gravest one broken, else the one that the first question is about.

    Where all is well, it is the one that keeps to its limit with the fewest millimetres to spare; none where a brief
    answer has no findings, as nothing speaks against the repair.
    """
    for found in answer.findings:
        if found.outcome == "broken" and found.effect != "caution":
            return found
    if question := first_question(answer):
        return next((found for found in answer.findings if found.rule in question.settles), None) or next(
            iter(answer.findings), None
        )
    gauged = [found for found in answer.findings if found.limit and found.limit.unit == "mm"]
    return min(gauged, key=lambda found: found.margin or 0.0, default=None)


def _title(intake: Intake, answers: Iterable[Repairability]) -> Text:
    books = sorted({f"{answer.rulebook.id} {answer.rulebook.edition}" for answer in answers})
    return Text.assemble(
        (f"{intake.fleet}, the morning of {intake.day.day} {intake.day:%B %Y}", "bold"),
        f"\n{len(intake.tyres)} punctured tyres, judged by the rulebooks {' and '.join(books)}",
    )


def _board(pairs: Pairs, wide: bool) -> Table:
    table = Table(box=HORIZONTALS, padding=(0, 1, 0, 0), pad_edge=False, show_edge=False, expand=True)
    headings = ("Tyre", "Where", "Verdict", "Next step")
    for heading, width in zip(headings, (20, 17, 15, 10) if wide else (13, 14, 15, 10), strict=True):
        table.add_column(heading, width=width)
    table.add_column("Why, who says so, what to ask first")
    for index, (tyre, outcome) in enumerate(pairs):
        if index and step(outcome) == step(pairs[index - 1][1]):
            table.add_row()
        else:
            table.add_section()
        table.add_row(_tyre(tyre.case), _where(tyre), _verdict(outcome), Text(_plain(step(outcome))), _why(outcome))
    return table


def _tyre(case: TyreCase) -> Text:
    return Text.assemble((case.reference or "", "bold"), f"\n{case.tyre.marking}")


def _where(tyre: IntakeTyre) -> Text:
    vehicle, position = tyre.case.vehicle, tyre.case.position
    on = [vehicle.kind if vehicle else None, position.axle if position else None]
    place = ", ".join(dict.fromkeys(word for word in on if word))
    return Text.assemble(f"{tyre.depot}\n{place}\n", (f"reported by {tyre.reported_by}", "dim"))


def _verdict(outcome: Outcome) -> Text:
    text = Text.assemble((_plain(verdict(outcome)), f"bold {VERDICTS.get(verdict(outcome), '')}"))
    if isinstance(outcome, Repairability) and len(outcome.possible_verdicts) > 1:
        text.append("".join(f"\n{_plain(possible)}?" for possible in outcome.possible_verdicts), "dim")
    return text


def _why(outcome: Outcome) -> Text:
    if isinstance(outcome, InvalidRequestError):
        return Text("\n").join(Text.assemble(one.detail, (f"\n{one.pointer}", "dim")) for one in outcome.faults)
    text = _reason(outcome)
    if question := first_question(outcome):
        text.append("\nAsk: ", "bold").append(f"{question.asks} {question.how}")
    for caution in outcome.cautions:
        if caution.code not in WHOLE_MORNING:
            text.append("\nMind: ", "bold").append(caution.says)
    return text


def _reason(answer: Repairability) -> Text:
    """Return what decides, and who says so; of a brief answer its document stands among the sources."""
    found = deciding(answer)
    if found is None:
        return Text("Nothing speaks against the repair so far." if answer.to_establish else "All rules are met.")
    cited = answer.sources.get(found.cites or "")
    source, basis = (cited.source, cited.basis) if cited else (found.source, found.basis)
    return Text.assemble(found.says, (f"\n{source} ({_plain(basis or '')})", "dim") if source else "")


def _summary(pairs: Pairs) -> Table:
    table = Table.grid(padding=(0, 2))
    for name in dict.fromkeys((*VERDICTS, *(verdict(outcome) for _, outcome in pairs))):
        tyres = [tyre.case.reference or "" for tyre, outcome in pairs if verdict(outcome) == name]
        table.add_row(Text(_plain(name), f"bold {VERDICTS.get(name, '')}"), f"{len(tyres):2}", ", ".join(tyres))
    return table


def _cautions(answers: Iterable[Repairability]) -> RenderableType:
    """Return what holds for the whole morning, and where a rulebook has no figure: each once, as first worded."""
    general: dict[str, str] = {}
    gaps: dict[str, str] = {}
    for answer in answers:
        for caution in answer.cautions:
            if caution.code == "not_covered":
                gaps.setdefault(caution.says, answer.rulebook.id)
            elif caution.code in WHOLE_MORNING:
                general.setdefault(caution.code, caution.says)
    table = Table.grid(padding=(0, 2))
    for says in general.values():
        table.add_row("all", says)
    for says, book in gaps.items():
        table.add_row(book, says)
    return Group(Text("Cautions", "bold"), table)


def _plain(word: str) -> str:
    return word.replace("_", " ")
