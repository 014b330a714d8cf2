"""A project folder in, what `check` tells of it out; where nothing has changed since the last time, as kept then."""

from __future__ import annotations

import datetime
import json
from contextlib import suppress
from dataclasses import asdict, dataclass
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Any

from bookgen.cache import known_cache, working_cache
from bookgen.model.length import Length
from bookgen.model.place import Place
from bookgen.model.problem import Finding, Problem, Settled, Severity
from bookgen.render.kept import keep_bytes, kept_bytes
from bookgen.trade.tongue import ENGLISH, tongue
from bookgen.unchanged import digest_of

if TYPE_CHECKING:
    from bookgen.model.project import Project  # a kept report is told without the models of the records

KEPT = "reports"


@dataclass(frozen=True, slots=True)
class Report:
    """Every problem and finding of a project, what its record has left of the example, and what might be chosen.

    *deciding* is for programs, what might be chosen and what lines followed; *words* say the same to a person. All but
    the problems is in *language*.
    """

    problems: tuple[Problem, ...]
    findings: tuple[Finding, ...]
    notes: tuple[str, ...]
    deciding: dict[str, list[dict[str, object]]]
    words: tuple[str, ...]
    language: str = ENGLISH

    def plain(self) -> dict[str, object]:
        """Return it for programs; places are written from the project folder."""
        return {
            "problems": [asdict(one) for one in self.problems],
            "findings": [plain_finding(one) for one in self.findings],
            "notes": list(self.notes),
            **self.deciding,
        }


def report(folder: Path) -> Report:
    """Read, solve and check a project folder; raises OSError only where the machine is in the way."""
    digest = _digest(folder)
    kept = _kept(digest) if digest is not None else None
    if kept is not None:
        return kept
    made = _made(folder)
    if digest is not None and _digest(folder) == digest:  # nobody has saved a record in the meantime
        _keep(digest, made)
    return made


def _digest(folder: Path) -> str | None:
    return digest_of(folder, str(folder), str(folder.resolve()))  # the words that are told name it


def _made(folder: Path) -> Report:
    # What reads and solves loads only when there is something to work out.
    from bookgen.check import choices, look_over
    from bookgen.choosing import line_words, lines, plain, plain_lines
    from bookgen.desk.start import left_over
    from bookgen.look import every_look
    from bookgen.memory import remembering
    from bookgen.read import book_language

    with working_cache(_unsaid) as store:
        with remembering(store, folder) as memory:
            seen, words = look_over(folder, memory), []
        looks = every_look(seen.project, store) if seen.project else ()
    solved, undecided = seen.solved, choices(seen)
    if seen.project:
        words += [line for one in undecided for line in lines(one, seen.project, folder)]
    deciding = {
        "choices": [plain(one) for one in undecided],
        "lines": plain_lines(solved) if solved else [],
    }
    words += line_words(solved, folder) if solved else ()
    notes = (*left_over(solved.project.record), *_missed(solved.project)) if solved else ()
    language = seen.project.record.language if seen.project else book_language(folder)
    problems = tuple(sorted((*seen.problems, *looks)))
    return Report(problems, seen.findings, notes, deciding, tuple(words), language)


def _missed(project: Project) -> tuple[str, ...]:
    """Return a note for each text that the book has to take from another language."""
    language = project.record.language
    return tuple(
        tongue(language).say(
            "{place}: this text is not there in {language}, so the book has it as it stands; write it under "
            "{language}:",
            place=f"{place.file}:{place.line}",
            language=language,
        )
        for place in project.missed
    )


def _kept(digest: str) -> Report | None:
    """Return the report that is kept under a digest; None where there is none, or none that is whole."""
    with suppress(OSError):
        kept = kept_bytes(known_cache().sort(KEPT) / digest)
        if kept is not None:
            data = json.loads(kept)
            return Report(
                tuple(_problem(one) for one in data["problems"]),
                tuple(finding_from(one) for one in data["findings"]),
                tuple(data["notes"]),
                data["deciding"],
                tuple(data["words"]),
                data["language"],
            )
    return None


def _keep(digest: str, made: Report) -> None:
    """Keep a report as all else is kept; where that can't be, it is worked out again the next time."""
    data = json.dumps(
        made.plain() | {"deciding": made.deciding, "words": made.words, "language": made.language}
    ).encode()
    with suppress(OSError), working_cache(_unsaid) as store:
        keep_bytes(store.sort(KEPT) / digest, data)


def _unsaid(_what: str, _done: int, _whole: int) -> None:
    """Say nothing of the cache: a report stands without it."""


def plain_finding(finding: Finding) -> dict[str, object]:
    """Return a finding as plain data."""
    data = asdict(finding)
    data["severity"] = finding.severity.value
    data["figure"] = str(finding.figure.inches) if finding.figure else None  # an exact number of inches, as text
    if finding.answered:
        data["answered"]["on"] = finding.answered.on.isoformat()
    return data


def _problem(data: dict[str, Any]) -> Problem:
    return Problem(**data | {"place": Place(**data["place"])})


def finding_from(data: dict[str, Any]) -> Finding:
    """Return the finding that `plain_finding` has made plain data of."""
    answered = data["answered"]
    if answered is not None:
        answered = Settled(**answered | {"on": datetime.date.fromisoformat(answered["on"])})
    figure = Length(Fraction(data["figure"])) if data["figure"] is not None else None
    own = {"place": Place(**data["place"]), "severity": Severity(data["severity"])}
    return Finding(**data | own | {"answered": answered, "figure": figure})
