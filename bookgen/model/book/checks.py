"""What was checked as data: what each check found, and the reference that says what every check asks."""

from __future__ import annotations

from bookgen.model.frozen import dataclass


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One finding as printed: severity word, what, where, measured, asked, source, what to do.

    *answered* says who has settled it; "" where nobody has.
    """

    severity: str
    says: str
    where: str
    measured: str
    asked: str
    source: str
    hint: str
    answered: str = ""


@dataclass(frozen=True, slots=True)
class CheckSet:
    """Findings of one check; what all its rows share stands here once, and is "" in the rows."""

    check: str
    asked: str
    source: str
    hint: str
    rows: tuple[CheckRow, ...]


@dataclass(frozen=True, slots=True)
class CheckGroup:
    """Findings of one severity by their checks, under a title that counts them."""

    title: str
    says: str
    sets: tuple[CheckSet, ...]


@dataclass(frozen=True, slots=True)
class CheckFigure:
    """One figure that a check holds things against: what is asked, of what, and by whom."""

    asks: str
    of: str
    source: str


@dataclass(frozen=True, slots=True)
class CheckEntry:
    """One check of the appendix: its name, what it finds, what it passes over, what it finds, its notes and figures."""

    check: str
    says: str
    quiet: tuple[str, ...]
    found: tuple[str, ...]
    notes: str
    figures: tuple[CheckFigure, ...]
