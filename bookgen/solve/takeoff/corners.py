"""The finished faces of a treatment in, the edges where two of them meet in an outside corner out.

An outside corner gets a bead: there each face ends in the plane of the other, or just behind it where one board laps
over the other, and all of it lies behind that plane.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, pairwise

from bookgen.model.assembly import Assembly, Face
from bookgen.model.geometry import ACROSS, AXES, Axis
from bookgen.model.length import Length

LAP = Fraction(3, 4)  # inches: one board laps over the edge of the other, so its face ends that much behind the corner
Stretch = tuple[Fraction, Fraction]


def outside_corners(assembly: Assembly) -> tuple[Length, ...]:
    """Return the length of every outside corner of one treatment, in the order of its faces."""
    faces = [face for face in assembly.faces if face.room]
    return tuple(
        Length(length) for one, other in combinations(faces, 2) if one.axis != other.axis for length in _met(one, other)
    )


def _met(one: Face, other: Face) -> Iterator[Fraction]:
    along: Axis = next(axis for axis in AXES if axis not in (one.axis, other.axis))
    for low, high in _edges(one, other, along):
        for low2, high2 in _edges(other, one, along):
            length = min(high, high2) - max(low, low2)
            if length > 0:
                yield length


def _edges(face: Face, other: Face, along: Axis) -> Iterator[Stretch]:
    """Yield where an edge of *face* lies in the plane of *other*, with *face* running back from it."""
    index = ACROSS[face.axis].index(along)
    across = 1 - index
    corners = face.outline.corners
    for start, end in pairwise((*corners, corners[0])):
        lap = (other.at - start[across]) * other.toward
        if start[across] == end[across] and 0 <= lap <= LAP and start[index] != end[index]:
            low, high = sorted((start[index], end[index]))
            if _behind(face, (low + high) / 2, index, start[across], other.toward):
                yield low, high


def _behind(face: Face, middle: Fraction, index: int, edge: Fraction, toward: int) -> bool:
    """Tell whether *face* runs back from an edge at *middle*, rather than out into the room that *toward* leads to."""
    crossings = 0
    corners = face.outline.corners
    for start, end in pairwise((*corners, corners[0])):
        low, high = sorted((start[index], end[index]))
        if low <= middle < high:
            share = (middle - start[index]) / (end[index] - start[index])
            at = start[1 - index] + share * (end[1 - index] - start[1 - index])
            crossings += (at - edge) * toward < 0
    return crossings % 2 == 1
