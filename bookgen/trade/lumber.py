"""The name of a stick, such as 2x4 -> its true dry size, the lengths it is sold in, and the precut studs."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from types import MappingProxyType

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "lumber.toml"


@dataclass(frozen=True, slots=True)
class Lumber:
    """One softwood size: the name it is asked for by and what it measures dry and dressed.

    `nominal_thickness` and `nominal_width` are bare inches, for board measure only.
    """

    name: str
    nominal_thickness: Fraction
    nominal_width: Fraction
    thickness: Length
    width: Length
    lengths: tuple[Length, ...]
    lengths_sure: Sure
    source: str
    sure: Sure

    def board_feet(self, length: Length) -> Fraction:
        """Return the board measure of one stick *length* long; under 1 in of thickness counts as 1.

        Source: thickness x width x feet / 12, all nominal; NAVEDTRA Engineering Aid Basic.
        """
        return max(self.nominal_thickness, Fraction(1)) * self.nominal_width * length.inches / 144


@dataclass(frozen=True, slots=True)
class PrecutStud:
    """A stud sold cut to length, and the height of plates, stud and plates together."""

    name: str
    lumber: str
    length: Length
    with_three_plates: Length
    source: str
    sure: Sure


LUMBER: Mapping[str, Lumber] = MappingProxyType({row.name: row for row in read_rows(TABLE, "lumber", Lumber)})


@cache
def lumber(name: str) -> Lumber | None:
    """Return the size called *name*, written 2x4, 2×4, 2 X 4 or 5/4 x 6; None if there is no such size."""
    return LUMBER.get(words.plain(name).replace(" ", ""))


def near(name: str) -> tuple[str, ...]:
    """Return the sizes whose names look most like *name*."""
    return words.near(name, LUMBER)


@cache
def precut_studs() -> tuple[PrecutStud, ...]:
    """Return the precut studs, shortest first."""
    return read_rows(TABLE, "precut_stud", PrecutStud)
