"""Rooms and furred ceilings in, which room each stretch of a wall looks into and how high its board goes, out."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from itertools import pairwise

from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Point, Polygon, distance_squared
from bookgen.model.project import Project
from bookgen.model.records.overhead import Furring
from bookgen.model.solved import SolvedLevel
from bookgen.solve.choices import chosen
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.neighbours import SHORT_OF_WALL
from bookgen.solve.site import height_above_slab

JUST_INSIDE = Fraction(1, 2)  # inches in front of a finished face: the point that is asked which room it is in
BARE_USES = frozenset({"utility"})  # rooms whose walls stay bare studs on their own side


@dataclass(frozen=True, slots=True)
class Side:
    """One stretch of one side of a wall: where it is along, the room, and the underside of that room's ceiling."""

    along: Stretch
    room: str
    name: str
    top: Fraction


@dataclass(frozen=True, slots=True)
class _Ceiling:
    """A furred ceiling over a rectangle of the level, at its finished height."""

    room: str
    x: Stretch
    y: Stretch
    height: Fraction


def sides(
    project: Project, level: SolvedLevel, frame: Frame, run: Stretch, face: Fraction, toward: int
) -> tuple[Side, ...]:
    """Return the stretches of one side of a wall that get board, in order along the run.

    *face* is its finished face in *frame*, *toward* the side that looks into the rooms. Stretches that look into no
    room, or into one that stays bare, are left out.
    """
    ceilings = tuple(_ceilings(project, level))
    points = sorted({*run, *(b for b in _breaks(project, frame, ceilings) if run[0] < b < run[1])})
    found: list[Side] = []
    for low, high in pairwise(points):
        spot = frame.to_level(Point((low + high) / 2, face + toward * JUST_INSIDE, Fraction(0)))
        side = _side(project, level, (low, high), spot, ceilings)
        if side is None:
            continue
        last = found[-1] if found else None
        if last and last.along[1] == low and (last.room, last.top) == (side.room, side.top):
            found[-1] = Side((last.along[0], high), side.room, side.name, side.top)
        else:
            found.append(side)
    return tuple(found)


def _side(
    project: Project, level: SolvedLevel, along: Stretch, spot: Point, ceilings: tuple[_Ceiling, ...]
) -> Side | None:
    for key, room in project.record.rooms.items():
        outline = Polygon(tuple((east.inches, north.inches) for east, north in room.outline))
        if distance_squared(outline, (spot.x, spot.y)) or room.use in BARE_USES:
            continue
        furred = tuple(c for c in ceilings if c.room == key)
        if room.ceiling is None:
            plain = level.joists
        else:  # a room that has strips over a part of it has board on the joists over the rest
            plain = level.joists - level.ceiling_board if furred else height_above_slab(room.ceiling, level)
        over = (c.height for c in furred if _holds(c.x, spot.x) and _holds(c.y, spot.y))
        return Side(along, key, room.name, next(over, plain))
    return None


def _holds(stretch: Stretch, value: Fraction) -> bool:
    return stretch[0] <= value <= stretch[1]


def _ceilings(project: Project, level: SolvedLevel) -> Iterator[_Ceiling]:
    for file in project.obstacles:
        pick = chosen(file.record)
        furring = pick.choices if pick else None
        size = true_size(furring.strip) if isinstance(furring, Furring) else None
        if not isinstance(furring, Furring) or size is None:
            continue
        height = level.joists - size[0] - level.ceiling_board
        for area in furring.areas:
            along = area.along.low.inches, area.along.high.inches
            across = area.across.low.inches, area.across.high.inches
            x, y = (along, across) if furring.runs == "east" else (across, along)
            yield _Ceiling(area.room, _out_to_wall(x), _out_to_wall(y), height)


def _out_to_wall(stretch: Stretch) -> Stretch:
    """Return a stretch of strips out to the walls that it stops short of: strips may end a foot before a wall."""
    return stretch[0] - SHORT_OF_WALL, stretch[1] + SHORT_OF_WALL


def _breaks(project: Project, frame: Frame, ceilings: Iterable[_Ceiling]) -> Iterator[Fraction]:
    for room in project.record.rooms.values():
        for east, north in room.outline:
            yield east.inches if frame.along == "x" else north.inches
    for ceiling in ceilings:
        yield from ceiling.x if frame.along == "x" else ceiling.y
