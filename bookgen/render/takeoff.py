"""The solved takeoff in, a table for a terminal or the text of a .csv file out."""

from __future__ import annotations

import csv
import io
from fractions import Fraction
from math import floor

from bookgen.model.length import MILLIMETRES_PER_INCH, Length, show_feet, show_millimetres
from bookgen.model.solved import PieceCount, Solved, StockTotal

HEAD = ("obstacle", "part", "stock", "length", "pieces")
SQUARE_INCHES_PER_SQUARE_FOOT = 144
SQUARE_MILLIMETRES_PER_SQUARE_METRE = 1_000_000


def as_table(solved: Solved) -> str:
    """Return the cut list and the totals of each stock, in columns."""
    rows = [HEAD, *(_row(piece, solved) for piece in solved.takeoff.pieces)]
    totals = [("stock", "pieces", "in all"), *(_total(total, solved) for total in solved.takeoff.totals)]
    return f"{_columns(rows)}\n\n{_columns(totals)}"


def as_csv(solved: Solved) -> str:
    """Return the cut list as comma-separated text with a heading; lengths also in decimal inches."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow([*HEAD, "length in inches"])
    for piece in solved.takeoff.pieces:
        exact = piece.length.to_tape(64).inches
        # A part of 64 ends within six decimals, whatever the whole number before it.
        writer.writerow([*_row(piece, solved), f"{float(exact):.6f}".rstrip("0").rstrip(".")])
    return out.getvalue()


def _row(piece: PieceCount, solved: Solved) -> tuple[str, ...]:
    return (piece.obstacle, piece.role, piece.stock, _length(piece.length, solved), str(piece.count))


def _total(total: StockTotal, solved: Solved) -> tuple[str, ...]:
    if total.area is not None:
        return (total.stock, str(total.pieces), _area(total.area, solved))
    return (total.stock, str(total.pieces), _length(total.length, solved) if total.length else "")


def _area(square_inches: Fraction, solved: Solved) -> str:
    """Return an area to the tenth, a half going up, in the project's units."""
    if _metric(solved):
        return f"{_tenths(square_inches * MILLIMETRES_PER_INCH**2 / SQUARE_MILLIMETRES_PER_SQUARE_METRE)} m²"
    return f"{_tenths(square_inches / SQUARE_INCHES_PER_SQUARE_FOOT)} sq ft"


def _tenths(value: Fraction) -> str:
    return f"{floor(value * 10 + Fraction(1, 2)) / 10:.1f}"


def _metric(solved: Solved) -> bool:
    return solved.project.record.units == "metric"


def _length(length: Length, solved: Solved) -> str:
    shown = show_millimetres(length) if _metric(solved) else show_feet(length)
    return shown.replace("\u200a", " ").replace("\u00a0", " ").replace("\u2044", "/")


def _columns(rows: list[tuple[str, ...]]) -> str:
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return "\n".join(
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows
    )
