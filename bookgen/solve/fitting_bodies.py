"""Boxes, valves, meters and pits of a record in, their solids of the table's outside sizes out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.geometry import Axis, Point, Rod, Solid, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import At, Hidden
from bookgen.solve.framing import Stretch
from bookgen.solve.pipes import unknown_size
from bookgen.solve.positions import Ground, Spot, locate
from bookgen.solve.site import wall_frame
from bookgen.trade import fitting as fittings
from bookgen.trade.fitting import Fitting, Shape

LID = Fraction(1, 2)  # inches that a pit's lid lies over the slab; estimate
AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")


def fitting_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return the box of a fitting round its middle, or the lid and the basin of a pit.

    A stretch along the run says that a valve or a meter lies; else it stands in an upright pipe. A box under the joists
    lies flat. Problems are `unknown-size`, `path-skew` and those of `locate`.
    """
    text = hidden.fitting or ""
    row = fittings.fitting(text)
    if row is None:
        return unknown_size(on, (*path, "fitting"), text, fittings.near(text), "3/4 in ball valve")
    if hidden.at is None:
        rule, repair = "it stands in one place and follows no path", "write at: with its middle, instead of path"
        return on.problem("path-skew", (*path, "path"), "", rule, repair)
    spot = locate(hidden.at, on, (*path, "at"))
    if isinstance(spot, Problem):
        return spot
    middle = spot.middle()
    if row.shape is Shape.PIT:
        foot, edge = Point(middle.x, middle.y, -row.high.inches), Point(middle.x, middle.y, Fraction(0))
        lid = Rod(edge, Point(middle.x, middle.y, LID), row.wide.inches / 2)
        return (lid, Rod(foot, edge, row.wide.inches / 2))
    spans: dict[Axis, Stretch] = {}
    for axis, size in _sizes(row, hidden.at, spot, on).items():
        half = size / 2
        spans[axis] = (middle.on(axis) - half, middle.on(axis) + half)
    return (box(spans["x"], spans["y"], spans["z"], "z"),)


def _sizes(row: Fitting, at: At, spot: Spot, on: Ground) -> dict[Axis, Fraction]:
    """Return a fitting's size on each axis of the level."""
    frame = on.frame if at.wall is None else wall_frame(at.wall, (on.level.east_west, on.level.north_south))
    along: Axis = "y" if frame is not None and frame.along == "y" else "x"
    off: Axis = "x" if along == "y" else "y"
    wide, high, deep = row.wide.inches, row.high.inches, row.deep.inches
    if row.shape is Shape.INLINE:
        lying = next((axis for axis in (along, off) if axis in spot.stretched()), None)
        if lying is None:
            return {along: wide, off: deep, "z": high}
        other = off if lying == along else along
        return {lying: high, other: wide, "z": deep}
    if at.below_joists is not None:
        return {along: wide, off: high, "z": deep}
    return {along: wide, off: deep, "z": high}
