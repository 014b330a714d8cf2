"""Pipes, couplings and cables of a record in, rods of their true outside diameter out."""

from __future__ import annotations

from fractions import Fraction

from bookgen.model.assembly import Material
from bookgen.model.geometry import Axis, Point, Rod, Solid
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import Hidden
from bookgen.solve.positions import Ground
from bookgen.solve.runs import Leg, legs
from bookgen.trade import cable as cables
from bookgen.trade import pipe as pipes
from bookgen.trade.pipe import PipeSize

HUB_OVER = Fraction(1, 4)  # inches that a fitting is thicker than a pipe whose hub no table lists; estimate
SOCKETS = {"1/2 in": "0.7", "3/4 in": "0.75", "1 in": "0.9", "1-1/4 in": "0.7", "1-1/2 in": "0.7", "2 in": "0.75",
           "3 in": "1.5", "4 in": "1.75"}  # fmt: skip
"""How deep does a pipe of this size go into a socket, in inches? After ASTM D2665 and D2466, from memory."""
STOP = Fraction(1, 4)  # inches between the two pipe ends inside a coupling; estimate


def pipe_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return one rod a leg and one a coupling; a Problem where the size is unknown or the place makes no line."""
    text = hidden.pipe or ""
    size = pipes.pipe(text)
    if size is None:
        return unknown_size(on, (*path, "pipe"), text, pipes.near(text), "3 in PVC drain")
    line = legs(hidden, on, path)
    if isinstance(line, Problem):
        return line
    wall = size.wall.inches if size.wall is not None else Fraction(0)
    rods = tuple(Rod(leg.start, leg.end, size.outside.inches / 2, wall) for leg in line)
    hubs = _couplings(hidden, size, line, on, path)
    return hubs if isinstance(hubs, Problem) else (*rods, *hubs)


def cable_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return one rod a leg, as thick as the cable is wide: which way a flat one lies nobody writes down."""
    text = hidden.cable or ""
    size = cables.cable(text)
    if size is None:
        return unknown_size(on, (*path, "cable"), text, cables.near(text), "12-2 NM")
    line = legs(hidden, on, path)
    if isinstance(line, Problem):
        return line
    radius = max(size.width, size.thickness).inches / 2
    return tuple(Rod(leg.start, leg.end, radius) for leg in line)


def pipe_material(text: str) -> Material:
    """Return what a pipe of that trade size is made of; plastic where the size is unknown."""
    size = pipes.pipe(text)
    made = {"copper": Material.COPPER, "steel": Material.STEEL, "cast iron": Material.STEEL}
    return Material.PLASTIC if size is None else made.get(size.material, Material.PLASTIC)


def unknown_size(on: Ground, path: tuple[Step, ...], text: str, near: tuple[str, ...], example: str) -> Problem:
    """Return the Problem of a trade size that no table lists."""
    repair = f"write one of {', '.join(near)}" if near else f"write it such as {example}"
    return on.problem("unknown-size", path, text, "no table lists this size", repair)


def _couplings(
    hidden: Hidden, size: PipeSize, line: tuple[Leg, ...], on: Ground, path: tuple[Step, ...]
) -> tuple[Rod, ...] | Problem:
    """Return a short thick rod for each coupling.

    A coupling's number is the plan position along the leg that holds it; on a pipe that only goes up it is the height
    above the slab.
    """
    outside = size.hub.inches if size.hub is not None else size.outside.inches + HUB_OVER
    half = Fraction(SOCKETS.get(size.nominal, str(size.outside.inches / 2))) + STOP / 2
    found = []
    for index, station in enumerate(hidden.couplings):
        middle = _at_station(line, station.inches)
        if middle is None:
            rule, repair = "the pipe does not pass there", f"write a station {_reach(on, line)}"
            value = on.project.tape.short(station)
            return on.problem("coupling-off-pipe", (*path, "couplings", index), value, rule, repair)
        leg, share = middle
        way = leg.end.minus(leg.start)
        axis = _axis(leg)
        step = half / abs(way.on(axis))  # along a slope it comes out longer by less than the slope's square
        ends = [_between(leg, share + side * step) for side in (-1, 1)]
        found.append(Rod(ends[0], ends[1], outside / 2, (outside - size.outside.inches) / 2))
    return tuple(found)


def _axis(leg: Leg) -> Axis:
    way = leg.end.minus(leg.start)
    return "z" if not (way.x or way.y) else "x" if abs(way.x) >= abs(way.y) else "y"


def _at_station(line: tuple[Leg, ...], station: Fraction) -> tuple[Leg, Fraction] | None:
    """Return the leg that passes a station and the share of it that lies before; level legs go first."""
    level = [leg for leg in line if _axis(leg) != "z"]
    for leg in level or line:
        axis = _axis(leg)
        start, end = leg.start.on(axis), leg.end.on(axis)
        if min(start, end) <= station <= max(start, end):
            return leg, (station - start) / (end - start)
    return None


def _reach(on: Ground, line: tuple[Leg, ...]) -> str:
    leg = next((leg for leg in line if _axis(leg) != "z"), line[0])
    low, high = sorted((leg.start.on(_axis(leg)), leg.end.on(_axis(leg))))
    return f"from {on.project.tape.short(low)} to {on.project.tape.short(high)}"


def _between(leg: Leg, share: Fraction) -> Point:
    way = leg.end.minus(leg.start)
    return Point(leg.start.x + share * way.x, leg.start.y + share * way.y, leg.start.z + share * way.z)
