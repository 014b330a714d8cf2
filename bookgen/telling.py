"""Problems, findings and topics in, lines on a terminal out: what a contractor in a hurry reads.

Places are written from where the person stands: the project as named, then the file, the line and the column.
"""

from __future__ import annotations

import json
import sys
import textwrap
from collections.abc import Callable, Iterable
from enum import Enum
from functools import partial
from pathlib import Path

import click

from bookgen.model.place import PROJECT_FILE
from bookgen.model.problem import Finding, Problem, Severity
from bookgen.model.problem_kinds import PROBLEM_KINDS
from bookgen.trade.tongue import ENGLISH, Say, tongue

WIDTH = 100
DONE, PROBLEMS, WRONG_USE, MACHINE = 0, 1, 2, 3  # exit codes


def machine_words(error: OSError) -> str:
    """Return what the machine refuses, in one line."""
    where = f"{error.filename}: " if error.filename else ""
    return f"{where}{error.strerror or error}"


def progress(name: str = "") -> Callable[[str, int, int], None]:
    """Return a reporter: a line that moves on a terminal, a few plain lines elsewhere.

    With a *name*, of one project among several at once, its lines are plain and begin with that.
    """
    if name:
        return partial(_plain_line, name=f"{name}: ")
    return _moving if sys.stderr.isatty() else _plain_line


def _moving(work: str, done: int, of: int) -> None:
    whole = done >= of
    click.echo(f"\r{work}: {done} of {of} " if of > 1 else f"\r{work} …         ", nl=whole and of > 1, err=True)


def _plain_line(work: str, done: int, of: int, name: str = "") -> None:
    if of <= 1:
        click.echo(f"{name}{work}", err=True)
    elif done == of:
        click.echo(f"{name}{work}: {of} done", err=True)


class Undone(Enum):
    """What was not done because of problems."""

    NOTHING = ""
    BINDING = "bind"
    PROOF = "proof"
    HANDING_OVER = "handover"
    COUNTING = "takeoff"


def print_problems(
    problems: Iterable[Problem], project: Path, language: str = ENGLISH, undone: Undone = Undone.NOTHING
) -> None:
    """Print what has to be mended first, and what was therefore not done.

    In another language than English each begins with what its kind means: the keys of records stay English there.
    """
    problems = tuple(problems)
    say, told = tongue(language).say, tongue(language).told
    meanings = {kind.code: kind for kind in PROBLEM_KINDS} if language != ENGLISH else {}
    for problem in problems:
        where = click.style(str(project / str(problem.place)), bold=True)
        field, value, repair = (told(words) for words in (problem.field, problem.value, problem.repair))
        subject = f"{field}: {value}" if value else field
        click.echo(f"{where}: {click.style(problem.code, fg='red')}")
        if kind := meanings.get(problem.code):
            click.echo(textwrap.fill(say(kind.means), WIDTH, initial_indent="    ", subsequent_indent="    "))
        click.echo(
            textwrap.fill(f"{subject} — {told(problem.rule)}.", WIDTH, initial_indent="    ", subsequent_indent="    ")
        )
        click.echo(
            textwrap.fill(
                f"→ {repair}{'' if repair.endswith('?') else '.'}",
                WIDTH,
                initial_indent="    ",
                subsequent_indent="      ",
            )
        )
    if problems:
        count = say("1 problem") if len(problems) == 1 else say("{count} problems", count=len(problems))
        left = _undone(undone, say)
        click.echo(say("{count}. bookgen explain CODE says more about one.", count=f"{count}{left and f'; {left}'}"))


def _undone(undone: Undone, say: Say) -> str:
    match undone:
        case Undone.BINDING:
            return say("nothing was bound")
        case Undone.PROOF:
            return say("the book is as it was")
        case Undone.HANDING_OVER:
            return say("nothing was handed over")
        case Undone.COUNTING:
            return say("nothing was counted")
    return ""


def print_findings(findings: Iterable[Finding], project: Path, language: str = ENGLISH) -> None:
    """Print what the checks found, but for what is within the figures, in the language that it was found in."""
    say = tongue(language).say
    for finding in findings:
        if finding.severity is Severity.WITHIN:
            continue
        click.echo(f"{project / str(finding.place)}: {_grave(finding, say)}: {finding.code}: {finding.where}")
        measured = say(
            "Measured {measured}; asked {asked}: {source} ({sure}).",
            measured=finding.measured,
            asked=finding.asked,
            source=finding.source,
            sure=_sure(finding, say),
        )
        for line in (finding.spot, f"{_sentence(finding.says)}.", measured):
            if line:
                click.echo(textwrap.fill(line, WIDTH, initial_indent="    ", subsequent_indent="    "))
        hint = f"→ {_sentence(finding.hint)}."
        click.echo(textwrap.fill(hint, WIDTH, initial_indent="    ", subsequent_indent="      "))
        if finding.answered:
            answered = say(
                "answered by {by} on {day}: {paper}.",
                by=finding.answered.by,
                day=finding.answered.on.isoformat(),
                paper=finding.answered.paper,
            )
            click.echo(textwrap.fill(answered, WIDTH, initial_indent="    ", subsequent_indent="    "))


def _grave(finding: Finding, say: Say) -> str:
    match finding.severity:
        case Severity.STOP:
            return say("stop")
        case Severity.ASK:
            return say("ask")
    return say("note")


def _sure(finding: Finding, say: Say) -> str:
    """Return how sure a figure is, as a line of print has it."""
    match finding.sure:
        case "memory":
            return say("from memory: look it up")
        case "paraphrase":
            return say("retold: look it up")
        case "common practice":
            return say("common practice")
        case "official":
            return say("official")
        case "quoted":
            return say("quoted")
        case "computed":
            return say("computed")
    return say("measured")


def print_notes(notes: Iterable[str], project: Path, language: str = ENGLISH) -> None:
    """Print what is to be changed in the project record before a book goes out."""
    for note in notes:
        click.echo(f"{project / PROJECT_FILE}: {tongue(language).say('note')}")
        click.echo(textwrap.fill(f"{_sentence(note)}.", WIDTH, initial_indent="    ", subsequent_indent="    "))


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]


def tally(findings: tuple[Finding, ...], language: str = ENGLISH) -> str:
    """Return how many findings there are of each severity, in a sentence."""
    counts = {severity: sum(1 for f in findings if f.severity is severity) for severity in Severity}
    return tongue(language).say(
        "No problem in the records. {stop} to stop for, {ask} to ask about, {note} to note, {within} within what is "
        "asked. Check against your local code.",
        stop=counts[Severity.STOP],
        ask=counts[Severity.ASK],
        note=counts[Severity.NOTE],
        within=counts[Severity.WITHIN],
    )


def as_json(plain: dict[str, object]) -> str:
    """Return a report for programs."""
    return json.dumps(plain, indent=2, ensure_ascii=False)


def list_topics(pairs: Iterable[tuple[str, str]]) -> None:
    """Print (sort, name) pairs, every sort once with its names."""
    sorts: dict[str, list[str]] = {}
    for sort, name in pairs:
        sorts.setdefault(sort, []).append(name)
    for sort, names in sorts.items():
        listed = ", ".join(dict.fromkeys(names))
        click.echo(click.style(sort, bold=True))
        click.echo(textwrap.fill(listed, WIDTH, initial_indent="  ", subsequent_indent="  ", break_on_hyphens=False))


def wrapped(text: str) -> str:
    """Wrap the prose of a topic, paragraph by paragraph; lines that are indented stay lines of their own."""
    paragraphs: list[str] = []
    for line in text.splitlines():
        if line and paragraphs and paragraphs[-1] and not line.startswith(" ") and not paragraphs[-1].startswith(" "):
            paragraphs[-1] += f" {line}"
        else:
            paragraphs.append(line)
    return "\n".join(
        textwrap.fill(p, WIDTH, subsequent_indent="      " if p.startswith(" ") else "", break_on_hyphens=False)
        for p in paragraphs
    )
