"""A limit's id, a code and an edition -> the figure that code gives, its section, its source and how sure it is.

Editions that differ stand side by side. A limit is a figure to look up before the work, never a verdict: whoever
prints one adds "check against your local code".
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLES = (
    "limits-electrical.toml",
    "limits-building.toml",
    "limits-fire.toml",
    "limits-mechanical.toml",
    "limits-plumbing.toml",
    "limits-canada.toml",
)

# How many inches is one of the unit?
INCHES: Mapping[str, Fraction] = MappingProxyType(
    {"in": Fraction(1), "ft": Fraction(12), "mm": 1 / MILLIMETRES_PER_INCH, "m": 1000 / MILLIMETRES_PER_INCH}
)


class Sense(StrEnum):
    """How a measured value stands to the limit when it keeps to it."""

    AT_LEAST = "at least"
    AT_MOST = "at most"
    LESS_THAN = "less than"
    MORE_THAN = "more than"
    EXACTLY = "exactly"  # a figure to reckon with
    RULE = "rule"  # no figure: `applies` says it in words


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit of one code in the editions named.

    `value` is exact, in `unit`; both None for a rule in words. `editions` is empty where the page that gives the figure
    names no edition. `jurisdiction` is the place whose local change it is, None for the model code. `applies` says what
    the figure is of, `source` where the text was seen or who wrote it.
    """

    id: str
    code: str
    editions: tuple[str, ...]
    section: str
    applies: str
    sense: Sense
    value: Fraction | None
    unit: str | None
    jurisdiction: str | None
    note: str | None
    source: str
    sure: Sure

    @property
    def length(self) -> Length | None:
        """The limit as an exact length; None if it is no length."""
        if self.value is None or self.unit is None or self.unit not in INCHES:
            return None
        return Length(self.value * INCHES[self.unit])

    @property
    def citation(self) -> str:
        """Code, editions and section, as a finding names them: IRC 2009 P3005.2.5 (Minnesota)."""
        editions = f" {', '.join(self.editions)}" if self.editions else ""
        place = f" ({self.jurisdiction})" if self.jurisdiction else ""
        return f"{self.code}{editions} {self.section}{place}"


@dataclass(frozen=True, slots=True)
class _LimitRow(Limit):
    """A Limit as the tables write it: editions known only from memory stand apart from those seen."""

    editions_from_memory: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CodeBook:
    """Every limit held, and which edition of each code the local authority works from.

    `adopted` pairs a code with an edition: (("IRC", "2021"), ("NEC", "2023")).
    """

    rows: tuple[Limit, ...]
    adopted: tuple[tuple[str, str], ...]

    def find(self, id: str, code: str, edition: str, jurisdiction: str | None = None) -> Limit | None:  # noqa: A002
        """Return limit *id* of *code* in *edition*, with the change *jurisdiction* made to it if it made one.

        Falls back on a row whose source names no edition. None if we hold no figure, which never means there is none.
        """
        candidates = [row for row in self.rows if row.id == id and row.code == code]
        for place in dict.fromkeys((jurisdiction, None)):
            for wanted in ((edition,), ()):
                for row in candidates:
                    if row.jurisdiction == place and (edition in row.editions if wanted else not row.editions):
                        return row
        return None

    def governing(self, id: str, jurisdiction: str | None = None) -> tuple[Limit, ...]:  # noqa: A002
        """Return limit *id* in each adopted code that holds it, in the order the codes were adopted."""
        found = (self.find(id, code, edition, jurisdiction) for code, edition in self.adopted)
        return tuple(row for row in found if row is not None)

    def editions(self, id: str) -> tuple[Limit, ...]:  # noqa: A002 (an id is what it is)
        """Return limit *id* in every code, edition and jurisdiction held, side by side."""
        return tuple(row for row in self.rows if row.id == id)

    def known_editions(self, code: str) -> tuple[str, ...]:
        """Return the editions of *code* that any row names, oldest first; empty for an unknown code."""
        return tuple(sorted({edition for row in self.rows if row.code == code for edition in row.editions}))

    def near(self, id: str) -> tuple[str, ...]:  # noqa: A002 (an id is what it is)
        """Return the ids that look most like *id*, for a Problem's hint."""
        return words.near(id, dict.fromkeys(row.id for row in self.rows))


def limits(code_editions: Mapping[str, str] | None = None) -> CodeBook:
    """Return the book of limits for the editions adopted, such as {"IRC": "2021", "NEC": "2023"}.

    Editions are text. An edition or code we hold nothing of is no error here: `known_editions` tells.
    """
    return CodeBook(_rows(), tuple((code_editions or {}).items()))


@cache
def _rows() -> tuple[Limit, ...]:
    return tuple(limit for file in TABLES for row in read_rows(file, "limit", _LimitRow) for limit in _limits(row))


def _limits(row: _LimitRow) -> tuple[Limit, ...]:
    """Return the row as one Limit, and a second, marked from memory, for the editions that were not seen."""
    seen = Limit(**{field.name: getattr(row, field.name) for field in fields(Limit)})
    if not row.editions_from_memory:
        return (seen,)
    source = f"{row.code} {row.section}, these editions not seen"
    return (seen, replace(seen, editions=row.editions_from_memory, source=source, sure=Sure.MEMORY))
