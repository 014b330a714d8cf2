"""A length in, the words for it out, in the units that a project is measured in: the one place that chooses them."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from math import floor
from typing import Literal

from bookgen.model.frozen import dataclass
from bookgen.model.length import (
    INCHES_PER_FOOT,
    MILLIMETRES_PER_INCH,
    Length,
    show_feet,
    show_inches,
    show_millimetres,
)

Units = Literal["imperial", "metric", "both"]

SQUARE_FOOT = Fraction(144)  # square inches
SQUARE_METRE = Fraction(1000, Fraction("25.4")) ** 2  # square inches
_BOARD = re.compile(r"(?P<thick>\d+(?:/\d+)?) in (?P<kind>.*\bboard\b.*)")
IN_FEET_FROM = Fraction(36)  # inches; shorter lengths read better in inches alone
# Lengths within a sentence of ours: 36 in, 16 to 32 in, 12 x 14 in, 10 ft; and what is called by inches everywhere.
_NUMBER = r"(?:\d+[ -])?\d+/\d+|\d+(?:\.\d+)?"
_LENGTHS = re.compile(
    rf"(?<![\w/.,-])(?P<numbers>(?:{_NUMBER})(?: (?:to|a|x|×) (?:{_NUMBER}))*) (?P<unit>in|ft)\b(?! per\b)"
)
_FEET_AND_INCHES = re.compile(rf"(?<![\w/.,-])(?P<feet>\d+) ft (?P<inches>{_NUMBER}) in\b")
_SQUARE_FEET = re.compile(r"(?<![\w/.,-])(?P<number>\d+(?:\.\d+)?) sq ft\b")
_PIPE_BEFORE = re.compile(r"\b(?:pipe|tubo)\b:?(?: [a-zá-ú]+){0,3} $")
_PIPE_AFTER = re.compile(r" (?:ABS|copper|CPVC|drain|PEX|pipe|PVC)\b")
# What do packs hold where they are sold by feet, gallons, pounds and ounces, in metres, litres and kilograms?
_PACKS = (
    ("square feet", "m²", Fraction(9290304, 10**8)),  # 0.3048 m squared
    ("ft", "m", Fraction(3048, 10**4)),
    ("gal", "l", Fraction(3785411784, 10**9)),  # US gallon: NIST SP 811, from memory
    ("lb", "kg", Fraction(45359237, 10**8)),
    ("oz", "l", Fraction(29573529, 10**9)),  # fluid ounce
)


@dataclass(frozen=True, slots=True)
class Tape:
    """The tape that a project is measured with; a plain number given to it is a number of inches.

    Every length is rounded here, once: to 1/16 in or to whole millimetres, a half going up. With both units each is
    rounded by itself: 1 1/2 in (38 mm).
    """

    units: Units = "imperial"

    @property
    def metric(self) -> bool:
        """Return whether millimeters are what this tape is marked in first."""
        return self.units == "metric"

    def short(self, value: Length | Fraction) -> str:
        """Return a length in inches alone, or in millimetres: sizes of stock, gaps, thicknesses."""
        return self._marks(_length(value), show_inches)

    def long(self, value: Length | Fraction) -> str:
        """Return a length in feet and inches, or in millimetres: heights and stations."""
        return self._marks(_length(value), show_feet)

    def plain(self, value: Length | Fraction) -> str:
        """Return a length as it reads best: in feet and inches from 36 in up, in inches below; or in millimetres."""
        return self.long(value) if abs(_length(value).inches) >= IN_FEET_FROM else self.short(value)

    def area(self, square_inches: Fraction) -> str:
        """Return an area given in square inches as square feet or square metres, to a tenth; a half goes up."""
        feet, metres = (floor(square_inches / each * 10 + Fraction(1, 2)) / 10 for each in (SQUARE_FOOT, SQUARE_METRE))
        return self.either(f"{feet} sq ft", f"{metres} m²")

    def stock(self, name: str) -> str:
        """Return what a stock is called: board by its thickness on this tape; lumber as it is sold, 2x4 everywhere."""
        match = _BOARD.fullmatch(name)
        if match is None:
            return name
        thick = f"{float(round(Fraction(match['thick']) * MILLIMETRES_PER_INCH, 1)):g}\u00a0mm"
        inches = f"{match['thick']} in"
        return f"{self.either(inches, thick)} {match['kind']}"

    def told(self, text: str) -> str:
        """Return a sentence of ours with the lengths in it on this tape; pipe keeps the inches that it is called by."""
        text = _SQUARE_FEET.sub(
            lambda found: self.either(found[0], Tape("metric").area(Fraction(found["number"]) * SQUARE_FOOT)), text
        )
        text = _FEET_AND_INCHES.sub(
            lambda found: self.either(found[0], f"{_millimetres(found['inches'], int(found['feet']))} mm"), text
        )
        return _LENGTHS.sub(lambda found: self._told(found, text), text)

    def pack(self, holds: str) -> str:
        """Return what a pack holds in the units of this tape, such as `500 ft`: 152 m where it is metric."""
        if not self.metric:
            return holds
        for unit, metric, factor in _PACKS:
            holds = re.sub(
                rf"(?P<numbers>[\d.]+(?: to [\d.]+)?) {unit}\b",
                lambda found, metric=metric, factor=factor: (  # type: ignore[misc]
                    re.sub(r"[\d.]+", lambda one: _rounded(Fraction(one[0]) * factor), found["numbers"]) + f" {metric}"
                ),
                holds,
            )
        return holds

    def _told(self, found: re.Match[str], text: str) -> str:
        if _PIPE_BEFORE.search(text[: found.start()]) or _PIPE_AFTER.match(text, found.end()):
            return found[0]
        inches = INCHES_PER_FOOT if found["unit"] == "ft" else 1
        numbers = re.sub(_NUMBER, lambda one: str(_millimetres(one[0], 0, inches)), found["numbers"])
        return self.either(found[0], f"{numbers} mm")

    def either(self, imperial: str, metric: str) -> str:
        """Return an amount that is no length, from its words in both units: 108 sq ft, 10 m², 108 sq ft (10 m²)."""
        if self.units == "both":
            return f"{imperial} ({metric})"
        return metric if self.metric else imperial

    def _marks(self, length: Length, show: Callable[[Length], str]) -> str:
        return self.either(show(length), show_millimetres(length))


def _length(value: Length | Fraction) -> Length:
    return value if isinstance(value, Length) else Length(value)


def _millimetres(number: str, feet: int, inches: int = 1) -> int:
    """Return a number as a sentence has it, so many inches each, and so many feet, in whole millimetres."""
    whole, _, part = number.replace("-", " ").rpartition(" ")
    return Length((Fraction(whole or 0) + Fraction(part)) * inches + feet * INCHES_PER_FOOT).to_millimetres()


def _rounded(value: Fraction) -> str:
    """Return an amount to two figures, or whole from ten up."""
    return str(floor(value + Fraction(1, 2))) if value >= 10 else f"{float(value):.2g}"
