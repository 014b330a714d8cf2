"""Exact lengths in, the words that a person would write in a record for them out; and what a candidate is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor

from bookgen.solve.framing import Stretch

Value = str | Mapping[str, "Value"] | tuple["Value", ...]
STEP = Fraction(1, 2)  # inches that sizes are rounded to; a tape shows it at a glance


@dataclass(frozen=True, slots=True)
class Candidate:
    """One treatment with the choices to try; *why* says why there is nothing to try, and is "" where there is."""

    treatment: str
    form: str
    choices: Mapping[str, Value]
    why: str = ""


def down(value: Fraction) -> Fraction:
    """Return a length rounded down to the step."""
    return floor(value / STEP) * STEP


def up(value: Fraction) -> Fraction:
    """Return a length rounded up to the step."""
    return ceil(value / STEP) * STEP


def number(value: Fraction) -> str:
    """Return a number as records write it: 7, 7.5; one that no short decimal holds as a fraction: 7 1/3."""
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    if not (rest * 10_000) % 1:
        return f"{whole}{float(rest):.4f}".replace(f"{whole}0.", f"{whole}.").rstrip("0")
    return f"{whole} {rest}" if whole else str(rest)


def inches(value: Fraction) -> str:
    """Return a length as records write it."""
    return f"{number(value)} in"


def span(stretch: Stretch) -> str:
    """Return a stretch as records write it."""
    return f"{number(stretch[0])} in to {number(stretch[1])} in"


def above(height: Fraction) -> str:
    """Return a height with its datum."""
    return f"{number(height)} in above slab"
