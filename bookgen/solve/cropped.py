"""Hidden things and a stretch of the run in, what of them lies in that stretch out; a slope is followed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from bookgen.model.assembly import HiddenThing
from bookgen.model.geometry import Point, Prism, Rod, Solid
from bookgen.solve.framing import Stretch


def cropped(things: Iterable[HiddenThing], run: Stretch) -> tuple[HiddenThing, ...]:
    """Return the things with their solids cut off at both ends of the run; those wholly outside it are left out."""
    found = []
    for thing in things:
        near = (run[0] - thing.clearance, run[1] + thing.clearance) if thing.clearance else run
        solids = tuple(piece for solid in thing.solids if (piece := _cropped(solid, near)) is not None)
        if solids:
            found.append(thing if solids == thing.solids else replace(thing, solids=solids))
    return tuple(found)


def _cropped(solid: Solid, run: Stretch) -> Solid | None:
    room = solid.bounds()
    if room.high.x <= run[0] or run[1] <= room.low.x:
        return None
    if run[0] <= room.low.x and room.high.x <= run[1]:
        return solid
    if isinstance(solid, Rod):
        return _rod(solid, run)
    if solid.axis == "x":
        return replace(solid, start=max(solid.start, run[0]), end=min(solid.end, run[1]))
    return solid if not _boxed(solid) else _slice(solid, run)


def _rod(rod: Rod, run: Stretch) -> Rod:
    """Return a rod between the two stations, a radius longer at each end: a slanting end circle reaches past them."""
    first, last = rod.start.x, rod.end.x
    if first == last:
        return rod
    shares = sorted((edge - first) / (last - first) for edge in (run[0] - rod.radius, run[1] + rod.radius))
    low, high = max(shares[0], Fraction(0)), min(shares[1], Fraction(1))
    return rod if (not low and high == 1) or low >= high else Rod(_at(rod, low), _at(rod, high), rod.radius, rod.wall)


def _at(rod: Rod, share: Fraction) -> Point:
    way = rod.end.minus(rod.start)
    return Point(rod.start.x + share * way.x, rod.start.y + share * way.y, rod.start.z + share * way.z)


def _boxed(prism: Prism) -> bool:
    (u1, v1), (u2, v2) = prism.profile.bounds()
    return prism.profile.area() == (u2 - u1) * (v2 - v1)


def _slice(prism: Prism, run: Stretch) -> Prism:
    """Return a box pushed across the run, cut off at both stations; x is the first coordinate of its profile."""
    corners = tuple((min(max(u, run[0]), run[1]), v) for u, v in prism.profile.corners)
    return replace(prism, profile=replace(prism.profile, corners=corners))
