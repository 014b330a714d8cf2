"""A stretch of wall and its holes in; its board in rectangles and its finished face as one outline out."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from bookgen.model.assembly import Face, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Corner, Polygon
from bookgen.solve.board import board, rectangle
from bookgen.solve.cutout import Rectangle, Shelf, bridged, cut_out, within
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
    holes = bridged(within(hole, patch) for hole in holes if hole.meets(patch))
    parts = []
    for number, piece in enumerate(cut_out(patch, holes), 1):
        outline = rectangle(off, **{wall.along: piece.u, "z": piece.v})
        name = f"{sheet.name}, board {number}"
        parts.append(board(name, off, at, sheet.toward, outline, sheet.thickness, sheet.room)[0])
    face = Face(sheet.name, off, at + sheet.toward * sheet.thickness, sheet.toward, outlined(patch, holes), sheet.room)
    return tuple(parts), face


def outlined(patch: Rectangle, holes: Iterable[Rectangle]) -> Polygon:
    """Return the outline of a face with its holes: notches in both edges of *v*, others by a slit from the low one."""
    (low, high), (foot, top) = patch.u, patch.v
    corners = [(low, foot)]
    found = sorted(disjoint(holes), key=lambda h: (h.u, h.v))
    above = [hole for hole in found if hole.v[1] == top and hole.v[0] > foot]
    for hole in (hole for hole in found if hole.v[1] != top or hole.v[0] <= foot):
        (u1, u2), (v1, v2) = hole.u, hole.v
        if v1 == foot:
            corners += [(u1, foot), (u1, v2), (u2, v2), (u2, foot)]
        else:
            corners += [(u1, foot), (u1, v2), (u2, v2), (u2, v1), (u1, v1), (u1, foot)]
    corners += [(high, foot), (high, top)]
    for hole in reversed(above):
        (u1, u2), under = hole.u, hole.v[0]
        corners += [(u2, top), (u2, under), (u1, under), (u1, top)]
    corners.append((low, top))
    return Polygon(_without_spikes(corners))


def _without_spikes(corners: list[Corner]) -> tuple[Corner, ...]:
    """Return corners without those said twice, and those where the outline turns straight back, as at a notch."""
    left, number = list(corners), 0
    while number < len(left):
        if not _is_spike(left[number - 1], left[number], left[(number + 1) % len(left)]):
            number += 1
            continue
        # What was before it has another neighbour now; of the last corner that is also the first one's.
        last = number == len(left) - 1
        del left[number]
        number = 0 if last else max(number - 1, 0)
    return tuple(left)


def _is_spike(before: Corner, here: Corner, after: Corner) -> bool:
    if here == before:
        return True
    came, goes = (here[0] - before[0], here[1] - before[1]), (after[0] - here[0], after[1] - here[1])
    return came[0] * goes[0] + came[1] * goes[1] < 0 and came[0] * goes[1] == came[1] * goes[0]


def disjoint(patches: Iterable[Rectangle]) -> tuple[Rectangle, ...]:
    """Return patches that cover the same area without sharing any of it."""
    found = Shelf()
    for patch in patches:
        found.add(cut_out(patch, [within(other, patch) for other in found.meeting(patch)]))
    return tuple(found.added)
