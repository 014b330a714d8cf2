"""Problems and findings as values: what is wrong, where, by which rule, and what to do next.

A Problem is a person's mistake in the records: nothing is bound until it is mended. A Finding is what a check saw
on the solved level: it never stops a bind.
"""

from __future__ import annotations

import datetime
from collections.abc import Iterable
from enum import Enum

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.place import Place


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One mistake. *code* is kebab-case and permanent, listed in `bookgen.model.problem_kinds`.

    *field* is the record path as a person would say it ("inside 2 > at > above slab"), *value* what stands there,
    *rule* what it breaks, *repair* what to write instead. All of it is in English: nobody knows the language of the job
    before its record is read, so `Tongue.told` tells it in that.
    """

    place: Place
    code: str
    field: str
    value: str
    rule: str
    repair: str

    def __str__(self) -> str:
        subject = f"{self.field}: {self.value}" if self.value else self.field
        return f"{self.place}: {self.code}: {subject}: {self.rule}; {self.repair}"


def said(path: tuple[str | int, ...]) -> str:
    """Return a path as a person would say it: inside 2 > at > above slab; list items count from 1."""
    words: list[str] = []
    for step in path:
        if isinstance(step, str):
            words.append(step)
        elif words:
            words[-1] = f"{words[-1]} {step + 1}"
        else:
            words.append(f"item {step + 1}")
    return " > ".join(words) or "the record"


class Severity(Enum):
    """How far a finding reaches."""

    STOP = "stop"  # do not frame this before somebody has answered
    ASK = "ask"  # ask the trade or the building department named
    NOTE = "note"  # know it, and go on
    WITHIN = "within"  # measured, and within what was asked


@dataclass(frozen=True, slots=True)
class Settled:
    """Who has answered a finding, when, and on which paper; it makes the finding no less grave."""

    by: str
    on: datetime.date
    paper: str

    def __str__(self) -> str:
        return f"answered by {self.by} on {self.on.isoformat()}: {self.paper}"


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check measured. *measured* and *asked* are finished words, *where* names the thing or room.

    *spot* says where on the level that is; "" where it is no one place. *figure* is what was asked, where that is a
    length.
    """

    code: str
    severity: Severity
    place: Place
    where: str
    says: str
    measured: str
    asked: str
    source: str
    sure: str
    hint: str
    answered: Settled | None = None
    spot: str = ""
    figure: Length | None = None

    def __str__(self) -> str:
        return f"{self.place}: {self.severity.value}: {self.code}: {self.where}: {self.says}; {self.hint}"


def unanswered_stops(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Return what says stop and nobody has answered: it keeps a parcel back, and stands under the remaining hazards."""
    return tuple(one for one in findings if one.severity is Severity.STOP and one.answered is None)
