"""The level and rooms of the project record in, what can't be so in a house as Problems out, each at its field."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from bookgen.model.geometry import Corner, Polygon
from bookgen.model.problem import Problem, said
from bookgen.model.project import PROJECT_FILE, Project, Step
from bookgen.model.records.values import Height
from bookgen.model.solved import SolvedLevel
from bookgen.solve.framing import Stretch
from bookgen.solve.site import height_above_slab

Edge = tuple[Corner, Corner]


def level_nonsense(project: Project, level: SolvedLevel) -> Iterator[Problem]:
    """Yield a Problem for each figure of the level that no house can have.

    They are `joists-below-floor`, `joist-off-level`, `base-too-high`, `window-below-slab` and, for a partition or a
    window beyond the block walls, `outside-the-level`.
    """
    record = project.record.level
    if level.joists <= level.floor:
        rule = f"the finished floor is {project.tape.short(level.floor)} above the slab"
        path = ("level", "joists", "underside")
        yield _problem(
            project, "joists-below-floor", path, project.tape.long(level.joists), rule, "measure it up from the slab"
        )
    across = level.east_west if record.joists.run == "north" else level.north_south
    if not 0 <= record.joists.first.inches <= across:
        rule = f"the joists lie between the block walls, 0 to {project.tape.long(across)}"
        path, value = ("level", "joists", "first"), project.tape.long(record.joists.first)
        yield _problem(project, "joist-off-level", path, value, rule, "write the middle of one that is over the level")
    base = record.finishes.base
    if base is not None and level.floor + base.inches >= level.joists:
        rule = f"over the floor there are {project.tape.long(level.joists - level.floor)} up to the joists"
        path, value = ("level", "finishes", "base"), project.tape.long(base)
        yield _problem(project, "base-too-high", path, value, rule, "write the height of the baseboard")
    yield from _walls(project, level)


def _walls(project: Project, level: SolvedLevel) -> Iterator[Problem]:
    for key, wall in project.record.partitions.items():
        own, other = (
            (level.east_west, level.north_south) if wall.runs == "east" else (level.north_south, level.east_west)
        )
        for field, span, size in (("along", wall.along, own), ("thick", wall.thick, other)):
            if span.low.inches < 0 or span.high.inches > size:
                yield _outside(project, ("partitions", key, field), (span.low.inches, span.high.inches), size)
    for key, window in project.record.windows.items():
        size = level.east_west if window.wall in {"north wall", "south wall"} else level.north_south
        ends = window.along.low.inches, window.along.high.inches
        if ends[0] < 0 or ends[1] > size:
            yield _outside(project, ("windows", key, "along"), ends, size)
        if height_above_slab(window.sill, level) < 0:
            rule, repair = "a window's opening is over the slab", "measure it up from the slab"
            value = project.tape.short(window.sill.length)
            yield _problem(project, "window-below-slab", ("windows", key, "sill"), value, rule, repair)


def _outside(project: Project, path: tuple[Step, ...], ends: Stretch, size: Fraction) -> Problem:
    rule = f"the level goes from 0 to {project.tape.long(size)} there"
    value = " to ".join(project.tape.long(end) for end in ends)
    return _problem(project, "outside-the-level", path, value, rule, "write stations between the block walls")


def room_nonsense(project: Project, level: SolvedLevel) -> Iterator[Problem]:
    """Yield a Problem for each room whose outline or ceiling can't be so.

    They are `room-flat`, `room-skew`, `room-crossed`, `outside-the-level`, `ceiling-above-joists` and
    `ceiling-below-floor`. Walls that stand askew are not solved, so a room of theirs is refused.
    """
    for key, room in project.record.rooms.items():
        path: tuple[Step, ...] = ("rooms", key, "outline")
        corners = tuple((east.inches, north.inches) for east, north in room.outline)
        yield from _outline(project, level, path, corners)
        if room.ceiling is not None:
            yield from _ceiling(project, level, ("rooms", key, "ceiling"), room.ceiling)


def _outline(
    project: Project, level: SolvedLevel, path: tuple[Step, ...], corners: tuple[Corner, ...]
) -> Iterator[Problem]:
    edges = tuple(zip(corners, corners[1:] + corners[:1], strict=True))
    skew = next((index for index, edge in enumerate(edges) if not _straight(edge)), None)
    crossing = next((pair for pair in combinations(range(len(edges)), 2) if _meet(edges, *pair)), None)
    if Polygon(corners).area() == 0:
        rule, repair = "its corners enclose nothing", "list the corners in order, going round the room"
        yield _problem(project, "room-flat", path, "", rule, repair)
    elif skew is not None:
        first, second = edges[skew]
        rule = f"from {_spot(project, first)} to {_spot(project, second)} it goes along no wall of the house"
        repair = "let each corner lie straight east, west, north or south of the one before"
        yield _problem(project, "room-skew", (*path, skew), _spot(project, first), rule, repair)
    elif crossing is not None:
        start, other = (edges[number][0] for number in crossing)
        rule = f"its side from {_spot(project, start)} meets the one from {_spot(project, other)}"
        repair = "list the corners in order, going round the room"
        yield _problem(project, "room-crossed", (*path, crossing[0]), _spot(project, start), rule, repair)
    for index, (x, y) in enumerate(corners):
        if not (0 <= x <= level.east_west and 0 <= y <= level.north_south):
            rule = f"the level is {project.tape.long(level.east_west)} by {project.tape.long(level.north_south)}"
            repair = "look for a slip in the lengths and their units"
            yield _problem(project, "outside-the-level", (*path, index), _spot(project, (x, y)), rule, repair)


def _straight(edge: Edge) -> bool:
    (x1, y1), (x2, y2) = edge
    return (x1 == x2) != (y1 == y2)


def _meet(edges: tuple[Edge, ...], first: int, second: int) -> bool:
    """Tell whether two sides of an outline touch; neighbours share a corner, and may not turn back on themselves."""
    one, other = edges[first], edges[second]
    if second - first in {1, len(edges) - 1}:
        return sum((one[1][axis] - one[0][axis]) * (other[1][axis] - other[0][axis]) for axis in (0, 1)) < 0
    return all(
        max(min(a[axis] for a in one), min(b[axis] for b in other))
        <= min(max(a[axis] for a in one), max(b[axis] for b in other))
        for axis in (0, 1)
    )


def _ceiling(project: Project, level: SolvedLevel, path: tuple[Step, ...], ceiling: Height) -> Iterator[Problem]:
    height, value = height_above_slab(ceiling, level), project.tape.long(ceiling.length)
    if height > level.joists:
        rule, repair = "it lies above the joists that carry it", "write a height under the joists, with its datum"
        yield _problem(project, "ceiling-above-joists", path, value, rule, repair)
    elif height <= level.floor:
        rule = f"the finished floor is {project.tape.short(level.floor)} above the slab"
        yield _problem(project, "ceiling-below-floor", path, value, rule, "measure it up from the slab or the floor")


def _spot(project: Project, corner: Corner) -> str:
    return f"[{project.tape.short(corner[0])}, {project.tape.short(corner[1])}]"


def _problem(project: Project, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
    return Problem(project.places.of(PROJECT_FILE, *path), code, said(path), value, rule, repair)
