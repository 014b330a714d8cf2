"""A finished face and the solved level in; the covers that lie in it, each with the number of its hang tag, out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.behind import FaceBehind, Stretch
from bookgen.model.geometry import Axis, Box
from bookgen.model.solved import Solved

NEAR = Fraction(1)  # inches by which a cover may stand before or behind the face that it lies in
COVER = "cover "  # how the part of an access point's cover is named, before its tag


@dataclass(frozen=True, slots=True)
class FaceCover:
    """A cover in a face: the tag of what is reached through it, and its stretches along and up the face."""

    tag: str
    along: Stretch
    up: Stretch


def covers_of(face: FaceBehind, solved: Solved) -> tuple[FaceCover, ...]:
    """Return the covers in a face, in the order of their tags."""
    found = (cover for tag, box in _covers(solved) if (cover := _in(face, tag, box)) is not None)
    return tuple(sorted(found, key=lambda cover: (cover.tag, cover.along, cover.up)))


def _covers(solved: Solved) -> Iterator[tuple[str, Box]]:
    """Yield every cover that has a tag, on the level's axes."""
    for one in solved.obstacles:
        tags = {spot.tag for spot in one.access}
        for part in one.assembly.parts if one.assembly is not None else ():
            tag = part.name.removeprefix(COVER)
            if part.role == "cover" and tag in tags and one.assembly is not None:
                yield tag, one.assembly.frame.box_to_level(part.solid.bounds())


def _in(face: FaceBehind, tag: str, box: Box) -> FaceCover | None:
    across, along, up = _axes(face)
    flat = box.low.on(across) - NEAR <= face.at <= box.high.on(across) + NEAR
    thin = box.size(across) < min(box.size(along), box.size(up))
    one, other = ((box.low.on(axis), box.high.on(axis)) for axis in (along, up))
    within = one[0] < face.along[1] and face.along[0] < one[1] and other[0] < face.up[1] and face.up[0] < other[1]
    return FaceCover(tag, one, other) if flat and thin and within else None


def _axes(face: FaceBehind) -> tuple[Axis, Axis, Axis]:
    """Return the axes of the level across a face, along it and up it."""
    if face.overhead:
        return "z", "x", "y"
    return ("y", "x", "z") if face.along_way == "east" else ("x", "y", "z")
