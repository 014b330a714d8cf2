"""A stretch of wall and its holes in; its board in rectangles and its finished face as one outline out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Face, Part
from bookgen.model.geometry import Polygon
from bookgen.solve.board import board, rectangle
from bookgen.solve.cutout import Rectangle, cut_out
from bookgen.solve.framing import Stretch
from bookgen.solve.studwork import StudWall

BOARD_OFF_SLAB = Fraction(1, 2)  # board is kept off the concrete, behind the base


@dataclass(frozen=True, slots=True)
class Sheet:
    """One stretch of wall that gets board on one side: *toward* +1 or -1, the room it looks into, its name."""

    name: str
    toward: int
    patch: Rectangle
    thickness: Fraction
    room: str


def sheathe(wall: StudWall, sheet: Sheet, holes: Iterable[Rectangle]) -> tuple[tuple[Part, ...], Face]:
    """Return the board of one stretch in rectangles round its *holes*, and the finished face as one outline.

    The outline of the face goes round each hole by a slit from its foot, so that its area is that of the board.
    """
    patch, off = sheet.patch, wall.off()
    at = wall.across[1] if sheet.toward > 0 else wall.across[0]
    holes = tuple(_clipped(hole, patch) for hole in holes if hole.meets(patch))
    parts = []
    for number, piece in enumerate(cut_out(patch, holes), 1):
        outline = rectangle(off, **{wall.along: piece.u, "z": piece.v})
        name = f"{sheet.name}, board {number}"
        parts.append(board(name, off, at, sheet.toward, outline, sheet.thickness, sheet.room)[0])
    face = Face(sheet.name, off, at + sheet.toward * sheet.thickness, sheet.toward, outlined(patch, holes), sheet.room)
    return tuple(parts), face


def outlined(patch: Rectangle, holes: Iterable[Rectangle]) -> Polygon:
    """Return the outline of a face with its holes, each by a slit from the low edge of *v*."""
    (low, high), (foot, top) = patch.u, patch.v
    corners = [(low, foot)]
    for hole in sorted(disjoint(holes), key=lambda h: (h.u, h.v)):
        (u1, u2), (v1, v2) = hole.u, hole.v
        if v1 == foot:
            corners += [(u1, foot), (u1, v2), (u2, v2), (u2, foot)]
        else:
            corners += [(u1, foot), (u1, v2), (u2, v2), (u2, v1), (u1, v1), (u1, foot)]
    corners += [(high, foot), (high, top), (low, top)]
    return Polygon(tuple(c for c, before in zip(corners, [None, *corners], strict=False) if c != before))


def disjoint(patches: Iterable[Rectangle]) -> tuple[Rectangle, ...]:
    """Return patches that cover the same area without sharing any of it."""
    found: list[Rectangle] = []
    for patch in patches:
        found += cut_out(patch, [_clipped(f, patch) for f in found if f.meets(patch)])
    return tuple(found)


def _clipped(patch: Rectangle, whole: Rectangle) -> Rectangle:
    return Rectangle(_within(patch.u, whole.u), _within(patch.v, whole.v))


def _within(stretch: Stretch, whole: Stretch) -> Stretch:
    return max(stretch[0], whole[0]), min(stretch[1], whole[1])
