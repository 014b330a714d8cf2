"""A solved level in; every finished underside over it, on the level's axes with its headroom, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import SOFFITS, Assembly, Face
from bookgen.model.geometry import Corner, Point, Polygon
from bookgen.model.records.inside import Known
from bookgen.model.solved import Solved


@dataclass(frozen=True, slots=True)
class Over:
    """One underside: its outline east and north, its headroom over the finished floor, and its name.

    *known* is None for the ceiling of a room as its record gives it, where the model has no face of it.
    """

    outline: Polygon
    headroom: Fraction
    name: str
    soffit: bool = False
    known: Known | None = None

    @property
    def is_planned(self) -> bool:
        """Tell whether it was worked out and nobody has confirmed it."""
        return self.known is not None and self.known.how == "planned"


def undersides(solved: Solved) -> tuple[Over, ...]:
    """Return every underside in the order it is painted: bare rooms, then the others from the highest."""
    level, rooms = solved.level, {room.key: room.name for room in solved.rooms}
    found: list[Over] = []
    for assembly in level.linings:
        found += _of(assembly, "", level.floor, rooms)
    for obstacle, file in zip(solved.obstacles, solved.project.obstacles, strict=True):
        if obstacle.assembly is not None:
            found += _of(obstacle.assembly, file.record.obstacle, level.floor, rooms)
    joists = level.joists - level.floor
    bare = (Over(one.outline, one.ceiling.inches if one.ceiling else joists, one.name) for one in solved.rooms)
    return (*bare, *sorted(found, key=lambda one: -one.headroom))


def _of(assembly: Assembly, name: str, floor: Fraction, rooms: Mapping[str, str]) -> Iterator[Over]:
    """Yield the undersides of some work; what is framed down has its own name, a ceiling that of its room."""
    soffit = assembly.treatment in SOFFITS
    for face in looking_down(assembly):
        outline, headroom = _on_level(face, assembly, floor)
        yield Over(outline, headroom, name if soffit else rooms.get(face.room, name), soffit, assembly.known)


def looking_down(assembly: Assembly) -> Iterator[Face]:
    """Yield the finished faces that look down."""
    return (face for face in assembly.faces if face.axis == "z" and face.toward < 0)


def _on_level(face: Face, assembly: Assembly, floor: Fraction) -> tuple[Polygon, Fraction]:
    points = [assembly.frame.to_level(Point(u, v, face.at)) for u, v in without_holes(face.outline.corners)]
    return Polygon(tuple((point.x, point.y) for point in points)), points[0].z - floor


def without_holes(corners: Iterable[Corner]) -> tuple[Corner, ...]:
    """Return an outline without the holes that slits lead to: what lies between a corner and itself is left out."""
    kept: list[Corner] = []
    for corner in corners:
        if corner in kept:
            del kept[kept.index(corner) + 1 :]
        else:
            kept.append(corner)
    return tuple(kept)
