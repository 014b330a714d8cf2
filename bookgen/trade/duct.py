"""Trade text such as "20 x 8 duct" or "6 in round duct" -> the duct's size, and what joints and wrap add to it."""

from __future__ import annotations

from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.tables import Sure, read_rows

TABLE = "duct.toml"

RECTANGULAR_WORDS = frozenset({"duct", "sheet", "metal", "trunk", "supply", "return", "plenum", "steel", "galvanized"})
ROUND_WORDS = RECTANGULAR_WORDS | {"round", "branch", "flue", "pipe", "dia", "diameter"}
ROUND_MARKS = frozenset({"round", "dia", "diameter", "flue"})  # one of these must be said with a single size


@dataclass(frozen=True, slots=True)
class DuctSize:
    """One duct as named, bare sheet metal: a width by a height, or a diameter.

    `usual` says whether it is among the sizes the trade makes most; an unusual one may be a slip of the pen.
    """

    width: Length | None
    height: Length | None
    diameter: Length | None
    usual: bool
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class DuctAllowance:
    """An option that makes a duct bigger; `adds` goes on the whole width and on the whole height or diameter."""

    id: str
    adds: Length
    words: str
    source: str
    sure: Sure


@dataclass(frozen=True, slots=True)
class UsualSizes:
    """The sizes of one shape that the trade makes most: widths and heights, or diameters."""

    shape: str
    widths: tuple[Length, ...]
    heights: tuple[Length, ...]
    diameters: tuple[Length, ...]
    source: str
    sure: Sure


def duct(text: str, unit: words.Unit = "in") -> DuctSize | None:
    """Return the duct that *text* names: "20 x 8 duct", "20x8 sheet metal", "6 in round duct".

    A pair reads width by height; without a unit of its own it counts in *unit*. None if no size can be read or any word
    is unknown; a single size must say round.
    """
    pair = words.split_pair(text, unit)
    if pair is not None:
        return _rectangular(pair)
    single = words.split_size(text, unit)
    return None if single is None else _round(single)


def near(text: str) -> tuple[str, ...]:
    """Return the usual ducts whose names look most like *text*, for a Problem's hint."""
    names = [f"{size.inches} in round duct" for size in _usual("round").diameters]
    rectangular = _usual("rectangular")
    names += [f"{wide.inches} x {high.inches} duct" for wide in rectangular.widths for high in rectangular.heights]
    return words.near(text, names)


@cache
def allowances() -> tuple[DuctAllowance, ...]:
    """Return what cleats at the joints and insulation wrap add."""
    return read_rows(TABLE, "allowance", DuctAllowance)


@cache
def _usual(shape: str) -> UsualSizes:
    (found,) = (row for row in read_rows(TABLE, "usual", UsualSizes) if row.shape == shape)
    return found


def _rectangular(pair: words.Sized) -> DuctSize | None:
    width, height = pair.sizes
    if not set(pair.words) <= RECTANGULAR_WORDS or min(width, height).inches <= 0:
        return None
    sizes = _usual("rectangular")
    usual = width in sizes.widths and height in sizes.heights
    return DuctSize(width, height, None, usual, sizes.source, sizes.sure)


def _round(single: words.Sized) -> DuctSize | None:
    (diameter,) = single.sizes
    said = set(single.words)
    if not said <= ROUND_WORDS or not said & ROUND_MARKS or diameter.inches <= 0:
        return None
    sizes = _usual("round")
    return DuctSize(None, None, diameter, diameter in sizes.diameters, sizes.source, sizes.sure)
