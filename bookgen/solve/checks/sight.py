"""What every check looks at: the project, its solved level on the level's own axes, and the figures of its codes.

The box round every part and every hidden thing is worked out once, here, since most checks ask for all of them.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from bookgen.model.assembly import Assembly, Face, HiddenThing, Part
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Corner, Point, Prism, Solid, box_round, distance_squared
from bookgen.model.place import Place
from bookgen.model.project import ObstacleFile, Project
from bookgen.model.records.inside import Hidden
from bookgen.model.records.obstacle import AccessPoint
from bookgen.model.records.project import Codes
from bookgen.model.solved import SolvedLevel, SolvedObstacle, SolvedRoom
from bookgen.model.tape import Tape
from bookgen.solve.checks.judge import Said
from bookgen.solve.crowd import Crowd, crowd
from bookgen.solve.framing import Stretch
from bookgen.trade.called import called
from bookgen.trade.fitting import Shape, fitting
from bookgen.trade.limits import CodeBook, Limit, LocalLimitError, limits, local_limit
from bookgen.trade.tongue import Say, Tongue, tongue

OPENS = frozenset({"door", "cover", "slab"})  # doors and covers open, and the slab is stood upon


@dataclass(frozen=True, slots=True)
class SeenPart:
    """One piece of work with the box round it on the level's axes; *assembly* is None for the shell."""

    assembly: Assembly | None
    part: Part
    box: Box

    def on_level(self) -> Solid:
        """Return the solid itself on the level's axes."""
        return self.part.solid if self.assembly is None else self.assembly.frame.solid_to_level(self.part.solid)


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
        return box_round(self.boxes)


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

    def behind(self, deep: Fraction) -> Box:
        """Return the box from the face to so many inches behind it."""
        spans = dict(zip(ACROSS[self.axis], (self.first, self.second), strict=True))
        spans[self.axis] = (self.at, self.at - self.toward * deep)
        return Box(
            Point(*(min(spans[axis]) for axis in AXES)),
            Point(*(max(spans[axis]) for axis in AXES)),
        )

    def depth(self, point: Point) -> Fraction | None:
        """Return how far behind the face a point lies, negative in front of it; None where it is beside the face."""
        u, v = point.across(self.axis)
        if not (self.first[0] <= u <= self.first[1] and self.second[0] <= v <= self.second[1]):
            return None
        return (self.at - point.on(self.axis)) * self.toward


@dataclass(frozen=True, slots=True)
class Reached:
    """An access point: its record, its place on the level, and what is in the way of a hand; "" where nothing is."""

    file: ObstacleFile
    point: AccessPoint
    at: Point
    place: Place
    barred: str

    def where(self, say: Say) -> str:
        """Return how findings name it."""
        return say("tag {tag}, {what}", tag=self.point.tag, what=self.point.what)

    def named(self, sort: str) -> bool:
        """Tell whether the owner's or the trade's word for it is one for a *sort* of thing."""
        words = called(sort)
        return bool(words.search(self.point.what) or words.search(self.point.trade_word or ""))


@dataclass(frozen=True, slots=True, eq=False)
class Sight:
    """A level worked out, before anybody has checked it. *book* knows the editions that the authority works from.

    *parts* are those of every treatment, wall and the shell. *standers* are what takes room: work and hidden things,
    each with one box; *standing* asks which of them meet a box. *access* are the access points, and *shut* the box
    round each treatment that is closed all round, with its name.
    """

    project: Project
    level: SolvedLevel
    rooms: tuple[SolvedRoom, ...]
    obstacles: tuple[SolvedObstacle, ...]
    book: CodeBook
    parts: tuple[SeenPart, ...]
    things: tuple[SeenThing, ...]
    faces: tuple[SeenFace, ...]
    standers: tuple[tuple[SeenPart | SeenThing, Box], ...]
    standing: Crowd
    access: tuple[Reached, ...] = ()
    shut: tuple[tuple[str, Box], ...] = ()

    @property
    def tape(self) -> Tape:
        """Return the tape that the project is measured with."""
        return self.project.tape

    @property
    def tongue(self) -> Tongue:
        """Return the language of the project's book."""
        return tongue(self.project.record.language)

    @property
    def say(self) -> Say:
        """Return what says a sentence of ours in that language."""
        return self.tongue.say

    def work(self, assembly: Assembly | None, part: Part) -> str:
        """Return what a part is called in a sentence, with the work that it belongs to."""
        name = self.tongue.name(part.name)
        if assembly is None:
            return self.say("the house's {part}", part=name)
        title = self.title(assembly)
        if title in name.lower():
            return name
        return self.say("{part} of the {title}", part=name, title=title)

    def title(self, assembly: Assembly) -> str:
        """Return what work is called in a sentence: wall soffit."""
        return self.tongue.name(assembly.title).lower()

    @property
    def codes(self) -> Codes:
        """Return which codes the authority works from."""
        return self.project.record.codes

    def said(self, code: str, place: Place, where: str, says: str, measured: str, hint: str) -> Said:
        """Return what a check saw, in words, to be judged."""
        return Said(code, place, where, says, measured, hint, self.tape, self.tongue)

    def governing(self, limit: str) -> Limit | None:
        """Return the figure of the first code adopted that holds it; None where no edition adopted is held."""
        found = self.book.governing(limit)
        return found[0] if found else None

    def held(self, limit: str) -> Limit | None:
        """Return the figure that governs, or where no adopted code holds it, the first one held of any code."""
        return self.book.held(limit)

    def by_assembly(self) -> Iterator[tuple[Assembly, tuple[SeenPart, ...]]]:
        """Yield each treatment and then each wall with its parts."""
        parts: dict[int, list[SeenPart]] = {}
        for seen in self.parts:
            parts.setdefault(id(seen.assembly), []).append(seen)
        built = (one.assembly for one in self.obstacles if one.assembly is not None)
        for assembly in (*built, *self.level.linings):
            yield assembly, tuple(parts.get(id(assembly), ()))

    def holds(self, room: SolvedRoom, spot: Corner) -> bool:
        """Tell whether a spot of the plan is in a room, or on its outline."""
        (east1, north1), (east2, north2) = room.outline.bounds()
        boxed = east1 <= spot[0] <= east2 and north1 <= spot[1] <= north2
        return boxed and distance_squared(room.outline, spot) == 0

    def room(self, key: str) -> SolvedRoom | None:
        """Return a room by its key."""
        return next((room for room in self.rooms if room.key == key), None)


def sight(
    project: Project, level: SolvedLevel, rooms: tuple[SolvedRoom, ...], obstacles: tuple[SolvedObstacle, ...]
) -> Sight:
    """Return the sight of a solved level, with the limits of the editions that its record names."""
    assemblies = [one.assembly for one in obstacles if one.assembly is not None] + list(level.linings)
    parts = (
        *(SeenPart(None, part, part.solid.bounds()) for part in level.shell),
        *(s for a in assemblies for s in _parts(a)),
    )
    things = tuple(_things(project, obstacles))
    faces = tuple(_face(assembly, face) for assembly in assemblies for face in assembly.faces)
    standers = tuple(_standers(parts, things))
    standing = crowd(box for _, box in standers)
    book = code_book(project.record.codes)
    return Sight(project, level, rooms, obstacles, book, parts, things, faces, standers, standing)


def _standers(parts: tuple[SeenPart, ...], things: tuple[SeenThing, ...]) -> Iterator[tuple[SeenPart | SeenThing, Box]]:
    yield from ((seen, seen.box) for seen in parts if seen.part.role not in OPENS)
    yield from ((seen, box) for seen in things for box in seen.boxes)


def code_book(codes: Codes) -> CodeBook:
    """Return the limits of the editions that a record names, with those that it gives itself."""
    texts = [codes.building, codes.electrical]
    if codes.plumbing is not None:  # what it says of pipes goes before what the building code says
        texts = [codes.plumbing, *texts]
    return limits(dict(edition(text) for text in texts), codes.jurisdiction, tuple(_local(codes)))


def _local(codes: Codes) -> Iterator[Limit]:
    for row in codes.local:
        try:
            yield local_limit(row.limit, row.is_, row.ordinance)
        except LocalLimitError:
            continue  # read has said so


def is_fitting(seen: SeenThing, shape: Shape) -> bool:
    """Tell whether a thing is a fitting of the table that stands so: a box, something in a pipe, or a pit."""
    row = fitting(seen.record.fitting) if seen.record.fitting is not None else None
    return row is not None and row.shape is shape


def edition(text: str) -> tuple[str, str]:
    """Return a code and its edition: IRC 2021 -> IRC, 2021; a text without a year has no edition."""
    code, _, year = text.strip().rpartition(" ")
    return (code, year) if code else (text.strip(), "")


def _parts(assembly: Assembly) -> Iterator[SeenPart]:
    return (SeenPart(assembly, part, box) for part, box in zip(assembly.parts, assembly.boxes(), strict=True))


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
