"""Frames: a run's own coordinates in, the level's coordinates out, and back; exact, without rounding.

In a run's frame x goes along the run, y stands off the structural wall into the room, z goes up from the slab. On the
level x goes east from the west block face, y north from the south block face, z up from the slab.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal

from bookgen.model.exact import Fraction
from bookgen.model.frozen import dataclass
from bookgen.model.geometry import ACROSS, Axis, Box, Point, Polygon, Prism, Rod, Solid


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

    def is_level(self) -> bool:
        """Tell whether it is the frame of the level itself, whatever its name."""
        return self.along == "x" and self.off > 0 and not self.zero

    def to_level(self, point: Point) -> Point:
        """Return a point of the run's frame on the level."""
        across = self.zero + point.y if self.off > 0 else self.zero - point.y
        return Point(point.x, across, point.z) if self.along == "x" else Point(across, point.x, point.z)

    def from_level(self, point: Point) -> Point:
        """Return a point of the level in the run's frame."""
        station, across = (point.x, point.y) if self.along == "x" else (point.y, point.x)
        return Point(station, across - self.zero if self.off > 0 else self.zero - across, point.z)

    def box_to_level(self, box: Box) -> Box:
        """Return a box of the run's frame on the level."""
        low, high = (box.low, box.high) if self.off > 0 else _crossed(box, "y")
        return Box(self.to_level(low), self.to_level(high))

    def box_from_level(self, box: Box) -> Box:
        """Return a box of the level in the run's frame."""
        low, high = (box.low, box.high) if self.off > 0 else _crossed(box, "y" if self.along == "x" else "x")
        return Box(self.from_level(low), self.from_level(high))

    def solid_to_level(self, solid: Solid) -> Solid:
        """Return a solid of the run's frame on the level."""
        if self.is_level():
            return solid
        if isinstance(solid, Rod):
            return Rod(self.to_level(solid.start), self.to_level(solid.end), solid.radius, solid.wall)
        return _moved(self, solid, inverse=False)

    def solid_from_level(self, solid: Solid) -> Solid:
        """Return a solid of the level in the run's frame."""
        if self.is_level():
            return solid
        if isinstance(solid, Rod):
            return Rod(self.from_level(solid.start), self.from_level(solid.end), solid.radius, solid.wall)
        return _moved(self, solid, inverse=True)


LEVEL = Frame("x", Fraction(0), 1, "level")


def _crossed(box: Box, axis: Axis) -> tuple[Point, Point]:
    """Return the two corners of a box that become its low and high one once *axis* is turned round."""
    low, high = box.low, box.high
    if axis == "x":
        return Point(high.x, low.y, low.z), Point(low.x, high.y, high.z)
    return Point(low.x, high.y, low.z), Point(high.x, low.y, high.z)


def _moved(frame: Frame, prism: Prism, *, inverse: bool) -> Prism:
    """Return a prism carried over axis by axis: only the values across the run change, and only two axes may swap."""
    # Which axis of the two worlds is it that the run's frame turns and shifts, and what becomes of it?
    across: Axis = "y" if not inverse or frame.along == "x" else "x"
    off, zero = frame.off, frame.zero
    first, second = ACROSS[prism.axis]
    axis = _axis_after(frame, prism.axis)
    ends = [prism.start, prism.end]
    us = [corner[0] for corner in prism.profile.corners]
    vs = [corner[1] for corner in prism.profile.corners]
    if prism.axis == across:
        ends = _shifted(ends, off, zero, inverse=inverse)
    elif first == across:
        us = _shifted(us, off, zero, inverse=inverse)
    elif second == across:
        vs = _shifted(vs, off, zero, inverse=inverse)
    if ACROSS[axis] != (_axis_after(frame, first), _axis_after(frame, second)):
        us, vs = vs, us
    return Prism(Polygon(tuple(zip(us, vs, strict=True))), axis, min(ends), max(ends))


def _shifted(values: Iterable[Fraction], off: int, zero: Fraction, *, inverse: bool) -> list[Fraction]:
    if off < 0:
        return [zero - value for value in values]  # there and back alike
    return [value - zero if inverse else zero + value for value in values]


def _axis_after(frame: Frame, axis: Axis) -> Axis:
    if axis == "z" or frame.along == "x":
        return axis
    return "y" if axis == "x" else "x"
