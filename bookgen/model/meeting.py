"""Two exact solids in, whether they share volume out; touching is not sharing. And how near axes come to each other.

Exact for any two prisms, with profiles of any shape that does not cross itself, for rods that run along axes, and for
such a rod with a prism. A rod on a slope is taken with round ends, which errs on the side of a clash: a round end has
half a ball more than a flat one, so that it reaches past that end by less than the radius, and what does not enter the
box round the flat rod is never told. A sloped rod beside a sloped profile is also held against the boxes round its
slices, which are higher than a slice by what that rises from corner to corner.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from bookgen.model.exact import Fraction
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Corner, Point, Polygon, Prism, Rod, Solid, distance_squared

Stretch = tuple[Fraction, Fraction]
ZERO = Fraction(0)
ONE = Fraction(1)


def meet(first: Solid, second: Solid) -> bool:
    """Tell whether two solids share volume; touching is not meeting."""
    if not first.bounds().overlaps(second.bounds()):
        return False
    if isinstance(first, Prism):
        return _prisms_meet(first, second) if isinstance(second, Prism) else _rod_meets(second, first)
    return _rod_meets(first, second) if isinstance(second, Prism) else _rods_meet(first, second)


def _prisms_meet(first: Prism, second: Prism) -> bool:
    """Test two prisms whose boxes overlap."""
    plain = first.profile.is_rectangle(), second.profile.is_rectangle()
    if all(plain):
        return True
    if first.axis == second.axis:
        return _profiles_meet(first.profile, second.profile)
    # The two profiles have one axis in common: they meet where, at some place on it, each one's slice reaches into the
    # stretch that the other is pushed along.
    shared = next(axis for axis in AXES if axis not in (first.axis, second.axis))
    one, other = ACROSS[first.axis].index(shared), ACROSS[second.axis].index(shared)
    along_first, along_second = (second.start, second.end), (first.start, first.end)
    places = {
        *_turns(first.profile, one, along_first),
        *_turns(second.profile, other, along_second),
    }
    return any(
        _reaches(first.profile, one, at, along_first) and _reaches(second.profile, other, at, along_second)
        for at in _between(places)
    )


def _profiles_meet(first: Polygon, second: Polygon) -> bool:
    """Tell whether two outlines in one plane share area.

    Between two neighbouring corners or crossings every slice is of one kind, so that its middle speaks for it.
    """
    if first.is_convex() and second.is_convex():
        return not _separated(first, second)
    places = {u for u, _ in first.corners} | {u for u, _ in second.corners}
    places |= {u for one in first.edges() for other in second.edges() if (u := _crossing(one, other)) is not None}
    return any(
        low < its_high and its_low < high
        for at in _between(places)
        for low, high in first.spans(0, at)
        for its_low, its_high in second.spans(0, at)
    )


def _crossing(one: tuple[Corner, Corner], other: tuple[Corner, Corner]) -> Fraction | None:
    """Return the first coordinate of the point where two edges cross; None for parallel ones and for a miss."""
    (a, b), (c, d) = one, other
    way, its = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    turn = way[0] * its[1] - way[1] * its[0]
    if not turn:
        return None
    share = ((c[0] - a[0]) * its[1] - (c[1] - a[1]) * its[0]) / turn
    return a[0] + share * way[0] if 0 <= share <= 1 else None


def _turns(profile: Polygon, index: int, band: Stretch) -> Iterator[Fraction]:
    """Yield where, on one of its two coordinates, the answer may change whether a slice reaches into *band*."""
    for start, end in profile.edges():
        yield start[index]
        for level in band:
            low, high = start[1 - index], end[1 - index]
            if min(low, high) < level < max(low, high):
                yield start[index] + (level - low) / (high - low) * (end[index] - start[index])


def _between(places: set[Fraction]) -> Iterator[Fraction]:
    """Yield the middle between each two neighbouring places."""
    for low, high in pairwise(sorted(places)):
        yield (low + high) / 2


def _reaches(profile: Polygon, index: int, at: Fraction, band: Stretch) -> bool:
    return any(low < band[1] and band[0] < high for low, high in profile.spans(index, at))


def _separated(first: Polygon, second: Polygon) -> bool:
    """Tell whether some edge of either convex polygon has the other wholly on its outer side."""
    return _edge_separates(first, second) or _edge_separates(second, first)


def _edge_separates(polygon: Polygon, other: Polygon) -> bool:
    for (u1, v1), (u2, v2) in polygon.edges():
        normal = (v2 - v1, u1 - u2)
        own = [normal[0] * u + normal[1] * v for u, v in polygon.corners]
        its = [normal[0] * u + normal[1] * v for u, v in other.corners]
        if max(own) <= min(its) or max(its) <= min(own):
            return True
    return False


def _rod_meets(rod: Rod, prism: Prism) -> bool:
    """Test a rod and a prism whose boxes overlap."""
    axis = rod.runs()
    if axis is None:
        return any(nearest_squared(rod, piece) < rod.radius**2 for piece in _pieces(prism))
    centre = rod.start.across(axis)
    if axis == prism.axis:
        return distance_squared(prism.profile, centre) < rod.radius**2
    # The rod is a circle in the plane across it. There the prism is as wide as it is pushed, and as high as what of its
    # profile lies between the rod's ends.
    index = ACROSS[prism.axis].index(axis)
    ends = sorted((rod.start.on(axis), rod.end.on(axis)))
    low, high = ends
    third = next(a for a in AXES if a not in (axis, prism.axis))
    along, up = rod.start.on(prism.axis), rod.start.on(third)
    aside = max(prism.start - along, along - prism.end, ZERO) ** 2
    turns = sorted(set(_turns(prism.profile, 1 - index, (low, high))))
    return any(
        aside + max(first - up, up - last, ZERO) ** 2 < rod.radius**2
        for first, last in pairwise(turns)
        if _reaches(prism.profile, 1 - index, (first + last) / 2, (low, high))
    )


def _pieces(prism: Prism) -> Iterator[Box]:
    """Yield boxes that hold a prism: itself, or the boxes round its slices between the corners of its profile."""
    if prism.profile.is_rectangle():
        yield prism.bounds()
        return
    for low, high in pairwise(sorted({u for u, _ in prism.profile.corners})):
        sides = sorted(
            _side(start, end, low, high) for start, end in prism.profile.edges() if _spans(start, end, low, high)
        )
        for below, above in zip(sides[::2], sides[1::2], strict=True):
            up = (min(below), max(above))
            corners = ((low, up[0]), (high, up[0]), (high, up[1]), (low, up[1]))
            yield Prism(Polygon(corners), prism.axis, prism.start, prism.end).bounds()


def _spans(start: Corner, end: Corner, low: Fraction, high: Fraction) -> bool:
    return min(start[0], end[0]) <= low and high <= max(start[0], end[0])


def _side(start: Corner, end: Corner, low: Fraction, high: Fraction) -> Stretch:
    """Return how high an edge is at both ends of a slice that it goes across."""
    steep = (end[1] - start[1]) / (end[0] - start[0])
    return start[1] + (low - start[0]) * steep, start[1] + (high - start[0]) * steep


def _rods_meet(first: Rod, second: Rod) -> bool:
    """Test two rods whose boxes overlap: their axes are nearer to each other than both radii."""
    axis, other = first.runs(), second.runs()
    if axis is not None and other is not None and axis != other:
        return _crossing_rods_meet(first, second, axis, other)
    return axes_squared(first, second) < (first.radius + second.radius) ** 2


def _crossing_rods_meet(first: Rod, second: Rod, axis: Axis, other: Axis) -> bool:
    """Test two rods that run along two axes, with flat ends.

    At a height on the third axis each is a strip, as long as the rod and narrower the further from its middle. The two
    strips meet where each is still wide enough to reach the other's length: over one stretch of heights for each rod.
    So the rods meet where those two stretches do, which are open and reach a root of a fraction up and down.
    """
    third = next(a for a in AXES if a not in (axis, other))
    reach = first.radius**2 - _off(second, other, first.start.on(other)) ** 2
    its = second.radius**2 - _off(first, axis, second.start.on(axis)) ** 2
    if reach <= 0 or its <= 0:
        return False
    more = (first.start.on(third) - second.start.on(third)) ** 2 - reach - its
    return more < 0 or more**2 < 4 * reach * its  # the distance is less than both roots together


def _off(rod: Rod, axis: Axis, at: Fraction) -> Fraction:
    """Return how far a place on the axis that a rod runs along lies before or past the rod."""
    low, high = sorted((rod.start.on(axis), rod.end.on(axis)))
    return max(low - at, at - high, ZERO)


def axes_squared(first: Rod, second: Rod) -> Fraction:
    """Return the exact square of the distance between the axes of two rods, from end to end of both."""
    way, its, between = _vector(first), _vector(second), second.start.minus(first.start)
    square, its_square, both = _dot(way, way), _dot(its, its), _dot(way, its)
    toward, its_toward = _dot(way, between), _dot(its, between)
    turn = square * its_square - both * both
    candidates = [(_within(toward / square), ZERO), (_within((toward + both) / square), ONE)]
    candidates += [(ZERO, _within(-its_toward / its_square)), (ONE, _within((both - its_toward) / its_square))]
    if turn:
        share = (toward * its_square - its_toward * both) / turn
        other = (toward * both - its_toward * square) / turn
        if 0 <= share <= 1 and 0 <= other <= 1:
            candidates.append((share, other))
    return min(_apart(between, way, its, one, other) for one, other in candidates)


def _within(share: Fraction) -> Fraction:
    return min(max(share, ZERO), ONE)


def _vector(rod: Rod) -> Point:
    return rod.end.minus(rod.start)


def _dot(first: Point, second: Point) -> Fraction:
    return first.x * second.x + first.y * second.y + first.z * second.z


def _apart(between: Point, way: Point, its: Point, share: Fraction, other: Fraction) -> Fraction:
    gap = Point(*(between.on(a) + other * its.on(a) - share * way.on(a) for a in AXES))
    return _dot(gap, gap)


def nearest_squared(rod: Rod, box: Box) -> Fraction:
    """Return the exact square of the distance from a rod's axis to a box.

    On the way along the axis the square is a parabola between the spots where the axis passes a face of the box, so
    the least of all is at one of those spots or at the bottom of one parabola.
    """
    way = rod.end.minus(rod.start)
    passing = {ZERO, ONE}
    for axis in AXES:
        if way.on(axis):
            faces = (box.low.on(axis), box.high.on(axis))
            passing |= {share for face in faces if 0 < (share := (face - rod.start.on(axis)) / way.on(axis)) < 1}
    row = sorted(passing)
    bottoms = [bottom for low, high in pairwise(row) if (bottom := _bottom(rod, box, low, high)) is not None]
    return min(_square(rod, box, share) for share in (*row, *bottoms))


def _bottom(rod: Rod, box: Box, low: Fraction, high: Fraction) -> Fraction | None:
    """Return where the distance is least between two spots, if that is neither of them."""
    way, middle = rod.end.minus(rod.start), (low + high) / 2
    steep = slope = ZERO
    for axis in AXES:
        here = rod.start.on(axis) + middle * way.on(axis)
        near = min(max(here, box.low.on(axis)), box.high.on(axis))
        if here != near:
            steep += way.on(axis) ** 2
            slope += way.on(axis) * (rod.start.on(axis) - near)
    share = -slope / steep if steep else middle
    return share if low < share < high else None


def _square(rod: Rod, box: Box, share: Fraction) -> Fraction:
    way = rod.end.minus(rod.start)
    total = ZERO
    for axis in AXES:
        here = rod.start.on(axis) + share * way.on(axis)
        total += max(box.low.on(axis) - here, here - box.high.on(axis), ZERO) ** 2
    return total
