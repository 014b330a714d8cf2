"""Ducts of a record in, prisms or rods of their named size out; a rectangular one may slope, or turn square."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Axis, Point, Polygon, Prism, Rod, Solid, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import Hidden
from bookgen.solve.framing import Stretch
from bookgen.solve.pipes import unknown_size
from bookgen.solve.positions import Ground, Spot, locate
from bookgen.solve.runs import Leg, along, legs
from bookgen.trade import duct as ducts

SLACK = Fraction(1, 2)  # inches by which a taped stretch may differ from the named size: seams and cleats


@dataclass(frozen=True, slots=True)
class _Section:
    """Width and height of a rectangular duct, in inches."""

    wide: Fraction
    high: Fraction


def duct_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return the solids of a duct, one a leg; a size without its unit counts in the unit that the project prints."""
    text = hidden.duct or ""
    metric = on.project.record.units == "metric"
    size = ducts.duct(text, "mm" if metric else "in")
    if size is None:
        return unknown_size(on, (*path, "duct"), text, ducts.near(text), "20 x 8 duct, or 6 in round duct")
    if size.diameter is not None:
        line = legs(hidden, on, path)
        radius = size.diameter.inches / 2
        return line if isinstance(line, Problem) else tuple(Rod(leg.start, leg.end, radius) for leg in line)
    if size.width is None or size.height is None:
        raise ValueError(f"a duct without a size: {text}")
    section = _Section(size.width.inches, size.height.inches)
    return _straight(hidden, section, on, path) if hidden.at is not None else _turning(hidden, section, on, path)


def _straight(hidden: Hidden, section: _Section, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    if hidden.at is None:
        raise ValueError("a straight duct has one place")
    spot = locate(hidden.at, on, (*path, "at"))
    if isinstance(spot, Problem):
        return spot
    axis = _run_axis(spot, section)
    if axis is None:
        rule = "it does not say which way the duct runs"
        repair = "write both ends along the run, and across it the middle, or both sides as far apart as it is wide"
        return on.problem("no-length", (*path, "at"), "", rule, repair)
    sizes = _sizes(axis, section)
    for other, asked in sizes.items():
        low, high = spot.on(other)
        if low < high and abs(high - low - asked) > SLACK:
            taped, named = on.project.tape.short(high - low), on.project.tape.short(asked)
            rule = f"from side to side it is {taped}, by its name {named}"
            return on.problem("size-disagrees", (*path, "at"), hidden.duct or "", rule, "measure the duct again")
    leg = along(spot, axis, on, path)
    return leg if isinstance(leg, Problem) else (_prism(leg, axis, sizes, _written(spot, axis)),)


def _written(spot: Spot, axis: Axis) -> dict[Axis, Stretch]:
    """Return the stretches across the run whose two ends are written; they stand as taped."""
    return {other: spot.on(other) for other in spot.stretched() if other != axis}


def _run_axis(spot: Spot, section: _Section) -> Axis | None:
    """Return the axis a duct runs along: the one stretched direction that is not its own width or height."""
    left = [a for a in spot.stretched() if not (a == "z" and _near(spot.z, section.high))]
    if len(left) == 2 and "z" not in left:
        left = [a for a in left if not _near(spot.on(a), section.wide)]
    if "z" in left and len(left) > 1:  # upright: its width and height lie on the plan
        left = ["z"]
    return left[0] if len(left) == 1 else None


def _near(stretch: Stretch, size: Fraction) -> bool:
    return abs(stretch[1] - stretch[0] - size) <= SLACK


def _sizes(axis: Axis, section: _Section) -> dict[Axis, Fraction]:
    """Return the size on each axis across the run; an upright duct has its width east and west."""
    if axis == "z":
        return {"x": section.wide, "y": section.high}
    other: Axis = "y" if axis == "x" else "x"
    return {other: section.wide, "z": section.high}


def _prism(leg: Leg, axis: Axis, sizes: dict[Axis, Fraction], written: dict[Axis, Stretch]) -> Prism:
    """Return a duct along *axis*; where it slopes, its sloped side view pushed across."""

    def span(other: Axis) -> Stretch:
        middle = leg.start.on(other)
        return written.get(other, (middle - sizes[other] / 2, middle + sizes[other] / 2))

    if axis == "z" or leg.start.z == leg.end.z:
        spans: dict[Axis, Stretch] = {axis: _sorted(leg.start.on(axis), leg.end.on(axis))}
        spans |= {other: span(other) for other in sizes}
        return box(spans["x"], spans["y"], spans["z"], axis)
    across: Axis = "y" if axis == "x" else "x"
    low, high = written.get("z", (min(leg.start.z, leg.end.z) - sizes["z"] / 2, None))
    high = high if high is not None else low + sizes["z"]
    base = min(leg.start.z, leg.end.z)
    lifts = (leg.start.z - base, leg.end.z - base)
    (u1, u2) = (leg.start.on(axis), leg.end.on(axis))
    side = Polygon(((u1, low + lifts[0]), (u2, low + lifts[1]), (u2, high + lifts[1]), (u1, high + lifts[0])))
    return Prism(side, across, *span(across))


def _sorted(first: Fraction, second: Fraction) -> Stretch:
    return (first, second) if first <= second else (second, first)


def _turning(hidden: Hidden, section: _Section, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return a prism a leg; level legs reach into the turns by half the width, so that corners are closed."""
    line = legs(hidden, on, path)
    if isinstance(line, Problem):
        return line
    found: list[Solid] = []
    for index, leg in enumerate(line):
        axis = leg.axis()
        if axis is None:
            rule, repair = (
                "a rectangular duct runs along the walls",
                "give the two ends of each leg in line with a wall",
            )
            return on.problem("path-skew", (*path, "path", index), hidden.duct or "", rule, repair)
        reach = section.wide / 2
        longer = _longer(
            leg, axis, reach if index > 0 else Fraction(0), reach if index < len(line) - 1 else Fraction(0)
        )
        found.append(_prism(longer if leg.start.z == leg.end.z else leg, axis, _sizes(axis, section), {}))
    return tuple(found)


def _longer(leg: Leg, axis: Axis, before: Fraction, after: Fraction) -> Leg:
    way = 1 if leg.end.on(axis) > leg.start.on(axis) else -1
    shift = {"x": 0, "y": 0, "z": 0, axis: way}

    def moved(point: Point, by: Fraction) -> Point:
        return Point(point.x + shift["x"] * by, point.y + shift["y"] * by, point.z + shift["z"] * by)

    return Leg(moved(leg.start, -before), moved(leg.end, after))
