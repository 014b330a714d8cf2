"""Pairs of points in, the reason why their layout can't settle a plane out: doubled, or too many in one line."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import dist

from bookgen.model.evidence import Dot, PointPair, Refusal

SLIVER = 0.01  # of the layout's extent: how near a line a point may be and still count as on it
TOGETHER = 0.002  # of the extent: points nearer to each other are the same point


def refuse_layout(pairs: tuple[PointPair, ...]) -> Refusal | None:
    """Return why these pairs, in either of their planes, can't settle a map; None where they can.

    A plane takes four points of which no three are in line; such four are there unless all points, or all but one,
    are in one line.
    """
    for dots in ([pair.source for pair in pairs], [pair.target for pair in pairs]):
        extent = max(dist(one, other) for one, other in combinations(dots, 2))
        twins = _twins(dots, extent)
        if twins:
            first, second = (pairs[index].name for index in twins)
            says = f"{first} and {second} are at the same place"
            return Refusal("pairs-doubled", says, "delete one of them, or mark the other where it is")
        line = _line(dots, extent)
        if line:
            names = ", ".join(pairs[index].name for index in line)
            says = f"too many points stand in one line: {names}"
            return Refusal("pairs-in-line", says, "add points away from that line, or move one of these off it")
    return None


def _twins(dots: Sequence[Dot], extent: float) -> tuple[int, int] | None:
    near = (
        pair for pair in combinations(range(len(dots)), 2) if dist(dots[pair[0]], dots[pair[1]]) <= TOGETHER * extent
    )
    return next(near, None)


def _line(dots: Sequence[Dot], extent: float) -> tuple[int, ...] | None:
    """Return the points on a line that holds all but one, or all, of them."""
    for first, second in combinations(range(len(dots)), 2):
        on_it = tuple(i for i, dot in enumerate(dots) if _beside(dot, dots[first], dots[second]) <= SLIVER * extent)
        if len(on_it) >= len(dots) - 1:
            return on_it
    return None


def _beside(dot: Dot, start: Dot, end: Dot) -> float:
    """Return how far *dot* is from the line through two others."""
    (x, y), (a, b), (c, d) = dot, start, end
    return abs((c - a) * (y - b) - (d - b) * (x - a)) / dist(start, end)
