"""Stock such as "2x4 treated" or "1/2 in gypsum board" with its length or area -> about how many pounds it weighs."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.trade.board import board
from bookgen.trade.lumber import lumber
from bookgen.trade.tables import Sure, read_rows

TABLE = "weight.toml"
TREATED = " treated"
CUBIC_INCHES_PER_CUBIC_FOOT = 1728
SQUARE_INCHES_PER_SQUARE_FOOT = 144


@dataclass(frozen=True, slots=True)
class Wood:
    """What a cubic foot of lumber weighs, dry; `pounds_per_cubic_foot` is about."""

    name: str
    treated: bool
    pounds_per_cubic_foot: Fraction
    source: str
    sure: Sure


@cache
def woods() -> tuple[Wood, ...]:
    """Return the kinds of lumber, untreated first."""
    return read_rows(TABLE, "wood", Wood)


def pounds(stock: str, length: Length | None, square_inches: Fraction | None) -> Fraction | None:
    """Return about what a *length* of lumber or an area of board weighs; None for stock that no table can weigh."""
    size = lumber(stock.removesuffix(TREATED))
    if size is not None and length is not None:
        wood = next(one for one in woods() if one.treated == stock.endswith(TREATED))
        volume = size.thickness.inches * size.width.inches * length.inches
        return volume * wood.pounds_per_cubic_foot / CUBIC_INCHES_PER_CUBIC_FOOT
    sheet = board(stock)
    if sheet is not None and sheet.pounds_per_square_foot is not None and square_inches is not None:
        return square_inches * sheet.pounds_per_square_foot / SQUARE_INCHES_PER_SQUARE_FOOT
    return None
