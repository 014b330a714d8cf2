"""The place of something long in, the points of its axis on the level out: one leg, or a path with its turns."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Point
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import Hidden
from bookgen.model.records.values import Rise
from bookgen.solve.framing import Stretch
from bookgen.solve.positions import TOWARD, Ground, Spot, locate

RISE_SLACK = Fraction(1, 4)  # inches: as near as two heights of a long pipe can be taped
HEIGHT_WORDS = frozenset({"above slab", "above floor", "below joists"})


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight stretch of an axis, from *start* to *end*."""

    start: Point
    end: Point

    def axis(self) -> Axis | None:
        """Return the axis of the level that it runs along, sloped or not; None where it crosses the plan askew."""
        way = self.end.minus(self.start)
        if way.x and way.y:
            return None
        return "x" if way.x else "y" if way.y else "z"


def legs(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Leg, ...] | Problem:
    """Return the legs of a thing's axis; *at* with one stretch gives one, *path* one between two points."""
    if hidden.at is None:
        return _path_legs(hidden, on, path)
    spot = locate(hidden.at, on, (*path, "at"))
    if isinstance(spot, Problem):
        return spot
    axes = spot.stretched()
    if len(axes) != 1:
        rule = "it has no length" if not axes else "more than one direction has two ends"
        repair = "write both ends in the one direction that it runs: 40 in to 192 in, and its middle in the others"
        return on.problem("no-length", (*path, "at"), "", rule, repair)
    leg = along(spot, axes[0], on, path)
    return leg if isinstance(leg, Problem) else (leg,)


def along(spot: Spot, axis: Axis, on: Ground, path: tuple[Step, ...]) -> Leg | Problem:
    """Return the leg through the middle of a spot along *axis*; with a rise, the height is that of its low end."""
    middle, (low, high) = spot.middle(), spot.on(axis)
    start, end = _on(middle, axis, low), _on(middle, axis, high)
    if spot.rises is None:
        return Leg(start, end)
    rise = _rise_along(spot.rises, axis)
    if rise is None:
        rule = f"it runs {_way_words(axis)}, so it can't rise to the {spot.rises.toward}"
        repair = "write the end that it rises to, or delete the line"
        return on.problem("rise-across", (*path, "at", "rises"), "", rule, repair)
    lift = abs(rise) * (high - low)
    return Leg(start, _on(end, "z", end.z + lift)) if rise > 0 else Leg(_on(start, "z", start.z + lift), end)


def _rise_along(rises: Rise, axis: Axis) -> Fraction | None:
    """Return the rise per inch toward the high end of *axis*; None where it rises another way."""
    toward, sign = TOWARD[rises.toward]
    return rises.slope * sign if toward == axis else None


def _on(point: Point, axis: Axis, value: Fraction) -> Point:
    values = {"x": point.x, "y": point.y, "z": point.z, axis: value}
    return Point(values["x"], values["y"], values["z"])


def _way_words(axis: Axis) -> str:
    return {"x": "east and west", "y": "north and south", "z": "up and down"}[axis]


def _path_legs(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Leg, ...] | Problem:
    points: list[Point] = []
    for index, at in enumerate(hidden.path):
        where = (*path, "path", index)
        spot = locate(at, on, where)
        if isinstance(spot, Problem):
            return spot
        if spot.stretched():
            rule, repair = "a point of a path is a point", "write one length in each direction"
            return on.problem("path-point-stretch", where, "", rule, repair)
        if points and points[-1] == spot.middle():
            rule, repair = "it is the same point as the one before", "delete one of them"
            return on.problem("path-doubles", where, "", rule, repair)
        points.append(spot.middle())
    if len(points) < 2:
        return on.problem("path-too-short", (*path, "path"), "", "a path has at least two points", "add the other end")
    found = tuple(Leg(start, end) for start, end in pairwise(points))
    return _rises_agree(hidden, found, on, path) or found


def _rises_agree(hidden: Hidden, found: tuple[Leg, ...], on: Ground, path: tuple[Step, ...]) -> Problem | None:
    """Compare each rise in a path with the heights at both ends of the leg that starts there."""
    for index, at in enumerate(hidden.path):
        if at.rises is None:
            continue
        where = (*path, "path", index, "rises")
        if index == len(found):
            return on.problem("rise-across", where, "", "nothing follows the last point", "move it to the leg's start")
        leg = found[index]
        axis = leg.axis()
        rise = None if axis is None else _rise_along(at.rises, axis)
        if axis is None or rise is None:
            rule = f"the leg does not run to the {at.rises.toward}"
            return on.problem("rise-across", where, "", rule, "write the end that it rises to, or delete the line")
        way = leg.end.minus(leg.start)
        if abs(rise * way.on(axis) - way.z) > RISE_SLACK:
            tape = on.project.tape
            rule = f"over the leg it makes {tape.short(rise * way.on(axis))}, the heights {tape.short(way.z)}"
            return on.problem("rise-disagrees", where, "", rule, "measure both heights again, or delete the line")
    return None


def middle_of(stretch: Stretch) -> Fraction:
    """Return the middle of a stretch."""
    return (stretch[0] + stretch[1]) / 2
