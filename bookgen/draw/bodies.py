"""Solids in; convex bodies with flat faces and the edges that a draughtsman would draw, in floating inches, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import cos, pi, sin, sqrt

from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Corner, Point, Polygon, Prism, Rod, Solid

SIDES, LARGE_SIDES, LARGE = (
    16,
    36,
    3,
)  # flat sides that stand for a round one, and for one over so many inches of radius

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """A flat face: its corners in order, which way it looks, whether it is an end of what was pushed or drawn out."""

    corners: tuple[Vector, ...]
    normal: Vector
    end: bool


@dataclass(frozen=True, slots=True)
class Body:
    """A convex solid. *smooth* sides of a round one meet without an edge that is drawn."""

    surfaces: tuple[Surface, ...]
    smooth: bool

    def corners(self) -> tuple[Vector, ...]:
        """Return every corner once."""
        return tuple(dict.fromkeys(corner for surface in self.surfaces for corner in surface.corners))


def body_of(solid: Solid) -> Body:
    """Return the body of a solid; profiles are convex, as the model holds them."""
    return _prism(solid) if isinstance(solid, Prism) else _rod(solid)


def clipped(solid: Solid, within: Box) -> Solid | None:
    """Return the part of a solid inside a box; None where nothing is. A rod is cut square to its own length."""
    bounds = solid.bounds()
    if not bounds.overlaps(within):
        return None
    if isinstance(solid, Rod):
        return _clipped_rod(solid, within)
    start, end = max(solid.start, within.low.on(solid.axis)), min(solid.end, within.high.on(solid.axis))
    corners: Sequence[Corner] = solid.profile.corners
    for index, axis in enumerate(ACROSS[solid.axis]):
        corners = _cut(corners, index, within.low.on(axis), 1)
        corners = _cut(corners, index, within.high.on(axis), -1)
    return Prism(Polygon(tuple(corners)), solid.axis, start, end) if len(corners) > 2 else None


def _clipped_rod(rod: Rod, within: Box) -> Rod | None:
    way, low, high = rod.end.minus(rod.start), Fraction(0), Fraction(1)
    for axis in AXES:
        step, start = way.on(axis), rod.start.on(axis)
        if step:
            shares = sorted(((within.low.on(axis) - start) / step, (within.high.on(axis) - start) / step))
            low, high = max(low, shares[0]), min(high, shares[1])
    if low >= high:
        return None

    def at(share: Fraction) -> Point:
        return Point(*(rod.start.on(axis) + share * way.on(axis) for axis in AXES))

    return Rod(at(low), at(high), rod.radius, rod.wall)


def _cut(corners: Sequence[Corner], index: int, limit: Fraction, sign: int) -> list[Corner]:
    """Return the corners of a convex polygon on the kept side of a line (Sutherland and Hodgman, 1974)."""
    kept: list[Corner] = []
    for here, there in zip(corners, [*corners[1:], *corners[:1]], strict=True):
        inside, then_inside = sign * (here[index] - limit) >= 0, sign * (there[index] - limit) >= 0
        if inside:
            kept.append(here)
        if inside != then_inside:
            share = (limit - here[index]) / (there[index] - here[index])
            kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
    return [here for here, before in zip(kept, [*kept[-1:], *kept[:-1]], strict=True) if here != before]


def _prism(prism: Prism) -> Body:
    bottom = [_place(prism.axis, float(prism.start), corner) for corner in prism.profile.corners]
    top = [_place(prism.axis, float(prism.end), corner) for corner in prism.profile.corners]
    return _pushed(bottom, top, smooth=False)


def _place(axis: Axis, along: float, corner: Corner) -> Vector:
    values = {axis: along, ACROSS[axis][0]: float(corner[0]), ACROSS[axis][1]: float(corner[1])}
    return values["x"], values["y"], values["z"]


def _rod(rod: Rod) -> Body:
    start, end = ((float(p.x), float(p.y), float(p.z)) for p in (rod.start, rod.end))
    way = unit(minus(end, start))
    side = unit(cross(way, (0.0, 0.0, 1.0) if abs(way[2]) < 0.9 else (1.0, 0.0, 0.0)))
    other, radius = cross(way, side), float(rod.radius)
    rings: list[list[Vector]] = [[], []]
    count = LARGE_SIDES if rod.radius > LARGE else SIDES
    for step in range(count):
        angle = 2 * pi * step / count
        out = [radius * (cos(angle) * a + sin(angle) * b) for a, b in zip(side, other, strict=True)]
        for ring, middle in zip(rings, (start, end), strict=True):
            ring.append((middle[0] + out[0], middle[1] + out[1], middle[2] + out[2]))
    return _pushed(rings[0], rings[1], smooth=True)


def _pushed(bottom: list[Vector], top: list[Vector], *, smooth: bool) -> Body:
    """Return the body between two equal outlines, one pushed to the other."""
    middle = _mean([*bottom, *top])
    faces = [(tuple(bottom), True), (tuple(top), True)]
    count = len(bottom)
    for one in range(count):
        two = (one + 1) % count
        faces.append(((bottom[one], bottom[two], top[two], top[one]), False))
    surfaces = []
    for corners, end in faces:
        normal = unit(cross(minus(corners[1], corners[0]), minus(corners[2], corners[1])))
        if dot(normal, minus(corners[0], middle)) < 0:
            normal = (-normal[0], -normal[1], -normal[2])
        surfaces.append(Surface(corners, normal, end))
    return Body(tuple(surfaces), smooth)


def _mean(corners: Sequence[Vector]) -> Vector:
    count = len(corners)
    return sum(c[0] for c in corners) / count, sum(c[1] for c in corners) / count, sum(c[2] for c in corners) / count


def minus(a: Vector, b: Vector) -> Vector:
    """Return a - b."""
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def dot(a: Vector, b: Vector) -> float:
    """Return the scalar product."""
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    """Return the vector product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def unit(a: Vector) -> Vector:
    """Return a vector of length 1 the same way."""
    size = sqrt(dot(a, a))
    return a[0] / size, a[1] / size, a[2] / size
