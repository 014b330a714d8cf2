"""Exact solids: right prisms and rods in, their bounds, cuts, projections and measures out; inches, Fractions.

A Prism is a polygon pushed along one of the three axes, so that sloped lumber is a sloped polygon pushed sideways and
stays exact. A Rod is a circle pushed along any direction: its length along a slope is kept as an exact square.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import field
from math import isqrt
from typing import Literal

from bookgen.model.exact import Fraction
from bookgen.model.frozen import dataclass

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
        low, high, its_low, its_high = self.low, self.high, other.low, other.high
        return (
            low.x < its_high.x
            and its_low.x < high.x
            and low.y < its_high.y
            and its_low.y < high.y
            and low.z < its_high.z
            and its_low.z < high.z
        )

    def holds(self, point: Point) -> bool:
        """Tell whether a point lies inside or on the faces."""
        return all(self.low.on(a) <= point.on(a) <= self.high.on(a) for a in AXES)

    def grown(self, by: Fraction) -> Box:
        """Return the box with *by* inches more on every side."""
        if not by:
            return self
        return Box(
            Point(self.low.x - by, self.low.y - by, self.low.z - by),
            Point(self.high.x + by, self.high.y + by, self.high.z + by),
        )

    def joined(self, other: Box) -> Box:
        """Return the smallest box round both."""
        low, high, its_low, its_high = self.low, self.high, other.low, other.high
        return Box(
            Point(min(low.x, its_low.x), min(low.y, its_low.y), min(low.z, its_low.z)),
            Point(max(high.x, its_high.x), max(high.y, its_high.y), max(high.z, its_high.z)),
        )


def box_round(boxes: Iterable[Box]) -> Box:
    """Return the smallest box round some boxes; there is one at least."""
    row = tuple(boxes)
    if len(row) == 1:
        return row[0]
    lows, highs = [one.low for one in row], [one.high for one in row]
    return Box(
        Point(min([low.x for low in lows]), min([low.y for low in lows]), min([low.z for low in lows])),
        Point(max([high.x for high in highs]), max([high.y for high in highs]), max([high.z for high in highs])),
    )


Corner = tuple[Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed outline without holes; corners in order, in the two coordinates across an axis."""

    corners: tuple[Corner, ...]
    _plain: bool | None = field(default=None, init=False, repr=False, compare=False)

    def area(self) -> Fraction:
        """Return the enclosed area in square inches (shoelace formula)."""
        if self.is_rectangle():
            (u1, v1), _, (u2, v2), _ = self.corners
            return abs((u2 - u1) * (v2 - v1))
        total = Fraction(0)
        for (u1, v1), (u2, v2) in self.edges():
            total += u1 * v2 - u2 * v1
        return abs(total) / 2

    def bounds(self) -> tuple[Corner, Corner]:
        """Return the low and high corner of the box round it."""
        if self.is_rectangle():
            (u1, v1), _, (u2, v2), _ = self.corners
            if u2 < u1:
                u1, u2 = u2, u1
            return ((u1, v1), (u2, v2)) if v1 <= v2 else ((u1, v2), (u2, v1))
        us, vs = [u for u, _ in self.corners], [v for _, v in self.corners]
        return (min(us), min(vs)), (max(us), max(vs))

    def edges(self) -> Iterator[tuple[Corner, Corner]]:
        """Yield each side, from corner to corner."""
        return zip(self.corners, self.corners[1:] + self.corners[:1], strict=True)

    def is_rectangle(self) -> bool:
        """Tell whether it is a rectangle with its sides along the two coordinates."""
        if self._plain is None:
            object.__setattr__(self, "_plain", _is_rectangle(self.corners))  # kept, since it is asked again and again
        return bool(self._plain)

    def is_convex(self) -> bool:
        """Tell whether going round it turns the same way at every corner."""
        ways = [(end[0] - start[0], end[1] - start[1]) for start, end in self.edges()]
        turns = [one[0] * two[1] - one[1] * two[0] for one, two in zip(ways, ways[1:] + ways[:1], strict=True)]
        return all(turn >= 0 for turn in turns) or all(turn <= 0 for turn in turns)

    def spans(self, index: int, at: Fraction) -> list[Corner]:
        """Return the stretches of the other coordinate that lie inside it where coordinate *index* is *at*."""
        if self.is_rectangle():
            low, high = self.bounds()
            return [(low[1 - index], high[1 - index])] if low[index] <= at < high[index] else []
        crossings = []
        for start, end in self.edges():
            a, b = start[index], end[index]
            if min(a, b) <= at < max(a, b):
                share = (at - a) / (b - a)
                crossings.append(start[1 - index] + share * (end[1 - index] - start[1 - index]))
        crossings.sort()
        return list(zip(crossings[::2], crossings[1::2], strict=True))


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
    _box: Box | None = field(default=None, init=False, repr=False, compare=False)

    def bounds(self) -> Box:
        """Return the box round it."""
        if self._box is not None:
            return self._box
        low, high = self.profile.bounds()
        return _kept(self, Box(_point(self.axis, self.start, low), _point(self.axis, self.end, high)))

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
        spans = self.profile.spans(index, at)
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
    _box: Box | None = field(default=None, init=False, repr=False, compare=False)

    def runs(self) -> Axis | None:
        """Return the axis it runs along; None where it runs askew."""
        running = [axis for axis in AXES if self.start.on(axis) != self.end.on(axis)]
        return running[0] if len(running) == 1 else None

    def length_squared(self) -> Fraction:
        """Return the exact square of its length along the slope."""
        way = self.end.minus(self.start)
        return way.x**2 + way.y**2 + way.z**2

    def bounds(self) -> Box:
        """Return a box round it, never too small: the radius counts whole on each axis it does not run along."""
        if self._box is not None:
            return self._box
        way = self.end.minus(self.start)
        along = self.runs()
        lows, highs = [], []
        for axis in AXES:
            if along is not None:  # then no root is needed
                spread = Fraction(0) if axis == along else self.radius
            else:
                spread = root_above(self._reach_squared(way, axis))
            lows.append(min(self.start.on(axis), self.end.on(axis)) - spread)
            highs.append(max(self.start.on(axis), self.end.on(axis)) + spread)
        return _kept(self, Box(Point(*lows), Point(*highs)))

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


def root_above(square: Fraction) -> Fraction:
    """Return a square root, exact where there is one, else rounded outward by less than 2^-20 in."""
    if square <= 0:
        return Fraction(0)
    top, bottom = isqrt(square.numerator), isqrt(square.denominator)
    if top * top == square.numerator and bottom * bottom == square.denominator:
        return Fraction(top, bottom)
    scaled = square * ROOT_STEPS**2
    return Fraction(isqrt(scaled.numerator // scaled.denominator) + 1, ROOT_STEPS)


def _is_rectangle(corners: tuple[Corner, ...]) -> bool:
    if len(corners) != 4:
        return False
    a, b, c, d = corners
    if a[0] == b[0]:
        return b[1] == c[1] and c[0] == d[0] and d[1] == a[1]
    return a[1] == b[1] and b[0] == c[0] and c[1] == d[1] and d[0] == a[0]


def _kept(solid: Solid, box: Box) -> Box:
    """Keep the box round a solid with it: it follows from the solid and is asked for again and again."""
    object.__setattr__(solid, "_box", box)
    return box


def _point(axis: Axis, along: Fraction, across: Corner) -> Point:
    values = {axis: along, ACROSS[axis][0]: across[0], ACROSS[axis][1]: across[1]}
    return Point(values["x"], values["y"], values["z"])


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


def distance_squared(polygon: Polygon, point: Corner) -> Fraction:
    """Return the squared distance from *point* to *polygon*, 0 inside it."""
    if _inside(polygon, point):
        return Fraction(0)
    return min(_to_edge(point, start, end) for start, end in polygon.edges())


def _inside(polygon: Polygon, point: Corner) -> bool:
    return any(low <= point[1] < high for low, high in polygon.spans(0, point[0]))


def _to_edge(point: Corner, start: Corner, end: Corner) -> Fraction:
    way = (end[0] - start[0], end[1] - start[1])
    off = (point[0] - start[0], point[1] - start[1])
    square = way[0] ** 2 + way[1] ** 2
    share = max(Fraction(0), min(Fraction(1), (off[0] * way[0] + off[1] * way[1]) / square)) if square else Fraction(0)
    return (off[0] - share * way[0]) ** 2 + (off[1] - share * way[1]) ** 2
