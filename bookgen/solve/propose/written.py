"""Exact lengths in, the words that a person would write in a record for them out; and what a candidate is."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil, floor

from bookgen.model.frozen import dataclass
from bookgen.model.length import MILLIMETRES_PER_INCH
from bookgen.solve.framing import Stretch

Value = str | Mapping[str, "Value"] | tuple["Value", ...]
STEP = Fraction(1, 2)  # inches that sizes are rounded to; a tape shows it at a glance
METRIC_STEP = 10 / MILLIMETRES_PER_INCH  # inches: 10 mm
DECIMALS = 6  # of a number of millimeters: any 64th of an inch has no more


@dataclass(frozen=True, slots=True)
class Candidate:
    """One treatment with the choices to try; *why* says why there is nothing to try, and is "" where there is."""

    treatment: str
    form: str
    choices: Mapping[str, Value]
    why: str = ""


@dataclass(frozen=True, slots=True)
class Pen:
    """What writes exact inches as the records of a job write them: in inches, or in millimeters where it is metric."""

    metric: bool = False

    def down(self, value: Fraction) -> Fraction:
        """Return a length rounded down to the step of the job's tape."""
        return floor(value / self._step) * self._step

    def up(self, value: Fraction) -> Fraction:
        """Return a length rounded up to the step of the job's tape."""
        return ceil(value / self._step) * self._step

    def length(self, value: Fraction) -> str:
        """Return a length with its unit; one that no short number of millimeters holds stays in inches."""
        millimetres = value * MILLIMETRES_PER_INCH
        if self.metric and not (millimetres * 10**DECIMALS) % 1:
            return f"{_decimal(millimetres, DECIMALS)} mm"
        return f"{number(value)} in"

    def span(self, stretch: Stretch) -> str:
        """Return a stretch: 40 in to 192 in."""
        return f"{self.length(stretch[0])} to {self.length(stretch[1])}"

    def above(self, height: Fraction) -> str:
        """Return a height with its datum."""
        return f"{self.length(height)} above slab"

    def size(self, wide: Fraction, high: Fraction) -> str:
        """Return a width and a height: 32 x 80 in."""
        first, second = self.length(wide), self.length(high)
        return f"{first.rpartition(' ')[0]} x {second}" if first[-2:] == second[-2:] else f"{first} x {second}"

    @property
    def _step(self) -> Fraction:
        return METRIC_STEP if self.metric else STEP


def number(value: Fraction) -> str:
    """Return a number as records write it: 7, 7.5; one that no short decimal holds as a fraction: 7 1/3."""
    whole, rest = divmod(value, 1)
    if not (rest * 10_000) % 1:
        return _decimal(value, 4)
    return f"{whole} {rest}" if whole else str(rest)


def _decimal(value: Fraction, places: int) -> str:
    """Return a number that so many places hold: 7, 7.5."""
    whole, rest = divmod(value, 1)
    return f"{whole}.{int(rest * 10**places):0{places}d}".rstrip("0") if rest else str(whole)
