"""Boxes, lines and spots of a drawing in; which of them meet, out. A box is given as left, low, right and high."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bookgen.model.sketch import Spot

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Box = tuple[float, float, float, float]
Segment = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True)
class Lines:
    """Segments with the boxes round them, so that all but those close by are passed over at once."""

    boxed: tuple[tuple[float, float, float, float, Segment], ...]

    def near(self, box: Box) -> list[Segment]:
        """Return the segments whose boxes meet or touch a box."""
        left, low, right, high = box
        return [line for a, b, c, d, line in self.boxed if a <= right and c >= left and b <= high and d >= low]

    def and_one(self, segment: Segment) -> Lines:
        """Return these and one more."""
        return Lines((*self.boxed, *lines_of([segment]).boxed))


def lines_of(segments: Iterable[Segment]) -> Lines:
    """Return segments with the boxes round them."""
    return Lines(
        tuple(
            (a if a < c else c, b if b < d else d, c if a < c else a, d if b < d else b, line)
            for line in segments
            for (a, b), (c, d) in [line]
        )
    )


def meet(first: Box, second: Box) -> bool:
    """Tell whether two boxes share area."""
    return first[0] < second[2] and second[0] < first[2] and first[1] < second[3] and second[1] < first[3]


def boxes_meet(boxes: Floats, others: Floats) -> Flags:
    """Tell of each box, a row, whether it shares area with any of the others; those that only touch do not."""
    return np.asarray(meet_each(boxes, others).any(1))


def crosses(first: Segment, second: Segment) -> bool:
    """Tell whether two segments cross or touch."""

    def side(a: Spot, b: Spot, c: Spot) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    a, b = first
    c, d = second
    if max(a[0], b[0]) < min(c[0], d[0]) or max(c[0], d[0]) < min(a[0], b[0]):
        return False
    if max(a[1], b[1]) < min(c[1], d[1]) or max(c[1], d[1]) < min(a[1], b[1]):
        return False
    return side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0


def runs_through(line: Segment, box: Box) -> bool:
    """Tell whether a line runs through a box: they are apart across, up, or across the line itself, or they meet."""
    (x1, y1), (x2, y2) = line
    left, low, right, high = box
    if max(x1, x2) <= left or min(x1, x2) >= right or max(y1, y2) <= low or min(y1, y2) >= high:
        return False
    way_x, way_y = x2 - x1, y2 - y1
    sides = [way_x * (y - y1) - way_y * (x - x1) for x in (left, right) for y in (low, high)]
    return min(sides) < 0 < max(sides)


def near(spot: Spot, line: Segment, within: float) -> bool:
    """Tell whether a spot lies within so much of a line."""
    (x1, y1), (x2, y2) = line
    way_x, way_y, off_x, off_y = x2 - x1, y2 - y1, spot[0] - x1, spot[1] - y1
    square = way_x * way_x + way_y * way_y
    share = min(1.0, max(0.0, (off_x * way_x + off_y * way_y) / square)) if square else 0.0
    return (off_x - share * way_x) ** 2 + (off_y - share * way_y) ** 2 < within**2


def meet_each(boxes: Floats, others: Floats) -> Flags:
    """Tell of each box, a row, and of each other one, a column, whether they share area."""
    left, low, right, high = (side[:, None] for side in boxes.T)
    left2, low2, right2, high2 = others.T
    return np.asarray((left < right2) & (left2 < right) & (low < high2) & (low2 < high))


def cross_each(lines: Floats, others: Floats) -> Flags:
    """Tell of each line, a row, and of each other one, a column, whether they cross or touch."""
    x1, y1, x2, y2 = (one[:, None] for one in lines.T)
    x3, y3, x4, y4 = others.T
    way_x, way_y, other_x, other_y = x2 - x1, y2 - y1, x4 - x3, y4 - y3
    first = way_x * (y3 - y1) - way_y * (x3 - x1)
    second = way_x * (y4 - y1) - way_y * (x4 - x1)
    third = other_x * (y1 - y3) - other_y * (x1 - x3)
    fourth = other_x * (y2 - y3) - other_y * (x2 - x3)
    left, low, right, high = (side[:, None] for side in _round(lines).T)
    left2, low2, right2, high2 = _round(others).T
    near = (left <= right2) & (left2 <= right) & (low <= high2) & (low2 <= high)  # lines in one line may be apart
    return np.asarray(near & (first * second <= 0) & (third * fourth <= 0))


def run_through_each(lines: Floats, boxes: Floats) -> Flags:
    """Tell of each line, a row, and of each box, a column, whether the line runs through it."""
    x1, y1, x2, y2 = (one[:, None] for one in lines.T)
    left, low, right, high = (side[:, None] for side in _round(lines).T)
    left2, low2, right2, high2 = boxes.T
    near = (left < right2) & (left2 < right) & (low < high2) & (low2 < high)
    way_x, way_y = x2 - x1, y2 - y1
    sides = np.stack([way_x * (y - y1) - way_y * (x - x1) for x in (left2, right2) for y in (low2, high2)])
    return np.asarray(near & (sides.min(0) < 0) & (sides.max(0) > 0))


def _round(lines: Floats) -> Floats:
    """Return the box round each line."""
    return np.hstack([np.minimum(lines[:, :2], lines[:, 2:]), np.maximum(lines[:, :2], lines[:, 2:])])
