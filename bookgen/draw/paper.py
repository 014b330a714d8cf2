"""Scales and sizes on paper: which scale a drawing gets, and what millimetres on paper are in inches of the model."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from bookgen.model.exact import Fraction
from bookgen.model.length import HAIR, SLASH
from bookgen.model.sketch import MILLIMETRES_PER_INCH
from bookgen.model.tape import Tape, Units
from bookgen.model.widths import text_width
from bookgen.trade.tongue import Tongue, tongue

# How large is the type, in millimetres? Capitals come out 2.5 mm high, the small nominal size of ISO 3098 (from
# memory), and on a telephone 360 pixels wide a sheet of SHEET_WIDE still shows them at 11 pixels of type.
TEXT = 3.8
LINE = 4.7  # from baseline to baseline of the two lines of a note
SHEET_WIDE = 124.0
DRAWING_HIGH = 118.0  # the drawing alone, without the notes above it

IMPERIAL = (8, 12, 16, 24, 32, 48, 64, 96, 128, 192)
ENGLISH = tongue("en")
METRIC = (10, 20, 25, 50, 100, 200)
# What does the architect's scale call each ratio?
IMPERIAL_WORDS = {
    8: f"1{HAIR}1{SLASH}2 in = 1 ft",
    12: "1 in = 1 ft",
    16: f"3{SLASH}4 in = 1 ft",
    24: f"1{SLASH}2 in = 1 ft",
    32: f"3{SLASH}8 in = 1 ft",
    48: f"1{SLASH}4 in = 1 ft",
    64: f"3{SLASH}16 in = 1 ft",
    96: f"1{SLASH}8 in = 1 ft",
    128: f"3{SLASH}32 in = 1 ft",
    192: f"1{SLASH}16 in = 1 ft",
}


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet at a scale, *scale* is 12 for 1 in = 1 ft, and how its words are said."""

    scale: int
    units: Units
    tongue: Tongue = ENGLISH

    def inches(self, millimetres: float) -> float:
        """Return inches of the model for millimetres on paper."""
        return millimetres * self.scale / MILLIMETRES_PER_INCH

    def exact(self, millimetres: float) -> Fraction:
        """Return the same as whole sixteenths of an inch, for windows."""
        return Fraction(round(self.inches(millimetres) * 16), 16)

    def millimetres(self, inches: float | Fraction) -> float:
        """Return millimetres on paper for inches of the model."""
        return float(inches) * MILLIMETRES_PER_INCH / self.scale

    def width(self, text: str, height: float = TEXT, *, strong: bool = False) -> float:
        """Return how wide a line of text runs, in inches of the model."""
        return self.inches(text_width(text, height, strong=strong))

    def words(self) -> str:
        """Return the scale for reading."""
        ratio = f"1:{self.scale}"
        return ratio if self.units == "metric" else Tape(self.units).either(IMPERIAL_WORDS[self.scale], ratio)


def largest_scale(units: Units, fits: Callable[[Paper], bool], tongue: Tongue = ENGLISH) -> Paper:
    """Return the sheet at the largest standard scale that *fits* says yes to; the smallest where none does."""
    series = METRIC if units == "metric" else IMPERIAL
    for scale in series:
        paper = Paper(scale, units, tongue)
        if fits(paper):
            return paper
    return Paper(series[-1], units, tongue)
