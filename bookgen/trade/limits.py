"""A limit's id, a code and an edition -> the figure that code gives, its section, its source and how sure it is.

Editions that differ stand side by side. A limit is a figure to look up before the work, never a verdict: whoever
prints one adds "check against your local code".
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields, replace
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from bookgen.model.frozen import dataclass
from bookgen.model.length import MILLIMETRES_PER_INCH, Length, LengthError, parse_length
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
LOCAL = "local"  # the code of a figure that the records themselves give


class LocalLimitError(ValueError):
    """A local figure that can't be one: the problem's *code*, the *rule* it breaks, and the *repair* or ""."""

    def __init__(self, code: str, rule: str, repair: str) -> None:
        super().__init__(rule)
        self.code, self.rule, self.repair = code, rule, repair


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
        return f"{self.code}{editions} {self.section}{place}".strip()

    @property
    def cited(self) -> str:
        """The citation as a finding prints it: without an edition it says so; with who posted an official text.

        Pages that only quote or retell a code are not named there; the row's own `source` has them.
        """
        if self.code == LOCAL:
            return self.source
        named = self.citation if self.editions or self.jurisdiction else f"{self.citation}, edition not named"
        if self.sure is not Sure.OFFICIAL:
            return named
        head, _, posted = self.source.partition(", ")
        own = head.startswith(self.code) or self.section in head
        return f"{named}, {posted}" if own and posted else f"{named}; {self.source}"


@dataclass(frozen=True, slots=True)
class _LimitRow(Limit):
    """A Limit as the tables write it: editions known only from memory stand apart from those seen."""

    editions_from_memory: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CodeBook:
    """Every limit held, and which edition of each code the local authority works from.

    `adopted` pairs a code with an edition: (("IRC", "2021"), ("NEC", "2023")). `jurisdiction` is the place whose own
    changes count, where rows of it are held; `local` are the figures that the records themselves give, and they go
    before all others.
    """

    rows: tuple[Limit, ...]
    adopted: tuple[tuple[str, str], ...]
    jurisdiction: str | None = None
    local: tuple[Limit, ...] = ()

    def find(self, id: str, code: str, edition: str, jurisdiction: str | None = None) -> Limit | None:  # noqa: A002
        """Return limit *id* of *code* in *edition*, with the change *jurisdiction* made to it if it made one.

        Falls back on a row whose source names no edition. None if we hold no figure, which never means there is none.
        """
        candidates = [row for row in _by_id().get(id, ()) if row.code == code]
        for place in dict.fromkeys((jurisdiction, None)):
            for wanted in ((edition,), ()):
                for row in candidates:
                    if row.jurisdiction == place and (edition in row.editions if wanted else not row.editions):
                        return row
        return None

    def governing(self, id: str) -> tuple[Limit, ...]:  # noqa: A002 (an id is what it is)
        """Return limit *id* in each adopted code that holds it, in the order the codes were adopted; local ones first.

        A row names the adopted edition only, where it was held for several.
        """
        found = ((self.find(id, code, edition, self.jurisdiction), edition) for code, edition in self.adopted)
        adopted = (
            replace(row, editions=(edition,)) if edition in row.editions else row
            for row, edition in found if row is not None
        )  # fmt: skip
        return (*(row for row in self.local if row.id == id), *adopted)

    def held(self, id: str) -> Limit | None:  # noqa: A002 (an id is what it is)
        """Return the figure that governs, or where no adopted code holds it, the first one held of any code."""
        found = self.governing(id) or self.editions(id)
        return found[0] if found else None

    def editions(self, id: str) -> tuple[Limit, ...]:  # noqa: A002 (an id is what it is)
        """Return limit *id* in every code, edition and jurisdiction held, side by side."""
        return _by_id().get(id, ())

    def jurisdictions(self) -> tuple[str, ...]:
        """Return the places whose own changes are held."""
        return tuple(sorted({row.jurisdiction for row in self.rows if row.jurisdiction}))

    def known_editions(self, code: str) -> tuple[str, ...]:
        """Return the editions of *code* that any row names, oldest first; empty for an unknown code."""
        return tuple(sorted({edition for row in self.rows if row.code == code for edition in row.editions}))

    def near(self, id: str) -> tuple[str, ...]:  # noqa: A002 (an id is what it is)
        """Return the ids that look most like *id*, for a Problem's hint."""
        return words.near(id, dict.fromkeys(row.id for row in self.rows))


def limits(
    code_editions: Mapping[str, str] | None = None, jurisdiction: str | None = None, local: tuple[Limit, ...] = ()
) -> CodeBook:
    """Return the book of limits for the editions adopted, such as {"IRC": "2021", "NEC": "2023"}.

    Editions are text. An edition or code we hold nothing of is no error here: `known_editions` tells.
    """
    return CodeBook(_rows(), tuple((code_editions or {}).items()), jurisdiction, local)


def local_limit(id: str, text: str, ordinance: str) -> Limit:  # noqa: A002 (an id is what it is)
    """Return the figure that a place asks instead of the code's, as its records give it: `egress-sill`, `48 in`.

    Raises LocalLimitError for an id that no table has, a rule without a figure, and a figure of the wrong kind.
    """
    held = _by_id().get(id, ())
    if not held:
        raise LocalLimitError("unknown-limit", "no limit has this key", "")
    like = next((row for row in held if row.unit is not None), None)
    if like is None or like.unit is None:
        raise LocalLimitError("limit-without-figure", f"{id} is a rule in words, so no figure can replace it", "")
    value, unit = _figure(text, like.unit)
    return replace(
        like, code=LOCAL, editions=(), section="", value=value, unit=unit, jurisdiction=None, note=None,
        source=ordinance, sure=Sure.QUOTED,
    )  # fmt: skip


def _figure(text: str, unit: str) -> tuple[Fraction, str]:
    """Return a figure as written and its unit: any unit of length where a length is asked, else the table's own."""
    if unit in INCHES:
        try:
            return parse_length(text).inches, "in"
        except LengthError as problem:
            raise LocalLimitError(
                "limit-of-another-kind", "this limit is a length", "write it such as 48 in"
            ) from problem
    match = re.fullmatch(rf"([0-9]+(?:\.[0-9]+)?) {re.escape(unit)}", text)
    if match is None:
        rule = f"this limit counts in {unit}"
        raise LocalLimitError("limit-of-another-kind", rule, f"write the figure and then {unit}")
    return Fraction(match[1]), unit


@cache
def _rows() -> tuple[Limit, ...]:
    return tuple(limit for file in TABLES for row in read_rows(file, "limit", _LimitRow) for limit in _limits(row))


@cache
def _by_id() -> Mapping[str, tuple[Limit, ...]]:
    found: dict[str, list[Limit]] = {}
    for row in _rows():
        found.setdefault(row.id, []).append(row)
    return MappingProxyType({id_: tuple(rows) for id_, rows in found.items()})


def _limits(row: _LimitRow) -> tuple[Limit, ...]:
    """Return the row as one Limit, and a second, marked from memory, for the editions that were not seen."""
    seen = Limit(**{field.name: getattr(row, field.name) for field in fields(Limit)})
    if not row.editions_from_memory:
        return (seen,)
    source = f"{row.code} {row.section}, these editions not seen"
    return (seen, replace(seen, editions=row.editions_from_memory, source=source, sure=Sure.MEMORY))
