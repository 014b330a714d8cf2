"""Lengths, heights, dates and evidence in, finished words out, in the book's units and language."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from bookgen.compose.terms import Terms, terms
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.records import Project as ProjectRecord
from bookgen.model.records.inside import Known
from bookgen.model.records.values import Interval, Size
from bookgen.model.tape import Tape, Units

MONTHS_A_YEAR = 12
AT_THE_FLOOR = Fraction(1, 4)  # inches; what is nearer to a floor or a ceiling is at it
ROUGH_PARTS = 4  # of an inch
ROUGH_MILLIMETRES = Fraction(5)
ROUGHLY_MILLIMETRES = Fraction(25)
SURE = frozenset({"measured", "photo"})


def sentence_case(words: str) -> str:
    """Return *words* with a capital first letter."""
    return words[:1].upper() + words[1:]


def _whole(value: Fraction, step: Fraction) -> Fraction:
    return floor(value / step + Fraction(1, 2)) * step


@dataclass(frozen=True, slots=True)
class Show:
    """How this book writes what was measured; *guessed* is true for what nobody has measured or seen."""

    units: Units
    terms: Terms
    guessed: bool = False

    @property
    def tape(self) -> Tape:
        """Return the tape that this book's lengths are read on."""
        return Tape(self.units)

    def length(self, length: Length) -> str:
        """Return a length: feet and inches from 36 in up, inches below; or millimetres."""
        return self.tape.plain(length)

    def inches(self, value: Fraction) -> str:
        """Return a length given as a number of inches."""
        return self.length(Length(value))

    def of(self, known: Known) -> Show:
        """Return how to write figures that are known like that: an assumed one must not look measured."""
        return replace(self, guessed=known.how not in SURE)

    def size_of(self, length: Length) -> str:
        """Return a size: as exact as a tape reads it, or about."""
        return self.about(length.inches) if self.guessed else self.length(length)

    def about(self, value: Fraction) -> str:
        """Return a length for finding something by tape: to the nearest 1/4 in or 5 mm; a half goes up.

        What nobody has measured is given to the nearest inch or 25 mm, and said to be about that.
        """
        if self.guessed:
            return self.terms["about"].format(length=self._stepped(value, Fraction(1), ROUGHLY_MILLIMETRES))
        return self._stepped(value, Fraction(1, ROUGH_PARTS), ROUGH_MILLIMETRES)

    def _stepped(self, value: Fraction, step: Fraction, millimetres: Fraction) -> str:
        """Return a length in whole steps of each unit that this book tells."""
        told = (
            Tape("imperial").plain(_whole(value, step)),
            Tape("metric").plain(_whole(value, millimetres / MILLIMETRES_PER_INCH)),
        )
        return self.tape.either(*told)

    def over_floor(self, value: Fraction) -> str:
        """Return a height over the finished floor, as found by tape; what lies lower is at the floor."""
        return self.terms["at the floor"] if value <= AT_THE_FLOOR else self.about(value)

    def size(self, size: Size) -> str:
        """Return width by height."""
        inches = Tape("imperial")
        return self.tape.either(
            f"{inches.short(size.wide)}\u00a0×\u00a0{inches.short(size.high)}",
            f"{size.wide.to_millimetres()}\u00a0×\u00a0{size.high.to_millimetres()}\u00a0mm",
        )

    def number(self, value: Fraction | int, places: int = 0) -> str:
        """Return a number to so many places at the most, as the language writes numbers: 1,234.5."""
        return self.terms.tongue.number(value, places)

    def say(self, english: str, /, **gaps: object) -> str:
        """Return a sentence of the tables or of another room in the book's language."""
        return self.terms.tongue.say(english, **gaps)

    def name(self, english: str) -> str:
        """Return what the book's language calls a part, a face, a size or a stock of the program's."""
        return self.terms.tongue.name(english)

    def source(self, english: str) -> str:
        """Return how the book's language cites a source."""
        return self.terms.tongue.source(english)

    def part(self, english: str) -> str:
        """Return where a piece goes: 01-drain bottom rail."""
        return self.terms.tongue.part(english)

    def record(self, key: str) -> str:
        """Return what a record goes by in a list."""
        return self.terms.tongue.record(key)

    def stock(self, english: str) -> str:
        """Return what the book calls a stock, in its units and its language."""
        return self.name(self.tape.stock(english))

    def stretch(self, low: Fraction, high: Fraction) -> str:
        """Return from one length to another, as found by tape."""
        return self.terms["stretch"].format(low=self.about(low), high=self.about(high))

    def day(self, day: datetime.date) -> str:
        """Return a date with its month in words: June 12, 2026."""
        return self.terms.tongue.day(day)

    def month(self, number: int) -> str:
        """Return the name of a month, 1 to 12."""
        return self.terms.tongue.forms.months[number - 1]

    def month_of(self, day: datetime.date) -> str:
        """Return the month that a day is in, with its year: June 2026."""
        return self.terms.tongue.month(day)

    def known(self, known: Known) -> str:
        """Return how and since when a fact is known: measured March 30, 2026."""
        word = self.terms[f"known {known.how}"]
        return f"{word} {self.day(known.on)}" if known.on else word

    def every(self, interval: Interval) -> str:
        """Return how often: every month, every 3 months, every year, every 10 years."""
        years, months = divmod(interval.months, MONTHS_A_YEAR)
        if months == 0:
            return self.terms["every year"] if years == 1 else self.terms["every years"].format(count=years)
        if interval.months == 1:
            return self.terms["every month"]
        return self.terms["every months"].format(count=interval.months)


def show_of(record: ProjectRecord) -> Show:
    """Return how a project's books write: in its units and its language."""
    return Show(record.units, terms(record.language))
