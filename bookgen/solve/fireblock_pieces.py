"""A slab of hidden space and what stands in it in, the pieces of lumber that fill the rest of it out."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from bookgen.model.exact import Fraction
from bookgen.model.geometry import ACROSS, AXES, Axis, Box, Point
from bookgen.solve.crowd import Crowd
from bookgen.solve.cutout import over_stretches
from bookgen.solve.framing import Stretch, true_size

LEAST = Fraction(1)  # inches: a narrower gap is packed, not blocked; common practice
STOCKS = ("2x4", "2x6")  # what lies about on every level; nobody buys a wider plank for a block
Rectangle = tuple[Stretch, Stretch]


def pieces(slab: Box, axis: Axis, taken: Crowd) -> Iterator[Box]:
    """Yield the boxes that fill what is free of a slab lying across *axis*, none wider than the widest stock."""
    first, second = ACROSS[axis]
    inside = [taken.boxes[number] for number in taken.meeting(slab)]
    whole = (span(slab, first), span(slab, second))
    for cell in rectangles(whole, [(span(one, first), span(one, second)) for one in inside]):
        for u, v in _narrowed(cell):
            yield spanned({axis: span(slab, axis), first: u, second: v})


def rectangles(whole: Rectangle, taken: list[Rectangle], least: Fraction = LEAST) -> list[Rectangle]:
    """Return rectangles that fill what is left of one, upright or level, whichever way gives fewer; no slivers."""
    upright = _columns(whole, taken)
    level = [(u, v) for v, u in _columns(whole[::-1], [one[::-1] for one in taken])]
    big = [[cell for cell in row if all(end - start >= least for start, end in cell)] for row in (upright, level)]
    return min(big, key=lambda row: (len(row), -_area(row)))


def stock(wide: Fraction) -> str:
    """Return the narrowest stock that is ripped to a width in inches; the widest one where none is wide enough."""
    return next((name for name in STOCKS if _width(name) >= wide), STOCKS[-1])


def span(own: Box, axis: Axis) -> Stretch:
    """Return the stretch of an axis that a box takes up."""
    return own.low.on(axis), own.high.on(axis)


def spanned(spans: dict[Axis, Stretch]) -> Box:
    """Return the box of three stretches."""
    low, high = (Point(*(spans[axis][end] for axis in AXES)) for end in (0, 1))
    return Box(low, high)


def _columns(whole: Rectangle, taken: list[Rectangle]) -> list[Rectangle]:
    """Return rectangles that fill what is left, each as tall as it can be, then as wide."""
    (u1, u2), (v1, v2) = whole
    us = sorted({u1, u2, *(end for one, _ in taken for end in one if u1 < end < u2)})
    row: list[Rectangle] = []
    for (low, high), beside in over_stretches(us, taken):
        for stretch in _left((v1, v2), beside):
            joined = next((one for one in row if one[1] == stretch and one[0][1] == low), None)
            if joined is not None:
                row.remove(joined)
            row.append(((joined[0][0] if joined is not None else low, high), stretch))
    return row


def _left(whole: Stretch, taken: list[Stretch]) -> Iterator[Stretch]:
    reached = whole[0]
    for low, high in sorted(taken):
        if low > reached:
            yield reached, min(low, whole[1])
        reached = max(reached, high)
        if reached >= whole[1]:
            return
    yield reached, whole[1]


def _area(row: list[Rectangle]) -> Fraction:
    return sum(((u[1] - u[0]) * (v[1] - v[0]) for u, v in row), Fraction(0))


def _narrowed(cell: Rectangle) -> Iterator[Rectangle]:
    """Yield a rectangle whole, or in equal strips that the widest stock covers."""
    (u1, u2), (v1, v2) = cell
    widest = _width(STOCKS[-1])
    if min(u2 - u1, v2 - v1) <= widest:
        yield cell
        return
    strips = ceil((u2 - u1) / widest)
    for number in range(strips):
        yield (u1 + (u2 - u1) * number / strips, u1 + (u2 - u1) * (number + 1) / strips), (v1, v2)


def _width(name: str) -> Fraction:
    size = true_size(name)
    assert size is not None  # noqa: S101  (our own names, all in the table)
    return size[1]
