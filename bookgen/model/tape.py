"""A length in, the words for it out, in the units that a project is measured in: the one place that chooses them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.length import Length, show_feet, show_inches, show_millimetres

IN_FEET_FROM = Fraction(36)  # inches; shorter lengths read better in inches alone


@dataclass(frozen=True, slots=True)
class Tape:
    """The tape that a project is measured with; a plain number given to it is a number of inches.

    Every length is rounded here, once: to 1/16 in or to whole millimetres, a half going up.
    """

    metric: bool = False

    def short(self, value: Length | Fraction) -> str:
        """Return a length in inches alone, or in millimetres: sizes of stock, gaps, thicknesses."""
        return show_millimetres(_length(value)) if self.metric else show_inches(_length(value))

    def long(self, value: Length | Fraction) -> str:
        """Return a length in feet and inches, or in millimetres: heights and stations."""
        return show_millimetres(_length(value)) if self.metric else show_feet(_length(value))

    def plain(self, value: Length | Fraction) -> str:
        """Return a length as it reads best: in feet and inches from 36 in up, in inches below; or in millimetres."""
        return self.long(value) if abs(_length(value).inches) >= IN_FEET_FROM else self.short(value)


def _length(value: Length | Fraction) -> Length:
    return value if isinstance(value, Length) else Length(value)
