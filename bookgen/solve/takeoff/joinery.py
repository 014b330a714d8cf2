"""A piece of lumber as a solid in, its ends off square, its notches and what it is ripped to out.

A piece whose profile is an upright rectangle is cut square. Else the profile is seen from the side, and the grain
runs along its longest edge.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise
from math import atan2, degrees, floor
from typing import Literal

from bookgen.model.assembly import Material, Part
from bookgen.model.geometry import Corner, Polygon, Prism, root_above
from bookgen.model.joinery import HALF_DEGREES, SQUARE, EndCut, Joinery, Notch
from bookgen.model.length import Length
from bookgen.solve.framing import true_size

SHEETS = frozenset({Material.BOARD, Material.PANEL})
Edge = tuple[Corner, Corner]
HAIR = Fraction(1, 64)  # inches: a difference under this is no rip


def joinery(part: Part) -> Joinery:
    """Return what has to be cut on a piece of lumber beside its length."""
    solid = part.solid
    if not isinstance(solid, Prism) or part.material in SHEETS:
        return SQUARE
    if solid.profile.is_rectangle():
        (u1, v1), (u2, v2) = solid.profile.bounds()
        return Joinery(ripped=_ripped(part.stock, *sorted((u2 - u1, v2 - v1))))
    if all(u1 == u2 or v1 == v2 for (u1, v1), (u2, v2) in _edges(solid.profile)):
        return Joinery(notches=tuple(_notches(solid.profile)))
    across, ends = _ends(solid)
    return Joinery(ends=ends, ripped=_ripped(part.stock, *sorted((across, solid.length()))))


def _ripped(stock: str, thickness: Fraction, width: Fraction) -> tuple[Length, Length] | None:
    """Return the size of a piece where it is less than its stock; what is larger is not this check's to judge."""
    size = true_size(stock)
    if size is None or size == (thickness, width) or (thickness > size[0] - HAIR and width > size[1] - HAIR):
        return None
    return Length(thickness), Length(width)


def _ends(solid: Prism) -> tuple[Fraction, tuple[EndCut, ...]]:
    """Return how thick a sloped piece is across its grain, in the plane of its profile, and its ends off square."""
    edges = list(_edges(solid.profile))
    longest = max(range(len(edges)), key=lambda number: _dot(_way(edges[number]), _way(edges[number])))
    along, up = _way(edges[longest])
    grain = max((along, up), (-along, -up))  # whichever way the corners go
    reach = root_above(_dot(grain, grain))
    start = edges[longest][0]
    thick = max(abs(_turned((u - start[0], v - start[1]), grain)) for u, v in solid.profile.corners) / reach
    kind: Literal["mitre", "bevel"] = "mitre" if thick > solid.length() else "bevel"
    pair = (edges[longest - 1], edges[(longest + 1) % len(edges)])
    low, high = sorted(pair, key=lambda edge: _dot(grain, edge[0]) + _dot(grain, edge[1]))
    return thick, (*_end_cut("low", kind, low, grain), *_end_cut("high", kind, high, grain))


def _end_cut(
    end: Literal["low", "high"], kind: Literal["mitre", "bevel"], edge: Edge, grain: Corner
) -> tuple[EndCut, ...]:
    half = _off_square(edge, grain)
    return (EndCut(end, kind, abs(half), 1 if half > 0 else -1),) if half else ()


def _off_square(edge: Edge, grain: Corner) -> int:
    """Return how far an end is off square, in half degrees; the sign says which way it leans."""
    along, over = _dot(_way(edge), grain), _turned(_way(edge), grain)
    if over < 0:
        along, over = -along, -over
    return floor(degrees(atan2(float(along), float(over))) * HALF_DEGREES + 0.5)


def _notches(profile: Polygon) -> Iterator[Notch]:
    """Yield what is missing of the rectangle round a profile of right angles: at its corners and along its edges."""
    low, high = profile.bounds()
    long = 0 if high[0] - low[0] >= high[1] - low[1] else 1
    inner = [all(low[n] < corner[n] < high[n] for n in (0, 1)) for corner in profile.corners]
    for number, corner in enumerate(profile.corners):
        if not inner[number] or inner[number - 1]:
            continue  # a notch is told at the first of its inner corners
        following = (number + 1) % len(inner)
        other = profile.corners[following] if inner[following] else None
        at = corner[long] - low[long]
        length = min(at, high[long] - corner[long]) if other is None else abs(other[long] - corner[long])
        deep = min(corner[1 - long] - low[1 - long], high[1 - long] - corner[1 - long])
        yield Notch(Length(length), Length(deep))


def _edges(profile: Polygon) -> Iterator[Edge]:
    yield from pairwise((*profile.corners, profile.corners[0]))


def _way(edge: Edge) -> Corner:
    (u1, v1), (u2, v2) = edge
    return u2 - u1, v2 - v1


def _dot(one: Corner, other: Corner) -> Fraction:
    return one[0] * other[0] + one[1] * other[1]


def _turned(one: Corner, other: Corner) -> Fraction:
    return one[0] * other[1] - one[1] * other[0]
