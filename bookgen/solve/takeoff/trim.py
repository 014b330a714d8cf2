"""Faces and doors in, the pieces of corner bead, base and casing out; a long one comes in lengths that are sold."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.assembly import Assembly, Face
from bookgen.model.cutting import Piece
from bookgen.model.geometry import ACROSS
from bookgen.model.length import Length
from bookgen.model.solved import Solved
from bookgen.solve.takeoff.corners import outside_corners

BEAD, BASE, CASING = "corner bead", "base trim", "casing"
FOOT = Fraction(1)  # inches over the finished floor: a face that comes down so far has a base at its foot
BARE = frozenset({"utility", "storage"})  # uses of rooms that get no base
REVEAL = Fraction(3)  # inches that a leg of casing is longer than its jamb, and half of what a head is; common practice
LEAST = Fraction(1)  # inches: under this a face has no foot worth a base
Stretch = tuple[Fraction, Fraction]


def bead_pieces(assemblies: Iterable[Assembly], longest: Length) -> tuple[Piece, ...]:
    """Return the bead of every outside corner."""
    return tuple(
        piece
        for assembly in assemblies
        for corner in outside_corners(assembly)
        for piece in _lengths(corner.inches, longest, f"{assembly.key} corner")
    )


def base_pieces(solved: Solved, assemblies: Iterable[Assembly], longest: Length) -> tuple[Piece, ...]:
    """Return the base at the foot of every finished wall; none where the level has none."""
    if solved.project.record.level.finishes.base is None:
        return ()
    rooms = {room.key for room in solved.rooms if room.use not in BARE}
    return tuple(
        piece
        for assembly in assemblies
        for face in assembly.faces
        if face.room in rooms and face.axis != "z"
        for stretch in _feet(face, solved.level.floor + FOOT)
        for piece in _lengths(stretch[1] - stretch[0], longest, f"{assembly.key} {face.name}")
    )


def casing_pieces(assemblies: Iterable[Assembly], longest: Length) -> tuple[Piece, ...]:
    """Return two legs and a head for each doorway with a door, on the side that is seen."""
    found: list[Piece] = []
    for assembly in assemblies:
        jambs = [part.solid.bounds() for part in assembly.parts if part.role == "jamb"]
        for box in jambs:
            upright = box.size("z") >= max(box.size("x"), box.size("y"))
            long = box.size("z") + REVEAL if upright else max(box.size("x"), box.size("y")) + 2 * REVEAL
            found += _lengths(long, longest, f"{assembly.key} {'leg' if upright else 'head'} of the door")
    return tuple(found)


def _feet(face: Face, highest: Fraction) -> list[Stretch]:
    """Return where a face comes down to the floor, stretches that touch put together."""
    index = ACROSS[face.axis].index("z")
    stretches = sorted(
        (min(start[1 - index], end[1 - index]), max(start[1 - index], end[1 - index]))
        for start, end in pairwise((*face.outline.corners, face.outline.corners[0]))
        if start[index] == end[index] <= highest and start[1 - index] != end[1 - index]
    )
    joined: list[Stretch] = []
    for low, high in stretches:
        if joined and low <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(high, joined[-1][1]))
        else:
            joined.append((low, high))
    return [(low, high) for low, high in joined if high - low >= LEAST]


def _lengths(long: Fraction, longest: Length, label: str) -> Iterator[Piece]:
    """Yield a stretch in as few pieces as the longest length sold allows: whole ones, and what is left."""
    while long > longest.inches:
        yield Piece(longest, 1, label)
        long -= longest.inches
    yield Piece(Length(long), 1, label)
