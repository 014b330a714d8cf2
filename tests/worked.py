"""A solved level in; its parts and hidden things on the level's axes, and outlines for the float library, out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from shapely import Polygon as Flat
from shapely import box as flat_box
from shapely.geometry.base import BaseGeometry

from bookgen.model.assembly import Assembly, HiddenThing, Material, Part
from bookgen.model.frame import LEVEL, Frame
from bookgen.model.geometry import Axis, Box, Circle, Outline
from bookgen.model.solved import Solved

WOOD = frozenset({Material.LUMBER, Material.TREATED, Material.BLOCKING})
HAIR = 1e-6  # square inches that the float library may leave over


@dataclass(frozen=True, slots=True)
class Piece:
    """A part on the level's axes, with whose it is; the shell is the house's."""

    owner: str
    part: Part
    box: Box

    def __str__(self) -> str:
        return f"{self.part.name} of {self.owner}"


def pieces(solved: Solved) -> tuple[Piece, ...]:
    """Return every part of every treatment, wall, ceiling and of the house itself, on the level's axes."""
    found = [_piece("the house", LEVEL, part) for part in solved.level.shell]
    return (*found, *(piece for one in built(solved) for piece in pieces_of(one)))


def pieces_of(assembly: Assembly) -> tuple[Piece, ...]:
    """Return the parts of one treatment on the level's axes."""
    return tuple(_piece(assembly.key, assembly.frame, part) for part in assembly.parts)


def _piece(owner: str, frame: Frame, part: Part) -> Piece:
    solid = frame.solid_to_level(part.solid)
    return Piece(owner, replace(part, solid=solid), solid.bounds())


def built(solved: Solved) -> tuple[Assembly, ...]:
    """Return every treatment and wall."""
    return (*(one.assembly for one in solved.obstacles if one.assembly is not None), *solved.level.linings)


def hidden(solved: Solved) -> tuple[HiddenThing, ...]:
    """Return every hidden thing of the level."""
    return tuple(thing for one in solved.obstacles for thing in one.hidden)


def flat(outline: Outline) -> BaseGeometry:
    """Return an outline as the float library has it; a circle as the square round it."""
    if isinstance(outline, Circle):
        (u, v), r = outline.centre, float(outline.radius)
        return flat_box(float(u) - r, float(v) - r, float(u) + r, float(v) + r)
    if outline.is_rectangle():
        (u1, v1), (u2, v2) = outline.bounds()
        return flat_box(float(u1), float(v1), float(u2), float(v2))
    return Flat([(float(u), float(v)) for u, v in outline.corners]).buffer(0)


def across(box: Box, axis: Axis) -> BaseGeometry:
    """Return a box as it looks along an axis."""
    (u1, v1), (u2, v2) = box.low.across(axis), box.high.across(axis)
    return flat_box(float(u1), float(v1), float(u2), float(v2))


def round_all(boxes: Iterable[Box]) -> Box:
    """Return the box round others."""
    rows = tuple(boxes)
    whole = rows[0]
    for box in rows[1:]:
        whole = whole.joined(box)
    return whole
