"""Frames: a run's own coordinates in, the level's coordinates out, and back; exact, without rounding.

In a run's frame x goes along the run, y stands off the structural wall into the room, z goes up from the slab. On the
level x goes east from the west block face, y north from the south block face, z up from the slab.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from bookgen.model.geometry import ACROSS, Axis, Point, Polygon, Prism, Rod, Solid


@dataclass(frozen=True, slots=True)
class Frame:
    """Where a run's frame lies on the level: *along* says which level axis its x is; *off* is +1 or -1.

    A station equals the level coordinate of the axis it runs along, so that a tape reading from a corner serves both;
    y = off * (level coordinate across - zero).
    """

    along: Literal["x", "y"]
    zero: Fraction
    off: Literal[1, -1]
    name: str

    def to_level(self, point: Point) -> Point:
        """Return a point of the run's frame on the level."""
        across = self.zero + self.off * point.y
        return Point(point.x, across, point.z) if self.along == "x" else Point(across, point.x, point.z)

    def from_level(self, point: Point) -> Point:
        """Return a point of the level in the run's frame."""
        station, across = (point.x, point.y) if self.along == "x" else (point.y, point.x)
        return Point(station, self.off * (across - self.zero), point.z)

    def solid_to_level(self, solid: Solid) -> Solid:
        """Return a solid of the run's frame on the level."""
        if isinstance(solid, Rod):
            return Rod(self.to_level(solid.start), self.to_level(solid.end), solid.radius, solid.wall)
        return _moved(self, solid, inverse=False)

    def solid_from_level(self, solid: Solid) -> Solid:
        """Return a solid of the level in the run's frame."""
        if isinstance(solid, Rod):
            return Rod(self.from_level(solid.start), self.from_level(solid.end), solid.radius, solid.wall)
        return _moved(self, solid, inverse=True)


LEVEL = Frame("x", Fraction(0), 1, "level")


def _moved(frame: Frame, prism: Prism, *, inverse: bool) -> Prism:
    move = frame.from_level if inverse else frame.to_level
    first, second = ACROSS[prism.axis]

    def corner(along: Fraction, across: tuple[Fraction, Fraction]) -> Point:
        values = {prism.axis: along, first: across[0], second: across[1]}
        return move(Point(values["x"], values["y"], values["z"]))

    axis = _axis_after(frame, prism.axis)
    starts = [corner(prism.start, across) for across in prism.profile.corners]
    ends = corner(prism.end, prism.profile.corners[0])
    low, high = sorted((starts[0].on(axis), ends.on(axis)))
    return Prism(Polygon(tuple(point.across(axis) for point in starts)), axis, low, high)


def _axis_after(frame: Frame, axis: Axis) -> Axis:
    if axis == "z" or frame.along == "x":
        return axis
    return "y" if axis == "x" else "x"
