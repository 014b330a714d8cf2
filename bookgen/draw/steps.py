"""A stair that is opened and a way of looking in; the lines of its steps out, which are no part of the work.

Only their rise and their tread are known, so they are lines without thickness: from the side the whole flight, behind
the wall; across it the one tread that the plane cuts; from above the nosings.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from bookgen.draw.eye import Eye
from bookgen.draw.notes import Note
from bookgen.draw.outlines import Rect
from bookgen.draw.pieces import Band
from bookgen.draw.shapes import spot
from bookgen.model.assembly import Assembly
from bookgen.model.geometry import Point
from bookgen.model.sketch import LineKind, Stroke
from bookgen.model.solved import Solved, SolvedObstacle
from bookgen.trade.tongue import Say

Stretch = tuple[Fraction, Fraction]
SHARES = (0.5, 0.3, 0.7, 0.1, 0.9)  # of a tread, where a note may point


@dataclass(frozen=True, slots=True)
class Flight:
    """The line over a stair's nosings, from its first one: *tread* is signed the way it goes up, *count* of risers."""

    first: Point
    tread: Fraction
    count: int

    @property
    def per_inch(self) -> Fraction:
        """How far the line rises for each inch of station."""
        return self.first.z / self.tread

    def on_line(self, point: Point) -> bool:
        """Tell whether a point lies as high as the line."""
        return point.z == self.first.z + (point.x - self.first.x) * self.per_inch


def flight(assembly: Assembly) -> Flight | None:
    """Return the steps of a treatment; None where it has none."""
    first, second = assembly.anchors.get("first nosing"), assembly.anchors.get("second nosing")
    top = assembly.anchors.get("upper floor")
    if first is None or second is None or top is None:
        return None
    return Flight(first, second.x - first.x, round(top.z / first.z))


def step_lines(solved: Solved, obstacle: SolvedObstacle, eye: Eye, bands: Sequence[Band]) -> tuple[Stroke, ...]:
    """Return the steps as far as the windows show them."""
    assembly, sides = obstacle.assembly, _sides(solved, obstacle)
    found = flight(assembly) if assembly is not None else None
    if assembly is None or found is None or sides is None:
        return ()
    if eye.axis == "y":
        return _from_the_side(found, eye, bands[0].window)
    return _tread(found, sides, eye, bands) if eye.axis == "x" else _from_above(found, sides, assembly, bands[0].window)


def _sides(solved: Solved, obstacle: SolvedObstacle) -> Stretch | None:
    """Return how far the two sides of a stair stand off the wall of its run."""
    file = next(one for one in solved.project.obstacles if one.key == obstacle.key)
    record = file.record.as_built.treatment if file.record.as_built else file.record.treatment
    if record is None or record.stair_opening is None:
        return None
    return record.stair_opening.stair.low.inches, record.stair_opening.stair.high.inches


def step_note(lines: Sequence[Stroke], assembly: Assembly, say: Say) -> tuple[Note, ...]:
    """Return what says that these are the steps, pointing at one of their treads."""
    found = flight(assembly)
    level = [(one, other) for line in lines for one, other in pairwise(line.points) if one[1] == other[1]]
    if found is None or not level:
        return ()
    spots = tuple((one[0] + share * (other[0] - one[0]), one[1]) for share in SHARES for one, other in level)
    return (Note(say("Steps"), say("{count} risers", count=found.count), spots, optional=True),)


def _from_the_side(steps: Flight, eye: Eye, window: Rect) -> tuple[Stroke, ...]:
    corners = []
    for number in range(steps.count):
        station, height = steps.first.x + number * steps.tread, number * steps.first.z
        corners += [Point(station, steps.first.y, height), Point(station, steps.first.y, height + steps.first.z)]
    seen = [eye.spot(corner) for corner in corners]
    inside = [at for at in seen if window.left <= at[0] <= window.right and at[1] <= window.top]
    return (Stroke(LineKind.HIDDEN, tuple(spot(at) for at in inside)),) if len(inside) > 1 else ()


def _tread(steps: Flight, sides: Stretch, eye: Eye, bands: Sequence[Band]) -> tuple[Stroke, ...]:
    number = (eye.at - steps.first.x) // steps.tread
    height = (number + 1) * steps.first.z
    for band in bands:
        window = band.window
        ends = max(sides[0], window.left), min(sides[1], window.right)
        if 0 <= number < steps.count and window.bottom <= height <= window.top and ends[0] < ends[1]:
            return (Stroke(LineKind.BEYOND, tuple(spot((end, height + band.shift)) for end in ends)),)
    return ()


def _from_above(steps: Flight, sides: Stretch, assembly: Assembly, window: Rect) -> tuple[Stroke, ...]:
    lines = []
    for number in range(steps.count):
        station = steps.first.x + number * steps.tread
        ends = [assembly.frame.to_level(Point(station, side, Fraction(0))) for side in sides]
        left, right = sorted(end.x for end in ends)
        low, high = sorted(end.y for end in ends)
        left, right, low, high = (
            max(left, window.left), min(right, window.right), max(low, window.bottom), min(high, window.top)
        )  # fmt: skip
        if left <= right and low <= high and (left, low) != (right, high):
            lines.append(Stroke(LineKind.BEYOND, (spot((left, low)), spot((right, high)))))
    return tuple(lines)
