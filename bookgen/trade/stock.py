"""The name of a thing on the buying list, such as "2x4" or "corner bead" -> how it is sold: unit and lengths."""

from __future__ import annotations

from enum import StrEnum
from fractions import Fraction
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade import words
from bookgen.trade.board import board
from bookgen.trade.tables import Sure, read_rows

TABLE = "stock.toml"


class Unit(StrEnum):
    """What one of a thing is called at the yard."""

    STICK = "stick"
    SHEET = "sheet"
    ROLL = "roll"
    BOX = "box"
    BUCKET = "bucket"
    TUBE = "tube"
    CAN = "can"
    BAG = "bag"
    EACH = "each"


@dataclass(frozen=True, slots=True)
class StockItem:
    """One thing as it is sold.

    `of` names the size of lumber or the board that it is a piece of, as those tables name it. `lengths` are what it can
    be bought in, shortest first, empty where it has none; `width` is a sheet's or a roll's. `holds` says in words how
    much is in one, where it is not a length. Where a takeoff counts packs, one goes for `yield_least` to `yield_most`
    of `yield_unit` (ft, gal, sq ft or each).
    """

    key: str
    of: str | None
    trade_name: str
    unit: Unit
    lengths: tuple[Length, ...]
    width: Length | None
    holds: str | None
    yield_unit: str | None
    yield_least: Fraction | None
    yield_most: Fraction | None
    source: str
    sure: Sure


@cache
def catalogue() -> tuple[StockItem, ...]:
    """Return everything in the catalogue."""
    return read_rows(TABLE, "item", StockItem)


def stock(key: str) -> StockItem | None:
    """Return the thing called *key*, in any case and spacing, such as 2×4 or "1/2 in gypsum 4x8"; None if unknown."""
    asked = words.plain(key).replace(" ", "")
    return next((row for row in catalogue() if words.plain(row.key).replace(" ", "") == asked), None)


def stock_of(name: str) -> tuple[StockItem, ...]:
    """Return every thing sold that is a piece of *name*, such as the sheets of "1/2 in gypsum board"."""
    return tuple(row for row in catalogue() if row.of == name)


def sold_as(name: str) -> tuple[StockItem, ...]:
    """Return what is sold under *name*: the thing called so, or every size of the board called so; empty if unknown."""
    found = stock(name)
    if found is not None:
        return (found,)
    known = board(name)
    return stock_of(known.name) if known is not None else ()


def near(key: str) -> tuple[str, ...]:
    """Return the things whose names look most like *key*, for a Problem's hint."""
    return words.near(key, (row.key for row in catalogue()))
