"""Exact solids: right prisms and rods in, their bounds, cuts, projections and measures out; inches, Fractions.

A Prism is a polygon pushed along one of the three axes, so that sloped lumber is a sloped polygon pushed sideways and
stays exact. A Rod is a circle pushed along any direction: its length along a slope is kept as an exact square.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt
from typing import Literal

Axis = Literal["x", "y", "z"]
AXES: tuple[Axis, Axis, Axis] = ("x", "y", "z")
# Which two coordinates does a profile use, when it is pushed along this axis?
ACROSS: dict[Axis, tuple[Axis, Axis]] = {"x": ("y", "z"), "y": ("x", "z"), "z": ("x", "y")}
ROOT_STEPS = 1 << 20  # a square root is bracketed to this part of an inch


@dataclass(frozen=True, slots=True, order=True)
class Point:
    """A point: x along the run or east, y off the wall or north, z up from the slab."""

    x: Fraction
    y: Fraction
    z: Fraction

    def on(self, axis: Axis) -> Fraction:
        """Return the coordinate on *axis*."""
        return self.x if axis == "x" else self.y if axis == "y" else self.z

    def minus(self, other: Point) -> Point:
        """Return the vector from *other* to this point."""
        return Point(self.x - other.x, self.y - other.y, self.z - other.z)

    def across(self, axis: Axis) -> tuple[Fraction, Fraction]:
        """Return the two coordinates of the profile plane of *axis*."""
        first, second = ACROSS[axis]
        return self.on(first), self.on(second)


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-aligned box, low corner to high corner."""

    low: Point
    high: Point

    def size(self, axis: Axis) -> Fraction:
        """Return the extent along *axis*."""
        return self.high.on(axis) - self.low.on(axis)

    def overlaps(self, other: Box) -> bool:
        """Tell whether the insides meet; touching faces do not."""
        return all(self.low.on(a) < other.high.on(a) and other.low.on(a) < self.high.on(a) for a in AXES)

    def grown(self, by: Fraction) -> Box:
        """Return the box with *by* inches more on every side."""
        return Box(
            Point(self.low.x - by, self.low.y - by, self.low.z - by),
            Point(self.high.x + by, self.high.y + by, self.high.z + by),
        )

    def joined(self, other: Box) -> Box:
        """Return the smallest box round both."""
        pairs = [(min(self.low.on(a), other.low.on(a)), max(self.high.on(a), other.high.on(a))) for a in AXES]
        return Box(Point(*(low for low, _ in pairs)), Point(*(high for _, high in pairs)))


Corner = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline without holes; corners in order, in the two coordinates across an axis."""

    corners: tuple[Corner, ...]

    def area(self) -> Fraction:
        """Return the enclosed area in square inches (shoelace formula)."""
        total = Fraction(0)
        for (u1, v1), (u2, v2) in zip(self.corners, self.corners[1:] + self.corners[:1], strict=True):
            total += u1 * v2 - u2 * v1
        return abs(total) / 2

    def bounds(self) -> tuple[Corner, Corner]:
        """Return the low and high corner of the box round it."""
        us, vs = [u for u, _ in self.corners], [v for _, v in self.corners]
        return (min(us), min(vs)), (max(us), max(vs))


@dataclass(frozen=True, slots=True)
class Circle:
    """A round outline; *wall* is the thickness of a hollow one, 0 when it is solid."""

    centre: Corner
    radius: Fraction
    wall: Fraction = Fraction(0)

    def bounds(self) -> tuple[Corner, Corner]:
        """Return the low and high corner of the box round it."""
        (u, v), r = self.centre, self.radius
        return (u - r, v - r), (u + r, v + r)


Outline = Polygon | Circle


@dataclass(frozen=True, slots=True)
class Prism:
    """A polygon in the plane across *axis*, pushed from *start* to *end* along it."""

    profile: Polygon
    axis: Axis
    start: Fraction
    end: Fraction

    def bounds(self) -> Box:
        """Return the box round it."""
        low, high = self.profile.bounds()
        return Box(_point(self.axis, self.start, low), _point(self.axis, self.end, high))

    def length(self) -> Fraction:
        """Return how far it is pushed."""
        return self.end - self.start

    def volume(self) -> Fraction:
        """Return cubic inches."""
        return self.profile.area() * self.length()

    def cut(self, axis: Axis, at: Fraction) -> tuple[Outline, ...]:
        """Return what a plane across *axis* at *at* cuts: the profile, or rectangles; nothing where it misses."""
        if axis == self.axis:
            return (self.profile,) if self.start <= at < self.end else ()
        index = ACROSS[self.axis].index(axis)
        spans = _spans(self.profile, index, at)
        return tuple(_rectangle(axis, self.axis, (self.start, self.end), span) for span in spans)

    def seen(self, axis: Axis) -> Outline:
        """Return the outline as seen along *axis*."""
        if axis == self.axis:
            return self.profile
        index = ACROSS[self.axis].index(axis)
        low, high = self.profile.bounds()
        other = 1 - index
        return _rectangle(axis, self.axis, (self.start, self.end), (low[other], high[other]))


@dataclass(frozen=True, slots=True)
class Rod:
    """A circle pushed from *start* to *end* in any direction; *wall* is 0 when it is solid."""

    start: Point
    end: Point
    radius: Fraction
    wall: Fraction = Fraction(0)

    def length_squared(self) -> Fraction:
        """Return the exact square of its length along the slope."""
        way = self.end.minus(self.start)
        return way.x**2 + way.y**2 + way.z**2

    def bounds(self) -> Box:
        """Return a box round it, never too small: the radius counts whole on each axis it does not run along."""
        way = self.end.minus(self.start)
        straight = [a for a in AXES if way.on(a)]
        lows, highs = [], []
        for axis in AXES:
            if len(straight) == 1:  # along an axis no root is needed
                spread = Fraction(0) if axis == straight[0] else self.radius
            else:
                spread = root_above(self._reach_squared(way, axis))
            lows.append(min(self.start.on(axis), self.end.on(axis)) - spread)
            highs.append(max(self.start.on(axis), self.end.on(axis)) + spread)
        return Box(Point(*lows), Point(*highs))

    def _reach_squared(self, way: Point, axis: Axis) -> Fraction:
        """Return the square of how far the end circle spreads along *axis*: r² (1 - cos²)."""
        return self.radius**2 * (1 - way.on(axis) ** 2 / self.length_squared())

    def cut(self, axis: Axis, at: Fraction) -> tuple[Outline, ...]:
        """Return what a plane across *axis* at *at* cuts.

        A circle where the rod runs along the axis (on a slope the true ellipse differs from it by less than the
        slope's square); a strip where it lies in the plane.
        """
        low, high = sorted((self.start.on(axis), self.end.on(axis)))
        if low <= at < high:
            share = (at - self.start.on(axis)) / (self.end.on(axis) - self.start.on(axis))
            way = self.end.minus(self.start)
            here = Point(*(self.start.on(a) + share * way.on(a) for a in AXES))
            return (Circle(here.across(axis), self.radius, self.wall),)
        if low == high and abs(at - low) < self.radius:
            half = root_above(self.radius**2 - (at - low) ** 2)
            return (_strip(self.start.across(axis), self.end.across(axis), half),)
        return ()

    def seen(self, axis: Axis) -> Outline:
        """Return the outline as seen along *axis*: a circle end on, else a strip."""
        start, end = self.start.across(axis), self.end.across(axis)
        if start == end:
            return Circle(start, self.radius, self.wall)
        return _strip(start, end, self.radius)


Solid = Prism | Rod


def box(x: tuple[Fraction, Fraction], y: tuple[Fraction, Fraction], z: tuple[Fraction, Fraction], axis: Axis) -> Prism:
    """Return the box between the given pairs, pushed along *axis* (for lumber: the way its grain runs)."""
    spans = {"x": x, "y": y, "z": z}
    (u1, u2), (v1, v2) = (spans[a] for a in ACROSS[axis])
    return Prism(Polygon(((u1, v1), (u2, v1), (u2, v2), (u1, v2))), axis, *spans[axis])


def meet(first: Solid, second: Solid) -> bool:
    """Tell whether two solids share volume; touching is not meeting.

    Profiles are taken as convex: one that is not may report a clash that is not there. Exact for prisms that share an
    axis or are boxes and for rods that run along an axis; elsewhere the test errs on the side of a clash, since a rod
    on a slope is tested by the box round each piece of it.
    """
    if not first.bounds().overlaps(second.bounds()):
        return False
    if isinstance(first, Rod) and isinstance(second, Prism):
        return _rod_meets(first, second)
    if isinstance(first, Prism) and isinstance(second, Rod):
        return _rod_meets(second, first)
    if isinstance(first, Prism) and isinstance(second, Prism):
        return _prisms_meet(first, second)
    return True


def root_above(square: Fraction) -> Fraction:
    """Return a square root, exact where there is one, else rounded outward by less than 2^-20 in."""
    if square <= 0:
        return Fraction(0)
    top, bottom = isqrt(square.numerator), isqrt(square.denominator)
    if top * top == square.numerator and bottom * bottom == square.denominator:
        return Fraction(top, bottom)
    scaled = square * ROOT_STEPS**2
    return Fraction(isqrt(scaled.numerator // scaled.denominator) + 1, ROOT_STEPS)


def _point(axis: Axis, along: Fraction, across: Corner) -> Point:
    values = {axis: along, ACROSS[axis][0]: across[0], ACROSS[axis][1]: across[1]}
    return Point(values["x"], values["y"], values["z"])


def _spans(profile: Polygon, index: int, at: Fraction) -> list[Corner]:
    """Return the stretches of the other coordinate that lie inside the profile on the line u or v = at."""
    crossings = []
    for start, end in zip(profile.corners, profile.corners[1:] + profile.corners[:1], strict=True):
        a, b = start[index], end[index]
        if min(a, b) <= at < max(a, b):
            share = (at - a) / (b - a)
            crossings.append(start[1 - index] + share * (end[1 - index] - start[1 - index]))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=True))


def _rectangle(across: Axis, along: Axis, run: Corner, span: Corner) -> Polygon:
    """Return the rectangle in the plane across *across* that spans *run* on *along* and *span* on the third axis."""
    if ACROSS[across][0] == along:
        (u1, u2), (v1, v2) = run, span
    else:
        (u1, u2), (v1, v2) = span, run
    return Polygon(((u1, v1), (u2, v1), (u2, v2), (u1, v2)))


def _strip(start: Corner, end: Corner, half: Fraction) -> Polygon:
    way = (end[0] - start[0], end[1] - start[1])
    length = root_above(way[0] ** 2 + way[1] ** 2)
    side = (-way[1] * half / length, way[0] * half / length)
    return Polygon(
        (
            (start[0] + side[0], start[1] + side[1]),
            (end[0] + side[0], end[1] + side[1]),
            (end[0] - side[0], end[1] - side[1]),
            (start[0] - side[0], start[1] - side[1]),
        )
    )


def _rod_meets(rod: Rod, prism: Prism) -> bool:
    way = rod.end.minus(rod.start)
    running = [a for a in AXES if way.on(a)]
    if len(running) == 1:
        outline = prism.seen(running[0]) if running[0] == prism.axis else None
        if outline is None:
            pieces = [c for c in prism.cut(running[0], _middle(rod, prism, running[0])) if isinstance(c, Polygon)]
        else:
            pieces = [outline] if isinstance(outline, Polygon) else []
        centre = rod.start.across(running[0])
        return any(distance_squared(piece, centre) < rod.radius**2 for piece in pieces)
    return _piecewise(rod, prism, depth=4)


def _middle(rod: Rod, prism: Prism, axis: Axis) -> Fraction:
    low = max(min(rod.start.on(axis), rod.end.on(axis)), prism.bounds().low.on(axis))
    high = min(max(rod.start.on(axis), rod.end.on(axis)), prism.bounds().high.on(axis))
    return (low + high) / 2


def _piecewise(rod: Rod, prism: Prism, depth: int) -> bool:
    if not rod.bounds().overlaps(prism.bounds()):
        return False
    if depth == 0:
        return True
    middle = Point(*((rod.start.on(a) + rod.end.on(a)) / 2 for a in AXES))
    halves = (Rod(rod.start, middle, rod.radius), Rod(middle, rod.end, rod.radius))
    return any(_piecewise(half, prism, depth - 1) for half in halves)


def _prisms_meet(first: Prism, second: Prism) -> bool:
    """Test two prisms whose boxes overlap, by separating lines of their profiles."""
    for one, other in ((first, second), (second, first)):
        outline = other.seen(one.axis)
        if isinstance(outline, Polygon) and _separated(one.profile, outline):
            return False
    return True


def _separated(first: Polygon, second: Polygon) -> bool:
    """Tell whether some edge of either convex polygon has the other wholly on its outer side."""
    return _edge_separates(first, second) or _edge_separates(second, first)


def _edge_separates(polygon: Polygon, other: Polygon) -> bool:
    for (u1, v1), (u2, v2) in zip(polygon.corners, polygon.corners[1:] + polygon.corners[:1], strict=True):
        normal = (v2 - v1, u1 - u2)
        own = [normal[0] * u + normal[1] * v for u, v in polygon.corners]
        its = [normal[0] * u + normal[1] * v for u, v in other.corners]
        if max(own) <= min(its) or max(its) <= min(own):
            return True
    return False


def distance_squared(polygon: Polygon, point: Corner) -> Fraction:
    """Return the squared distance from *point* to *polygon*, 0 inside it."""
    if _inside(polygon, point):
        return Fraction(0)
    edges = zip(polygon.corners, polygon.corners[1:] + polygon.corners[:1], strict=True)
    return min(_to_edge(point, start, end) for start, end in edges)


def _inside(polygon: Polygon, point: Corner) -> bool:
    return any(low <= point[1] < high for low, high in _spans(polygon, 0, point[0]))


def _to_edge(point: Corner, start: Corner, end: Corner) -> Fraction:
    way = (end[0] - start[0], end[1] - start[1])
    off = (point[0] - start[0], point[1] - start[1])
    square = way[0] ** 2 + way[1] ** 2
    share = max(Fraction(0), min(Fraction(1), (off[0] * way[0] + off[1] * way[1]) / square)) if square else Fraction(0)
    return (off[0] - share * way[0]) ** 2 + (off[1] - share * way[1]) ** 2
