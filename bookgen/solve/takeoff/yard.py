"""The name of a stock and the price list in; the sticks and sheets to be had, their prices and the saw's rules out."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.cutting import KEEP, KERF, NOTHING, SawRules, Stick
from bookgen.model.frozen import dataclass
from bookgen.model.length import Length
from bookgen.model.records import Prices
from bookgen.model.records.prices import Sold
from bookgen.model.sheets import SheetSize
from bookgen.trade.lumber import precut_studs
from bookgen.trade.stock import StockItem, Unit, sold_as

BOTH_ENDS = 2
USUAL_WIDTH = Length(Fraction(48))  # of a sheet; wider ones are ordered, so only a price list brings them in


@dataclass(frozen=True, slots=True)
class Yard:
    """What can be bought: the price list where one is given, else the sizes commonly stocked, without prices.

    Of a stock that stands in the price list, only what stands there is bought.
    """

    prices: Prices | None

    def rules(self) -> SawRules:
        """Return how sticks are cut."""
        saw = self.prices.saw if self.prices else None
        if saw is None:
            return SawRules()
        trim = saw.trim or NOTHING
        return SawRules(saw.kerf or KERF, trim, BOTH_ENDS if trim > NOTHING else 0, saw.keep or KEEP)

    def sticks(self, stock: str) -> tuple[Stick, ...]:
        """Return the lengths of a stick; none where nothing of that name is sold.

        A precut stud is a stick too, where the price list has it.
        """
        listed = [
            Stick(length, sold.price)
            for item, sold in self._listed()
            if item.unit is Unit.STICK and stock in (item.key, _cut_from(item)) and (length := _length(item, sold))
        ]
        if listed:
            return tuple(listed)
        return tuple(Stick(length) for item in sold_as(stock) if item.unit is Unit.STICK for length in item.lengths)

    def sheets(self, stock: str) -> tuple[SheetSize, ...]:
        """Return the sizes of a board; none where nothing of that name is sold."""
        listed = [
            SheetSize(*size, sold.price)
            for item, sold in self._listed()
            if item.unit is Unit.SHEET and stock in (item.key, item.of) and (size := _size(item, sold))
        ]
        if listed:
            return tuple(dict.fromkeys(listed))
        return tuple(
            SheetSize(USUAL_WIDTH, length)
            for item in sold_as(stock)
            if item.unit is Unit.SHEET and item.width == USUAL_WIDTH
            for length in item.lengths
        )

    def price(self, stock: str) -> Fraction | None:
        """Return the price of a thing that has no sizes; None where the list does not hold it."""
        return next((sold.price for item, sold in self._listed() if item.key == stock), None)

    def _listed(self) -> Iterator[tuple[StockItem, Sold]]:
        """Yield every price with a thing it is for; a board without the size it is sold in comes once for each."""
        for name, rows in (self.prices.stock if self.prices else {}).items():
            for item in sold_as(name):
                for sold in rows:
                    yield item, sold


def _cut_from(item: StockItem) -> str | None:
    """Return the stock that a precut stud does the work of; None for any other thing."""
    return next((stud.lumber for stud in precut_studs() if stud.name == item.key), None)


def _length(item: StockItem, sold: Sold) -> Length | None:
    return sold.length or (item.lengths[0] if len(item.lengths) == 1 else None)


def _size(item: StockItem, sold: Sold) -> tuple[Length, Length] | None:
    """Return width and length of a sheet as written, or as the stock table has them."""
    if sold.sheet is not None:
        return sold.sheet.wide, sold.sheet.high
    return (item.width, item.lengths[0]) if item.width and len(item.lengths) == 1 else None
