"""The takeoff and the records' materials in, plain-word summaries and cut lists out."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from bookgen.compose.show import Show
from bookgen.model.book import CutRow, MaterialRow
from bookgen.model.length import MILLIMETRES_PER_INCH, Length
from bookgen.model.records.obstacle import Material
from bookgen.model.solved import PieceCount, Solved

SQUARE_INCHES_PER_SQUARE_FOOT = 144
MILLIMETRES_PER_METRE = 1000
INCHES_PER_FOOT = 12


def material_rows(materials: tuple[Material, ...]) -> tuple[MaterialRow, ...]:
    """Return what may have to be bought again."""
    return tuple(MaterialRow(one.what, one.buy, one.where or "") for one in materials)


def summary(keys: set[str], solved: Solved, show: Show) -> tuple[str, ...]:
    """Return the material of some obstacles in plain words: sticks by running length, board by area."""
    totals: dict[str, tuple[int, Fraction, bool]] = {}
    for piece in _pieces(keys, solved):
        count, amount, flat = totals.get(piece.stock, (0, Fraction(0), piece.wide is not None))
        each = piece.length.inches * (piece.wide.inches if piece.wide else 1)
        totals[piece.stock] = (count + piece.count, amount + piece.count * each, flat)
    return tuple(_summed(stock, *totals[stock], show) for stock in sorted(totals))


def _summed(stock: str, count: int, amount: Fraction, flat: bool, show: Show) -> str:
    if flat:
        return show.terms["summary board"].format(stock=show.stock(stock), area=surface(amount, show))
    length = running(Length(amount), show)
    form = show.terms["summary stick" if count == 1 else "summary sticks"]
    return form.format(stock=show.stock(stock), pieces=count, length=length)


def cut_rows(keys: set[str], solved: Solved, show: Show) -> tuple[CutRow, ...]:
    """Return the cut list of some obstacles, longest first within each stock."""
    pieces = sorted(_pieces(keys, solved), key=lambda p: (p.stock, -p.length.inches, p.role))
    return tuple(CutRow(show.name(p.role), show.stock(p.stock), _size(p, show), str(p.count)) for p in pieces)


def _size(piece: PieceCount, show: Show) -> str:
    """Return the length of a stick, or both sides of a sheet."""
    sides = (piece.length, *((piece.wide,) if piece.wide else ()))
    return " × ".join(show.length(side) for side in sides)


def running(length: Length, show: Show) -> str:
    """Return a running length, in whole feet or tenths of a metre, rounded up."""
    tenths = ceil(length.inches * MILLIMETRES_PER_INCH / MILLIMETRES_PER_METRE * 10)
    feet = show.number(ceil(length.inches / INCHES_PER_FOOT))
    return show.tape.either(
        show.terms["running feet"].format(amount=feet),
        show.terms["running metres"].format(amount=show.number(Fraction(tenths, 10), 1)),
    )


def surface(square_inches: Fraction, show: Show) -> str:
    """Return an area, in whole square feet or tenths of a square metre, rounded up."""
    square = ceil(square_inches * MILLIMETRES_PER_INCH**2 / MILLIMETRES_PER_METRE**2 * 10)
    feet = show.number(ceil(square_inches / SQUARE_INCHES_PER_SQUARE_FOOT))
    return show.tape.either(
        show.terms["square feet"].format(amount=feet),
        show.terms["square metres"].format(amount=show.number(Fraction(square, 10), 1)),
    )


def _pieces(keys: set[str], solved: Solved) -> list[PieceCount]:
    return [piece for piece in solved.takeoff.pieces if piece.obstacle in keys]
