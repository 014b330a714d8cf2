"""What to buy for the whole project and how to cut it: sticks, sheets, finishing, hardware, and what it costs."""

from __future__ import annotations

import datetime
from enum import Enum
from fractions import Fraction

from bookgen.model.cutting import CuttingPlan, Saving
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.sheets import BoardPlan, Quantity


@dataclass(frozen=True, slots=True)
class Sticks:
    """All sticks of one stock: how to buy and cut them, and what that saves beside the plain way."""

    stock: str
    plan: CuttingPlan
    saving: Saving


@dataclass(frozen=True, slots=True)
class Sheets:
    """All sheets of one board: how to lay, cut and buy them; *area* is that of the finished faces, square inches."""

    stock: str
    plan: BoardPlan
    area: Fraction
    saving: Saving


class Trade(Enum):
    """Under which heading of the hardware list a thing stands."""

    DOORS = "doors"
    COVERS = "covers"
    LIGHTS = "lights and registers"
    FIXINGS = "fixings to concrete and steel"
    FIRE = "fireblocking and sealant"
    STAIR = "stair parts"


@dataclass(frozen=True, slots=True)
class Hardware:
    """Something bought by the piece: how many at the least and at the most, what for, and who says so.

    *obstacle* is the key of the record it belongs to. *source* is empty for what is simply counted in the records.
    """

    trade: Trade
    what: str
    least: int
    most: int
    obstacle: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Packs:
    """A finishing material and the packs it is bought in: *holds* in words, *least* and *most* whole packs.

    *stock* is the key of the stock table, "" where nothing there is sold by that measure; then there are no packs.
    *goes* is the least of the amount that one pack goes for.
    """

    amount: Quantity
    stock: str
    unit: str
    holds: str
    goes: Fraction | None
    least: int
    most: int


@dataclass(frozen=True, slots=True)
class CostRow:
    """One line of a bill: so many of a thing at a price; *size* is a stick's length, or a sheet's with *wide*."""

    stock: str
    length: Length | None
    wide: Length | None
    count: int
    each: Fraction

    def amount(self) -> Fraction:
        """Return what the line comes to."""
        return self.count * self.each


@dataclass(frozen=True, slots=True)
class Costs:
    """What the material costs, in the money of the price list; finishing at the larger number of packs.

    *by_obstacle* are shares of the same sum: sticks by length, board and finishing by area, what is left over in
    proportion. *unpriced* are things that the price list does not hold, left out of the sum.
    """

    yard: str
    on: datetime.date
    money: str
    rows: tuple[CostRow, ...]
    by_obstacle: tuple[tuple[str, Fraction], ...]
    unpriced: tuple[str, ...]

    def total(self) -> Fraction:
        """Return the whole sum."""
        return sum((row.amount() for row in self.rows), Fraction(0))


@dataclass(frozen=True, slots=True)
class Buying:
    """Everything to buy. *costs* is None without a price list, and wherever prices may not be told."""

    sticks: tuple[Sticks, ...]
    sheets: tuple[Sheets, ...]
    finishing: tuple[Packs, ...]
    hardware: tuple[Hardware, ...]
    costs: Costs | None = None
