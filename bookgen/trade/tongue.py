"""A language's code -> how it says what the program says: sentences of ours, dates and numbers.

What the rooms and the tables say is written in English where it belongs, and that English is the key of its
translations: `tongues/<code>.toml` holds each sentence with its gaps, `{so}`, beside what the language makes of it.
So a sentence that is changed in English has no translation until somebody has read it again, and a test says which;
for cautions that matters most.
"""

from __future__ import annotations

import datetime
import re
import tomllib
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import field
from fractions import Fraction
from functools import cache
from importlib.resources import files
from math import floor
from string import Formatter
from types import MappingProxyType
from typing import Any, Protocol

from bookgen.model.frozen import dataclass

ENGLISH = "en"
LAST = "\uffff"  # sorts behind every letter
LANGUAGES = (ENGLISH, "es")
# What do some gaps of a pattern hold? Digits, a key of a record, a length or a number with its unit.
GAPS = {"number": r"\d+", "key": "[^:]+", "size": r"[\u2212-]?\d.*", "low": r"[\u2212-]?\d.*"}
# Which gaps hold what somebody has written, or is to write, in a record? It is the same in every language.
WRITTEN = {"another", "example", "form", "key", "keys", "name", "names", "value"}
OURS = ("ceiling-", "lining-", "partition-")  # keys of work that has no record of its own


Patterns = tuple[tuple[re.Pattern[str], str], ...]


class Say(Protocol):
    """What says an English sentence of ours in one language."""

    def __call__(self, english: str, /, **gaps: object) -> str:
        """Return the sentence in that language, its gaps filled."""


@dataclass(frozen=True, slots=True)
class Forms:
    """How a language writes dates and numbers (Unicode CLDR); *day* and *month* are sentences with gaps.

    *letters* are those that count as letters of their own, each with the one that it comes after: ñ after n.
    """

    day: str
    month: str
    decimal: str
    thousands: str
    months: tuple[str, ...]
    letters: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Tongue:
    """One language; *words* has a translation for each English sentence of ours; English has none.

    *names*, *sources* and *tellings* are patterns of English names, of sources and of what problems tell, each with
    what the language makes of it.
    """

    code: str
    forms: Forms
    words: Mapping[str, str] = field(repr=False)
    names: Patterns = field(default=(), repr=False)
    sources: Patterns = field(default=(), repr=False)
    tellings: Patterns = field(default=(), repr=False)

    def say(self, english: str, /, **gaps: object) -> str:
        """Return a sentence of ours in this language with its gaps filled; one without a translation in English."""
        return self.words.get(english, english).format(**gaps)

    def whole(self, english: str) -> str:
        """Return a text of ours without gaps in this language: braces in it are its own, such as those of a record."""
        return self.words.get(english, english)

    def name(self, english: str) -> str:
        """Return what this language calls a part, a face, a size or a stock; what a record has named stays as it is.

        Inside the program such things go by their English names, since they are known by them: `bottom, west part`.
        """
        return _formed(english, self.names)

    def source(self, english: str) -> str:
        """Return how this language cites a source; the names of codes, papers and places stay as they are."""
        return "; ".join(_formed(part, self.sources) for part in english.split("; "))

    def told(self, english: str) -> str:
        """Return a rule, a repair or a value of a problem in this language; what a record has written stays as it is.

        A problem is raised before anybody knows the language of the job, so its English is told again here: what stands
        in the gaps of a sentence is taken out of it, told by itself, and put into the gaps of the translation.
        """
        return _formed(english, self.tellings, self._described)

    def _described(self, english: str) -> str | None:
        """Return what a field means, as `add joists: how the floor above is carried` has it within its sentence."""
        for whole in (english, f"{english}."):
            said = self.words.get(f"{whole[:1].upper()}{whole[1:]}")
            if said is not None:
                return f"{said[:1].lower()}{said[1:]}".rstrip(".")
        return None

    def part(self, english: str) -> str:
        """Return where a piece goes, its record's key and then a part's name: 01-drain bottom rail."""
        key, blank, name = english.partition(" ")
        return f"{self.record(key)}{blank}{self.name(name)}"

    def record(self, key: str) -> str:
        """Return what a record goes by in a list: its file, or what the program calls a wall or a ceiling."""
        return self.name(key) if key.startswith(OURS) else key

    def order(self, word: str) -> tuple[str, str]:
        """Return what a word is sorted by in a list: its letters without accents first (Unicode CLDR, collation)."""
        folded = word.casefold()
        for letter, after in self.forms.letters:
            folded = folded.replace(letter, f"{after}{LAST}")
        plain = "".join(sign for sign in unicodedata.normalize("NFD", folded) if not unicodedata.combining(sign))
        return plain, word

    def initial(self, word: str) -> str:
        """Return the letter that a word stands under in an index; # for a digit or a sign."""
        first = word[:1].casefold()
        if first not in dict(self.forms.letters):
            first = unicodedata.normalize("NFD", first)[:1]
        return first.upper() if first.isalpha() else "#"

    def day(self, day: datetime.date) -> str:
        """Return a date with its month in words: June 12, 2026."""
        return self.forms.day.format(day=day.day, month=self.forms.months[day.month - 1], year=day.year)

    def month(self, day: datetime.date) -> str:
        """Return the month that a day is in, with its year: June 2026."""
        return self.forms.month.format(month=self.forms.months[day.month - 1], year=day.year)

    def number(self, value: Fraction | int, places: int = 0) -> str:
        """Return a number to so many places at the most, a half going up: 1,234.5."""
        scaled = floor(abs(value) * 10**places + Fraction(1, 2))
        whole, rest = divmod(scaled, 10**places)
        decimals = f"{rest:0{places}d}".rstrip("0") if places else ""
        sign = "\u2212" if value < 0 and scaled else ""
        grouped = f"{whole:,}".replace(",", self.forms.thousands)
        return f"{sign}{grouped}{self.forms.decimal if decimals else ''}{decimals}"


def _unknown(_english: str) -> None:
    """Know nothing that is said as a whole."""


def _formed(english: str, patterns: Patterns, whole: Callable[[str], str | None] = _unknown) -> str:
    """Return what the first pattern that fits makes of a text, and of what stands in its gaps in turn."""
    said = whole(english)
    if said is not None:
        return said
    for pattern, form in patterns:
        match = pattern.fullmatch(english)
        if match:
            gaps = match.groupdict().items()
            return form.format(
                **{gap: text if gap in WRITTEN else _formed(text, patterns, whole) for gap, text in gaps}
            )
    return english


@cache
def tongue(code: str) -> Tongue:
    """Return a language by its code; one without a file is our own bug (FileNotFoundError)."""
    data = _document(code)
    forms = data.pop("forms")
    called = {table: data.pop(table, {}) for table in ("names", "sources", "told")}
    names, sources = _patterns(called["names"]), _patterns(called["sources"])
    tellings = _patterns({**called["names"], **called["told"]})
    words = {english: said for section in data.values() for english, said in section.items()}
    return Tongue(
        code,
        Forms(
            forms["day"],
            forms["month"],
            forms["decimal"],
            forms["thousands"],
            tuple(forms["months"]),
            tuple(forms.get("letters", {}).items()),
        ),
        MappingProxyType(words),
        names,
        sources,
        tellings,
    )


def _document(code: str) -> dict[str, dict[str, Any]]:
    """Return a language's tables by their names: those of its file, and of the files beside it, es-findings.toml."""
    folder = files("bookgen.trade").joinpath("tongues")
    beside = sorted(one.name for one in folder.iterdir() if re.fullmatch(rf"{code}-\w+\.toml", one.name))
    data: dict[str, dict[str, Any]] = {}
    for name in (f"{code}.toml", *beside):
        for table, rows in tomllib.loads(folder.joinpath(name).read_text("utf-8")).items():
            data.setdefault(table, {}).update(rows)
    return data


def _patterns(forms: Mapping[str, str]) -> Patterns:
    """Return what finds each name, the most particular first, with what a language makes of it."""
    return tuple((_pattern(english), forms[english]) for english in sorted(forms, key=_particular, reverse=True))


def _particular(english: str) -> tuple[bool, int]:
    """Return what a name is taken before others by: without gaps, and by its letters outside of gaps."""
    pieces = list(Formatter().parse(english))
    return all(gap is None for _, gap, _, _ in pieces), sum(len(text) for text, *_ in pieces)


def _pattern(english: str) -> re.Pattern[str]:
    """Return what finds a name with its gaps; what some gaps take is in `GAPS`."""
    parts = []
    for text, gap, _, _ in Formatter().parse(english):
        parts.append(re.escape(text))
        if gap:
            parts.append(f"(?P<{gap}>{GAPS.get(gap, '.+')})")
    return re.compile("".join(parts))
