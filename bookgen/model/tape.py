"""A length in, the words for it out, in the units that a project is measured in: the one place that chooses them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import floor
from typing import Literal

from bookgen.model.length import MILLIMETRES_PER_INCH, Length, show_feet, show_inches, show_millimetres

Units = Literal["imperial", "metric", "both"]

SQUARE_FOOT = Fraction(144)  # square inches
SQUARE_METRE = Fraction(1000, Fraction("25.4")) ** 2  # square inches
_BOARD = re.compile(r"(?P<thick>\d+(?:/\d+)?) in (?P<kind>.*\bboard\b.*)")
IN_FEET_FROM = Fraction(36)  # inches; shorter lengths read better in inches alone


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

    def either(self, imperial: str, metric: str) -> str:
        """Return an amount that is no length, from its words in both units: 108 sq ft, 10 m², 108 sq ft (10 m²)."""
        if self.units == "both":
            return f"{imperial} ({metric})"
        return metric if self.metric else imperial

    def _marks(self, length: Length, show: Callable[[Length], str]) -> str:
        return self.either(show(length), show_millimetres(length))


def _length(value: Length | Fraction) -> Length:
    return value if isinstance(value, Length) else Length(value)
