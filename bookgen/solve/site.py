"""The site of one treatment: level, run and hidden things in, one value that every treatment works from out."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import assert_never

from bookgen.model.assembly import Assembly, HiddenThing
from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box, box_round
from bookgen.model.place import Place
from bookgen.model.problem import Problem, said
from bookgen.model.project import ObstacleFile, Project, Step
from bookgen.model.records.inside import Wall
from bookgen.model.records.values import Height, Offset, Size
from bookgen.model.solved import SolvedLevel
from bookgen.model.tape import Tape
from bookgen.trade.tongue import Say, Tongue, tongue

Worked = tuple[Assembly | None, tuple[Problem, ...]]


@dataclass(frozen=True, slots=True)
class Envelope:
    """The room that one straight piece of a treatment fills: the box round its framing, and that over its board."""

    framed: Box
    finished: Box

    def moved(self, own: Frame, other: Frame) -> Envelope:
        """Return an envelope of one run's frame in another's."""
        framed, finished = (other.box_from_level(own.box_to_level(box)) for box in (self.framed, self.finished))
        return Envelope(framed, finished)


@dataclass(frozen=True, slots=True)
class Taken:
    """Room that other work keeps where it meets this one, in this run's frame; *what* says whose it is."""

    what: str
    treatment: str
    room: Envelope


@dataclass(frozen=True, slots=True)
class Guest:
    """An access opening that another record writes in a face of this work, on the level's axes.

    *room* is its place, flat where its face is, and on any axis that only its middle is written on.
    """

    what: str
    room: Box
    size: Size | None
    place: Place
    path: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Site:
    """Everything a treatment needs to know about where it stands.

    *hidden* is in the run's frame; *others* are the hidden things of the other records, in the run's frame too. *taken*
    is what the treatment gives way to, *guests* are the openings of other records in its faces; of such an opening
    *host* is the work that it lies in.
    """

    project: Project
    file: ObstacleFile
    level: SolvedLevel
    frame: Frame
    run: tuple[Fraction, Fraction]
    hidden: tuple[HiddenThing, ...]
    others: tuple[HiddenThing, ...]
    taken: tuple[Taken, ...] = ()
    guests: tuple[Guest, ...] = ()
    host: Taken | None = None

    @property
    def tape(self) -> Tape:
        """Return the tape that the project is measured with."""
        return self.project.tape

    @property
    def say(self) -> Say:
        """Return what says a sentence of ours in the language of the book."""
        return self.tongue.say

    @property
    def tongue(self) -> Tongue:
        """Return the language of the book."""
        return tongue(self.project.record.language)

    def place(self, *path: Step) -> Place:
        """Return where a value of this record stands."""
        return self.project.places.of(self.file.file, *path)

    def problem(self, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
        """Return a Problem at a value of this record."""
        return Problem(self.place(*path), code, said(path), value, rule, repair)

    def on_wall(self) -> bool:
        """Tell whether the run goes along a wall, and not free across the level."""
        return self.frame.name.endswith("wall")

    def bounds(self) -> Box | None:
        """Return the box round all hidden things with their clearances, in the run's frame; None for none."""
        boxes = [solid.bounds().grown(thing.clearance) for thing in self.hidden for solid in thing.solids]
        if not boxes:
            return None
        return box_round(boxes)


def wall_frame(wall: Wall, level_size: tuple[Fraction, Fraction]) -> Frame:
    """Return the frame of a run along a structural wall; *level_size* is east-west, north-south inside the block."""
    east_west, north_south = level_size
    match wall:
        case "north wall":
            return Frame("x", north_south, -1, wall)
        case "south wall":
            return Frame("x", Fraction(0), 1, wall)
        case "west wall":
            return Frame("y", Fraction(0), 1, wall)
        case "east wall":
            return Frame("y", east_west, -1, wall)
        case _:
            assert_never(wall)


def free_frame(way: str) -> Frame:
    """Return the frame of a run away from walls: y is the plan position across it."""
    return Frame("x" if way == "east" else "y", Fraction(0), 1, way)


def height_above_slab(height: Height, level: SolvedLevel) -> Fraction:
    """Return a height in inches above the slab, whatever it was measured from."""
    length = height.length.inches
    match height.datum:
        case "slab":
            return length
        case "floor":
            return level.floor + length
        case "joists":
            return level.joists - length
        case "ceiling":
            return level.joists - level.ceiling_board - length
        case _:
            assert_never(height.datum)


def off_the_block(offset: Offset, level: SolvedLevel) -> Fraction:
    """Return an offset in inches off the block, whichever face it was measured from."""
    return offset.length.inches if offset.datum == "block" else level.wall_face + offset.length.inches


def moved(thing: HiddenThing, frame: Frame) -> HiddenThing:
    """Return a hidden thing of the level in a run's frame."""
    if frame.is_level():
        return thing
    return replace(thing, solids=tuple(frame.solid_from_level(solid) for solid in thing.solids))
