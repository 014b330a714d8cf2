"""Positions as records write them in, stretches and points on the level's axes out, or the Problem that is in the way.

A single length is the middle of a thing and comes out as a stretch without size; a stretch keeps both its ends.
"""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.frame import Frame
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Point
from bookgen.model.length import Length
from bookgen.model.problem import Problem, said
from bookgen.model.project import ObstacleFile, Project, Step
from bookgen.model.records.inside import At
from bookgen.model.records.obstacle import Run
from bookgen.model.records.values import Height, HeightDatum, Offset, OffsetDatum, Rise, Span
from bookgen.model.solved import SolvedLevel
from bookgen.solve.framing import Stretch
from bookgen.solve.site import free_frame, height_above_slab, off_the_block, wall_frame

FURTHEST_OUTSIDE = Fraction(36)  # inches past the block that a pipe through the wall may be located at
FURTHEST_UP = Fraction(240)  # inches over or under the slab
HEIGHTS: tuple[tuple[str, str, HeightDatum], ...] = (
    ("above_slab", "above slab", "slab"),
    ("above_floor", "above floor", "floor"),
    ("below_joists", "below joists", "joists"),
)
OFFSETS: tuple[tuple[str, str, OffsetDatum], ...] = (
    ("off_the_block", "off the block", "block"),
    ("off_the_finished_wall", "off the finished wall", "finished wall"),
)
TOWARD: dict[str, tuple[Axis, int]] = {"east": ("x", 1), "west": ("x", -1), "north": ("y", 1), "south": ("y", -1)}


@dataclass(frozen=True, slots=True)
class Ground:
    """What a record's positions are measured on: the level and, where the record has one, its run's frame."""

    project: Project
    file: ObstacleFile
    level: SolvedLevel
    frame: Frame | None

    def problem(self, code: str, path: tuple[Step, ...], value: str, rule: str, repair: str) -> Problem:
        """Return a Problem at a value of this record."""
        return Problem(self.project.places.of(self.file.file, *path), code, said(path), value, rule, repair)


@dataclass(frozen=True, slots=True)
class Spot:
    """A stretch on each axis of the level, in inches; both ends are equal where only the middle is written."""

    x: Stretch
    y: Stretch
    z: Stretch
    rises: Rise | None

    def on(self, axis: Axis) -> Stretch:
        """Return the stretch on *axis*."""
        return self.x if axis == "x" else self.y if axis == "y" else self.z

    def stretched(self) -> tuple[Axis, ...]:
        """Return the axes on which both ends are written."""
        axes: tuple[Axis, ...] = ("x", "y", "z")
        return tuple(axis for axis in axes if self.on(axis)[0] < self.on(axis)[1])

    def middle(self) -> Point:
        """Return the point in the middle of the stretches."""
        return Point(sum(self.x) / Fraction(2), sum(self.y) / Fraction(2), sum(self.z) / Fraction(2))


def ground(project: Project, file: ObstacleFile, level: SolvedLevel) -> Ground:
    """Return what a record's positions are measured on."""
    run = file.record.run
    return Ground(project, file, level, None if run is None else run_frame(run, level))


def run_outside(on: Ground) -> tuple[Problem, ...]:
    """Return an `outside-the-level` Problem for a record's run that goes past the block walls."""
    run = on.file.record.run
    if run is None or on.frame is None:
        return ()
    length = on.level.east_west if on.frame.along == "x" else on.level.north_south
    if run.from_.inches >= 0 and run.to.inches <= length:
        return ()
    value = f"{on.project.tape.short(run.from_)} to {on.project.tape.short(run.to)}"
    rule, repair = f"the level ends at {on.project.tape.short(length)}", "write stations between the block walls"
    return (on.problem("outside-the-level", ("run",), value, rule, repair),)


def run_frame(run: Run, level: SolvedLevel) -> Frame:
    """Return the frame of a record's run."""
    if run.along == "east" or run.along == "north":
        return free_frame(run.along)
    return wall_frame(run.along, (level.east_west, level.north_south))


def locate(at: At, on: Ground, path: tuple[Step, ...]) -> Spot | Problem:
    """Return where *at* is on the level; *path* leads to it in the record.

    The Problem is `wall-missing` where along or an offset has no wall to be measured on, or `outside-the-level`.
    """
    plan = _on_plan(at, on, path)
    if isinstance(plan, Problem):
        return plan
    name, words, datum = next(row for row in HEIGHTS if getattr(at, row[0]) is not None)
    ends = _ends(getattr(at, name))
    up = sorted(height_above_slab(Height(end, datum), on.level) for end in ends)
    spot = Spot(plan[0], plan[1], (up[0], up[1]), at.rises)
    return _outside(spot, on, (*path, words)) or spot


def _on_plan(at: At, on: Ground, path: tuple[Step, ...]) -> tuple[Stretch, Stretch] | Problem:
    if at.east is not None and at.north is not None:
        return _pair(at.east), _pair(at.north)
    assert at.along is not None  # noqa: S101  (the record's own validator has seen to it)
    frame = on.frame if at.wall is None else wall_frame(at.wall, (on.level.east_west, on.level.north_south))
    if frame is None or (at.wall is None and frame.name in {"east", "north"}):
        return on.problem(
            "wall-missing",
            (*path, "along"),
            "",
            "it does not say which wall it is measured on",
            "add wall: north wall (or south, east, west), or write east and north instead",
        )
    name, _, datum = next(row for row in OFFSETS if getattr(at, row[0]) is not None)
    offs = [off_the_block(Offset(end, datum), on.level) for end in _ends(getattr(at, name))]
    across = sorted(frame.zero + frame.off * off for off in offs)
    along = _pair(at.along)
    return (along, (across[0], across[1])) if frame.along == "x" else ((across[0], across[1]), along)


def _ends(value: Length | Span) -> tuple[Length, Length]:
    return (value.low, value.high) if isinstance(value, Span) else (value, value)


def _pair(value: Length | Span) -> Stretch:
    low, high = _ends(value)
    return low.inches, high.inches


def _outside(spot: Spot, on: Ground, path: tuple[Step, ...]) -> Problem | None:
    limits: tuple[tuple[Axis, Fraction, Fraction, str], ...] = (
        ("x", -FURTHEST_OUTSIDE, on.level.east_west + FURTHEST_OUTSIDE, "from west to east"),
        ("y", -FURTHEST_OUTSIDE, on.level.north_south + FURTHEST_OUTSIDE, "from south to north"),
        ("z", -FURTHEST_UP, FURTHEST_UP, "up"),
    )
    for axis, low, high, words in limits:
        if spot.on(axis)[0] < low or spot.on(axis)[1] > high:
            rule = f"it would lie far outside the level, which is {_size(on, axis)} {words}"
            return on.problem(
                "outside-the-level", path[:-1], "", rule, "look for a slip in the lengths and their units"
            )
    return None


def _size(on: Ground, axis: Axis) -> str:
    size = {"x": on.level.east_west, "y": on.level.north_south, "z": on.level.joists}[axis]
    return on.project.tape.short(size)
