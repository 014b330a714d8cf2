"""A solid and a way of looking in; what a plane cuts of it, what is seen of it, and how deep, out."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from bookgen.draw.outlines import flipped
from bookgen.model.frame import LEVEL, Frame
from bookgen.model.geometry import ACROSS, Axis, Box, Corner, Outline, Point, Solid

Compass = Literal["east", "west", "north", "south", "down", "up"]


@dataclass(frozen=True, slots=True)
class Eye:
    """A view plane across *axis* at *at*, in *frame*; the eye looks along *deeper* (+1 or -1) of that axis.

    Without *mirrored* u and v are the frame's own two coordinates across the axis.
    """

    frame: Frame
    axis: Axis
    at: Fraction
    deeper: Literal[1, -1]
    mirrored: bool
    looking: Compass

    def cut(self, solid: Solid) -> tuple[Outline, ...]:
        """Return what the plane cuts of a solid of the frame."""
        return tuple(self._turned(outline) for outline in solid.cut(self.axis, self.at))

    def seen(self, solid: Solid) -> Outline:
        """Return the outline of a solid of the frame as the eye sees it."""
        return self._turned(solid.seen(self.axis))

    def reaches(self, bounds: Box) -> bool:
        """Tell whether the plane meets a box of the frame: what lies in no such box is not cut."""
        return bounds.low.on(self.axis) <= self.at <= bounds.high.on(self.axis)

    def depth(self, bounds: Box) -> Fraction:
        """Return how far past the plane the nearest side of a box lies; less than 0 before the plane."""
        nearest = bounds.low.on(self.axis) if self.deeper == 1 else bounds.high.on(self.axis)
        return (nearest - self.at) * self.deeper

    def spot(self, point: Point) -> Corner:
        """Return where a point of the frame lies in the view plane."""
        u, v = point.across(self.axis)
        return (-u if self.mirrored else u), v

    def runs(self, axis: Axis, frame: Frame) -> Literal["u", "v"] | None:
        """Return which way an axis of some run's frame runs in the view; None where the eye looks along it."""
        if axis != "z" and frame.along != self.frame.along:
            axis = "y" if axis == "x" else "x"
        if axis == self.axis:
            return None
        return "u" if ACROSS[self.axis].index(axis) == 0 else "v"

    def _turned(self, outline: Outline) -> Outline:
        return flipped(outline) if self.mirrored else outline


def section_eye(frame: Frame, station: Fraction) -> Eye:
    """Return the eye of a section across the run: the wall to the left, the room to the right, up is up.

    With y to the right and z up one looks the way that keeps the level right handed; which way that is depends on the
    wall: a north wall stands to the left of somebody who looks east.
    """
    if frame.along == "x":
        return Eye(frame, "x", station, -1 if frame.off == 1 else 1, False, "west" if frame.off == 1 else "east")
    return Eye(frame, "x", station, frame.off, False, "north" if frame.off == 1 else "south")


def plan_eye(height: Fraction) -> Eye:
    """Return the eye that looks down on the level cut at *height* above the slab; north is up."""
    return Eye(LEVEL, "z", height, -1, False, "down")


def ceiling_eye(height: Fraction) -> Eye:
    """Return the eye that looks up from *height* above the slab; drawn as on the plan, north up, for easy comparing."""
    return Eye(LEVEL, "z", height, 1, False, "up")


def elevation_eye(frame: Frame, before: Fraction) -> Eye:
    """Return the eye that looks from y = *before* at the wall of a run, as somebody in the room sees it."""
    if frame.along == "x":
        return Eye(frame, "y", before, -1, frame.off == 1, "south" if frame.off == 1 else "north")
    return Eye(frame, "y", before, -1, frame.off == -1, "west" if frame.off == 1 else "east")
