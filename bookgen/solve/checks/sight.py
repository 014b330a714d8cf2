"""What every check looks at: the project, its solved level on the level's own axes, and the figures of its codes.

The box round every part and every hidden thing is worked out once, here, since most checks ask for all of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, HiddenThing, Part
from bookgen.model.frame import LEVEL
from bookgen.model.geometry import ACROSS, Axis, Box, Point, Prism
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.inside import Hidden
from bookgen.model.solved import SolvedLevel, SolvedObstacle, SolvedRoom
from bookgen.solve.framing import Stretch
from bookgen.trade.limits import CodeBook, Limit, limits


@dataclass(frozen=True, slots=True)
class SeenPart:
    """One piece of work with the box round it on the level's axes; *assembly* is None for the shell."""

    assembly: Assembly | None
    part: Part
    box: Box


@dataclass(frozen=True, slots=True)
class SeenThing:
    """One hidden thing, its record, and the boxes round its solids on the level's axes."""

    file: ObstacleFile
    record: Hidden
    thing: HiddenThing
    boxes: tuple[Box, ...]

    @property
    def box(self) -> Box:
        """Return the box round all of it."""
        whole = self.boxes[0]
        for one in self.boxes[1:]:
            whole = whole.joined(one)
        return whole


@dataclass(frozen=True, slots=True)
class SeenFace:
    """One finished face on the level's axes: across *axis* at *at*, looking to the side of *toward*.

    *first* and *second* are its stretches on the two other axes, in the order of ACROSS.
    """

    assembly: Assembly
    face: Face
    axis: Axis
    at: Fraction
    toward: int
    first: Stretch
    second: Stretch

    def depth(self, point: Point) -> Fraction | None:
        """Return how far behind the face a point lies, negative in front of it; None where it is beside the face."""
        u, v = point.across(self.axis)
        if not (self.first[0] <= u <= self.first[1] and self.second[0] <= v <= self.second[1]):
            return None
        return (self.at - point.on(self.axis)) * self.toward


@dataclass(frozen=True, slots=True)
class Sight:
    """A level worked out, before anybody has checked it. *book* knows the editions that the authority works from.

    *parts* are those of every treatment, wall and the shell; *walls* are the linings and partitions.
    """

    project: Project
    level: SolvedLevel
    rooms: tuple[SolvedRoom, ...]
    obstacles: tuple[SolvedObstacle, ...]
    book: CodeBook
    parts: tuple[SeenPart, ...]
    things: tuple[SeenThing, ...]
    faces: tuple[SeenFace, ...]

    def governing(self, limit: str) -> Limit | None:
        """Return the figure of the first code adopted that holds it; None where no edition adopted is held."""
        found = self.book.governing(limit)
        return found[0] if found else None

    def room(self, key: str) -> SolvedRoom | None:
        """Return a room by its key."""
        return next((room for room in self.rooms if room.key == key), None)


def sight(
    project: Project, level: SolvedLevel, rooms: tuple[SolvedRoom, ...], obstacles: tuple[SolvedObstacle, ...]
) -> Sight:
    """Return the sight of a solved level, with the limits of the editions that its record names."""
    codes = project.record.codes
    texts = [codes.building, codes.electrical]
    if codes.plumbing is not None:  # what it says of pipes goes before what the building code says
        texts = [codes.plumbing, *texts]
    assemblies = [one.assembly for one in obstacles if one.assembly is not None] + list(level.linings)
    return Sight(
        project,
        level,
        rooms,
        obstacles,
        limits(dict(edition(text) for text in texts)),
        (*(_part(None, part) for part in level.shell), *(_part(a, part) for a in assemblies for part in a.parts)),
        tuple(_things(project, obstacles)),
        tuple(_face(assembly, face) for assembly in assemblies for face in assembly.faces),
    )


def edition(text: str) -> tuple[str, str]:
    """Return a code and its edition: IRC 2021 -> IRC, 2021; a text without a year has no edition."""
    code, _, year = text.strip().rpartition(" ")
    return (code, year) if code else (text.strip(), "")


def _part(assembly: Assembly | None, part: Part) -> SeenPart:
    frame = LEVEL if assembly is None else assembly.frame
    return SeenPart(assembly, part, frame.solid_to_level(part.solid).bounds())


def _things(project: Project, obstacles: tuple[SolvedObstacle, ...]) -> Iterator[SeenThing]:
    for file, obstacle in zip(project.obstacles, obstacles, strict=True):
        for record, thing in zip(file.record.inside, obstacle.hidden, strict=True):
            yield SeenThing(file, record, thing, tuple(solid.bounds() for solid in thing.solids))


def _face(assembly: Assembly, face: Face) -> SeenFace:
    """Return a face on the level's axes: it is a prism without thickness there."""
    solid = assembly.frame.solid_to_level(Prism(face.outline, face.axis, face.at, face.at))
    axis: Axis = solid.axis if isinstance(solid, Prism) else face.axis
    box, (first, second) = solid.bounds(), ACROSS[axis]
    return SeenFace(
        assembly,
        face,
        axis,
        box.low.on(axis),
        face.toward * (assembly.frame.off if face.axis == "y" else 1),
        (box.low.on(first), box.high.on(first)),
        (box.low.on(second), box.high.on(second)),
    )
