"""Posts, bodies and things taped as a whole in, rods, boxes and prisms between stations out."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

from bookgen.model.frame import Frame
from bookgen.model.geometry import Axis, Point, Rod, Solid, box
from bookgen.model.problem import Problem
from bookgen.model.project import Step
from bookgen.model.records.inside import At, Body, Hidden
from bookgen.solve.framing import Stretch, true_size
from bookgen.solve.pipes import unknown_size
from bookgen.solve.positions import Ground, Spot, locate
from bookgen.solve.site import wall_frame
from bookgen.trade import column as columns
from bookgen.trade.called import called

SLACK = Fraction(1, 4)  # inches by which a taped stretch may differ from the size written beside it
FLANGE = Fraction(
    1, 4
)  # inches of steel in a beam's flanges and web, drawn: W8x13 has 0.255 and 0.230; AISC, from memory
WOOD = "wood"
AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")


def post_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return an upright rod of a steel post's outside, or the box of a wood one; its height is written as a stretch."""
    text = hidden.post or ""
    steel = columns.column(text) or columns.column(f"{text} post")
    wood = true_size(text)
    if steel is None and wood is None:
        return unknown_size(on, (*path, "post"), text, columns.near(text), "3-1/2 in steel post")
    spot = _single_place(hidden, on, path)
    if isinstance(spot, Problem):
        return spot
    if spot.stretched() != ("z",):
        rule, repair = (
            "a post stands from a height to a height",
            "write above slab: 0 in to 81 in, and its middle on the plan",
        )
        return on.problem("no-length", (*path, "at"), text, rule, repair)
    middle, (low, high) = spot.middle(), spot.z
    if steel is not None:
        wall = steel.wall.inches if steel.wall is not None else Fraction(0)
        return (Rod(Point(middle.x, middle.y, low), Point(middle.x, middle.y, high), steel.outside.inches / 2, wall),)
    thick, wide = wood or (Fraction(0), Fraction(0))
    return (box(_round(middle.x, wide), _round(middle.y, thick), (low, high), "z"),)


def is_wood(hidden: Hidden) -> bool:
    """Tell whether a post or a body of the structure is wood, by its trade size or by what it is called."""
    if hidden.post is not None:
        return true_size(hidden.post) is not None
    return (
        hidden.body is not None
        and not called("steel").search(hidden.what)
        and called(WOOD).search(hidden.what) is not None
    )


def body_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return the box or the upright cylinder of a body; a steel beam comes out as flanges and web.

    A wood one is pushed the way its grain runs, its longest.
    """
    body = hidden.body
    spot = _single_place(hidden, on, path)
    if isinstance(spot, Problem):
        return spot
    if body is None or hidden.at is None or body.high is None:
        raise ValueError("a body without sizes should have been refused before")
    sizes = _body_sizes(body, hidden.at, on)
    spans: dict[Axis, Stretch] = {}
    for axis in AXES:
        low, high = spot.on(axis)
        if low < high and abs(high - low - sizes[axis]) > SLACK:
            stretch, size = on.project.tape.short(high - low), on.project.tape.short(sizes[axis])
            rule = f"the stretch is {stretch} long, the size beside it {size}"
            return on.problem("size-disagrees", (*path, "at"), "", rule, "measure it again, or write its middle only")
        spans[axis] = (low, high) if low < high else _round(low, sizes[axis])
    if body.diameter is not None:
        middle = Point(*((spans[axis][0] + spans[axis][1]) / 2 for axis in AXES))
        low, high = spans["z"]
        return (Rod(Point(middle.x, middle.y, low), Point(middle.x, middle.y, high), body.diameter.inches / 2),)
    if on.file.record.kind == "beam" and called("steel").search(f"{hidden.what} {on.file.record.obstacle}"):
        return _steel_beam(spans)
    grain: Axis = "z"
    if hidden.system == "structure" and is_wood(hidden):
        grain = max(("z", "y", "x"), key=lambda axis: spans[axis][1] - spans[axis][0])
    return (box(spans["x"], spans["y"], spans["z"], grain),)


def station_solids(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> tuple[Solid, ...] | Problem:
    """Return a box between each two stations, as far out and as low as the worse of both ends."""
    where = (*path, "stations")
    frame = on.frame
    if frame is None or frame.name in {"east", "north"}:
        rule, repair = "a reach is measured off a wall, and the run has none", "let the run go along a wall"
        return on.problem("wall-missing", where, "", rule, repair)
    rows = sorted(hidden.stations, key=lambda station: station.along)
    if len(rows) < 2:
        rule, repair = "one station says nothing of a run", "tape it at both ends at least"
        return on.problem("stations-too-few", where, "", rule, repair)
    for first, second in pairwise(rows):
        if first.along == second.along:
            rule, repair = "two entries are for the same station", "keep the worse one"
            return on.problem("station-twice", where, on.project.tape.short(first.along), rule, repair)
    found = []
    for first, second in pairwise(rows):
        reach, hang = max(first.reach, second.reach).inches, max(first.hang, second.hang).inches
        found.append(_hanging(frame, (first.along.inches, second.along.inches), reach, on.level.joists, hang))
    return tuple(found)


def _hanging(frame: Frame, along: Stretch, reach: Fraction, joists: Fraction, hang: Fraction) -> Solid:
    solid = box(along, (Fraction(0), reach), (joists - hang, joists), "x")
    return frame.solid_to_level(solid)


def _single_place(hidden: Hidden, on: Ground, path: tuple[Step, ...]) -> Spot | Problem:
    if hidden.at is None:
        rule, repair = "it stands in one place and follows no path", "write at: with its middle, instead of path"
        return on.problem("path-skew", (*path, "path"), "", rule, repair)
    spot = locate(hidden.at, on, (*path, "at"))
    if isinstance(spot, Spot) and spot.rises is not None:
        rule, repair = "only a pipe or a duct rises along its length", "delete the line"
        return on.problem("rise-across", (*path, "at", "rises"), "", rule, repair)
    return spot


def _body_sizes(body: Body, at: At, on: Ground) -> dict[Axis, Fraction]:
    """Return a body's size on each axis of the level: wide is along the run or the wall, else east and west."""
    high = body.high.inches if body.high is not None else Fraction(0)
    if body.diameter is not None:
        return {"x": body.diameter.inches, "y": body.diameter.inches, "z": high}
    wide = body.wide.inches if body.wide is not None else Fraction(0)
    deep = body.deep.inches if body.deep is not None else Fraction(0)
    frame = on.frame if at.wall is None else wall_frame(at.wall, (on.level.east_west, on.level.north_south))
    turned = at.along is not None and frame is not None and frame.along == "y"
    return {"x": deep if turned else wide, "y": wide if turned else deep, "z": high}


def _round(middle: Fraction, size: Fraction) -> Stretch:
    """Return the stretch of that size round a middle."""
    return middle - size / 2, middle + size / 2


def _steel_beam(spans: dict[Axis, Stretch]) -> tuple[Solid, ...]:
    """Return the two flanges and the web of a beam that runs the longer way of its box."""
    (x1, x2), (y1, y2), (z1, z2) = spans["x"], spans["y"], spans["z"]
    run: Axis = "x" if x2 - x1 >= y2 - y1 else "y"
    web: dict[Axis, Stretch] = dict(spans)
    across: Axis = "y" if run == "x" else "x"
    web[across] = _round((spans[across][0] + spans[across][1]) / 2, FLANGE)
    return (
        box(spans["x"], spans["y"], (z1, z1 + FLANGE), run),
        box(web["x"], web["y"], (z1 + FLANGE, z2 - FLANGE), run),
        box(spans["x"], spans["y"], (z2 - FLANGE, z2), run),
    )
