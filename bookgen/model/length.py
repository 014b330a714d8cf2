"""Lengths a tape can read: text such as 3' 4-1/2" or 1030 mm -> exact inches, and back.

A Length is exact. It is rounded once, by `to_tape` or `to_millimetres`, where a person will read it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from math import floor

from bookgen.model.exact import Fraction
from bookgen.model.frozen import dataclass

TAPE = 16  # finest mark printed, in parts of an inch
MILLIMETRES_PER_INCH = Fraction(254, 10)  # exact by definition, international yard and pound agreement of 1959
INCHES_PER_FOOT = 12
LONGEST = 40  # characters; a longer text is no length
HAIR = "\u200a"  # hair space: keeps a font's fraction feature off the whole number before it
SLASH = "\u2044"  # fraction slash


class LengthError(ValueError):
    """The text is no length; the message says what is wrong and, behind a semicolon, what to write instead."""


class BareNumberError(LengthError):
    """The text is a number without its unit."""


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A signed length, in inches."""

    inches: Fraction

    def __add__(self, other: Length) -> Length:
        return Length(self.inches + other.inches)

    def __sub__(self, other: Length) -> Length:
        return Length(self.inches - other.inches)

    def __neg__(self) -> Length:
        return Length(-self.inches)

    def to_tape(self, parts: int = TAPE) -> Length:
        """Return the nearest of *parts* marks to the inch; a half goes up."""
        return Length(Fraction(floor(self.inches * parts + Fraction(1, 2)), parts))

    def to_millimetres(self) -> int:
        """Return the nearest whole millimetre; a half goes up."""
        return floor(self.inches * MILLIMETRES_PER_INCH + Fraction(1, 2))


_NUMBER = r"\d+(?:\.\d+)?"
_MIXED = rf"(?:(?P<whole>\d+)(?:\s*-\s*|\s+))?(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|(?P<decimal>{_NUMBER})"
_FOOT = r"(?:'|\u2032|ft\.?|feet|foot)"
_INCH = r"(?:\"|\u2033|''|in\.?|inch(?:es)?)"
_IMPERIAL = re.compile(rf"(?P<sign>-)?\s*(?:(?P<feet>{_NUMBER})\s*{_FOOT}\s*-?\s*)?(?:(?:{_MIXED})\s*{_INCH})?")
_BARE = re.compile(rf"-?\s*(?P<feet>{_NUMBER}\s*{_FOOT}\s*-?\s*)?(?:{_NUMBER}|(?:\d+[\s-]+)?\d+/\d+)")
_METRIC = re.compile(rf"(?P<sign>-)?\s*(?P<number>{_NUMBER})\s*(?P<unit>mm|cm|m)")
_MILLIMETRES = {"mm": 1, "cm": 10, "m": 1000}  # how many millimetres is one of it?
_VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8", "⅓": "1/3", "⅔": "2/3",
}  # fmt: skip
# What do printers and phones write for signs of the keyboard? Slash, fixed blanks, minus, dash, curly quotes.
_TYPESET = str.maketrans(
    {SLASH: "/", HAIR: " ", "\u00a0": " ", "\u2212": "-", "\u2013": "-", "\u2019": "'", "\u201d": '"'}
)


def parse_length(text: str) -> Length:
    """Read a length as people write it: 3' 4-1/2", 40 1/2 in, 7'-0", 1030 mm, 1.03 m.

    Raises BareNumberError for a number without its unit, LengthError for an unknown unit or a zero denominator; the
    message gives the repair.
    """
    if len(text) > LONGEST:
        raise LengthError("that is too long to be a length; write one such as 40 1/2 in")
    plain = _plain(text)
    bare = _BARE.fullmatch(plain)
    if bare and bare["feet"]:
        raise BareNumberError(f"the inches need their sign; write {plain} in")
    if bare:
        raise BareNumberError(f"a length needs its unit; write {plain} in or {plain} mm")
    metric = _METRIC.fullmatch(plain)
    if metric:
        value = Fraction(metric["number"]) * _MILLIMETRES[metric["unit"]] / MILLIMETRES_PER_INCH
        return Length(-value if metric["sign"] else value)
    imperial = _IMPERIAL.fullmatch(plain)
    if not imperial or not (imperial["feet"] or imperial["top"] or imperial["decimal"]):
        raise LengthError("that is no length; write one such as 3' 4-1/2\", 40 1/2 in, 1030 mm or 1.03 m")
    value = _imperial_value(imperial)
    return Length(-value if imperial["sign"] else value)


def _plain(text: str) -> str:
    plain = text.strip().translate(_TYPESET)
    for sign, digits in _VULGAR.items():
        plain = plain.replace(sign, f" {digits}")
    return plain.strip()


def _imperial_value(match: re.Match[str]) -> Fraction:
    value = Fraction(match["feet"] or 0) * INCHES_PER_FOOT
    if match["top"]:
        if int(match["bottom"]) == 0:
            raise LengthError("that divides by nothing; write a fraction such as 1/2")
        value += Fraction(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    elif match["decimal"]:
        value += Fraction(match["decimal"])
    return value


def inches(value: int | str | Fraction) -> Length:
    """Return the Length of *value* inches; text may hold a fraction ("3/4") or a decimal ("0.6")."""
    return Length(Fraction(value))


def show_inches(length: Length, parts: int = TAPE) -> str:
    """Return inches for reading: 12 1/2″ with a real fraction slash, rounded to *parts* marks an inch."""
    return _signed(length.to_tape(parts), lambda value: f"{_mixed(value)}\u2033")


def show_feet(length: Length, parts: int = TAPE) -> str:
    """Return feet and inches for reading: 6′ 4 3/16″; under one foot only inches; the inches stand even when 0."""

    def positive(value: Fraction) -> str:
        feet, rest = divmod(value, INCHES_PER_FOOT)
        if not feet:
            return f"{_mixed(rest)}\u2033"
        whole = f"0{HAIR}" if 0 < rest < 1 else ""  # 3' 0 1/4", so that nobody reads 3 1/4
        return f"{feet}\u2032\u00a0{whole}{_mixed(rest)}\u2033"

    return _signed(length.to_tape(parts), positive)


def show_millimetres(length: Length) -> str:
    """Return whole millimetres for reading: 1030 mm."""
    return f"{length.to_millimetres()}\u00a0mm".replace("-", "\u2212")


def _signed(length: Length, show_positive: Callable[[Fraction], str]) -> str:
    sign = "\u2212" if length.inches < 0 else ""
    return f"{sign}{show_positive(abs(length.inches))}"


def _mixed(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return str(whole)
    fraction = f"{rest.numerator}{SLASH}{rest.denominator}"
    return f"{whole}{HAIR}{fraction}" if whole else fraction
