"""One sheet surface in: the board as a Part on the framing, and the finished Face that a person sees, out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.assembly import Face, Material, Part
from bookgen.model.geometry import ACROSS, Axis, Polygon, Prism
from bookgen.trade.board import boards

ROLE = "board"
KIND = "regular"  # boards of a treatment are plain gypsum board unless a check asks for more


def board(
    name: str, axis: Axis, at: Fraction, toward: int, outline: Polygon, thickness: Fraction, room: str
) -> tuple[Part, Face]:
    """Return a board laid against the framing face at *at*, on the side *toward* (+1, -1), and its finished face.

    *outline* is in the two coordinates across *axis*; inches. The face has the outline of the board.
    """
    finished = at + toward * thickness
    low, high = sorted((at, finished))
    part = Part(name, ROLE, Prism(outline, axis, low, high), Material.BOARD, board_stock(thickness))
    return part, Face(name, axis, finished, toward, outline, room)


def rectangle(axis: Axis, **spans: tuple[Fraction, Fraction]) -> Polygon:
    """Return the rectangle across *axis* between the pairs given for the other two axes: y=(0, 8), z=(76, 89)."""
    (u1, u2), (v1, v2) = (spans[name] for name in ACROSS[axis])
    return Polygon(((u1, v1), (u2, v1), (u2, v2), (u1, v2)))


def board_stock(thickness: Fraction) -> str:
    """Return the name of the plain gypsum board of that thickness, or "" where none is made."""
    rows = (row.name for row in boards() if row.kind == KIND and row.thickness.inches == thickness)
    return next(rows, "")
