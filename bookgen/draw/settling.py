"""Places that tags may take, with what each costs, in; one for each tag, so that none is in another's way, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Numbers = NDArray[np.intp]

CLASH = 1000.0  # what it costs to be in the way of another, in millimetres of leader
ROUNDS = 3
DEAR = 8.0  # what a place may cost more than the cheapest one before two tags look for places together


@dataclass(frozen=True, slots=True)
class Places:
    """The places tried for one tag, a row each, in millimetres: what it takes, its leader, what it costs.

    Boxes are left, low, right, high; leaders x1 y1 x2 y2.
    """

    boxes: Floats
    leaders: Floats
    cost: Floats

    def at(self, rows: Numbers) -> Places:
        """Return some of the places."""
        return Places(self.boxes[rows], self.leaders[rows], self.cost[rows])


def settled(places: Sequence[Places]) -> tuple[int, ...]:
    """Return the row of each tag's place: first each for itself beside the others, then two at a time.

    The whole cost only ever falls: each move is the cheapest for those that move while all the others stand.
    """
    rows, beside = [int(one.cost.argmin()) for one in places], _Beside(places)
    _alone(beside, rows)
    for number, one in enumerate(places):
        if beside.cost(rows, number)[rows[number]] > one.cost.min() + DEAR:
            _together(beside, rows, number)
    _alone(beside, rows)
    return tuple(rows)


def clashes(some: Places, others: Places) -> Flags:
    """Tell of each place, a row, and of each of other tags, a column, whether one is in the way of the other."""
    found = _meet(some.boxes, others.boxes) | _cross(some.leaders, others.leaders)
    return found | _run_through(some.leaders, others.boxes) | _run_through(others.leaders, some.boxes).T


class _Beside:
    """What the places of tags cost beside others; what one takes is held against each other tag once."""

    def __init__(self, places: Sequence[Places]) -> None:
        self.places = places
        self._found: tuple[dict[tuple[int, int], Flags], ...] = tuple({} for _ in places)

    def cost(self, rows: Sequence[int], number: int, *, but: int = -1) -> Floats:
        """Return what each place of a tag costs beside where the others stand, *but* one of them."""
        standing = [(other, row) for other, row in enumerate(rows) if other not in (number, but)]
        found = self._found[number]
        new = [one for one in standing if one not in found]
        if new:
            boxes, leaders = (
                np.array([self.places[other].boxes[row] for other, row in new]),
                np.array([self.places[other].leaders[row] for other, row in new]),
            )
            columns = clashes(self.places[number], Places(boxes, leaders, np.zeros(len(new)))).T
            found.update(zip(new, columns, strict=True))
        met: Numbers = np.zeros(len(self.places[number].cost), dtype=np.intp)
        for one in standing:
            met += found[one]
        return np.asarray(self.places[number].cost + CLASH * met)


def _alone(beside: _Beside, rows: list[int]) -> None:
    for _ in range(ROUNDS):
        before = list(rows)
        for number in range(len(rows)):
            rows[number] = int(beside.cost(rows, number).argmin())
        if rows == before:
            return


def _together(beside: _Beside, rows: list[int], number: int) -> None:
    """Move a tag, and with it that other one whose moving gains the most, if any gains."""
    found, most, places = None, 0.0, beside.places
    own = beside.cost(rows, number)[rows[number]]
    for other in (each for each in range(len(places)) if each != number):
        first, second = beside.cost(rows, number, but=other), beside.cost(rows, other, but=number)
        now = own + second[rows[other]]
        mine, its = np.flatnonzero(first < now - second.min()), np.flatnonzero(second < now - first.min())
        if not len(mine) or not len(its):
            continue
        both = first[mine, None] + second[its] + CLASH * clashes(places[number].at(mine), places[other].at(its))
        row, column = np.unravel_index(int(both.argmin()), both.shape)
        if now - both[row, column] > most:
            most, found = float(now - both[row, column]), (other, int(mine[row]), int(its[column]))
    if found is not None:
        other, rows[number], rows[other] = found


def _meet(boxes: Floats, others: Floats) -> Flags:
    left, low, right, high = (side[:, None] for side in boxes.T)
    left2, low2, right2, high2 = others.T
    return np.asarray((left < right2) & (left2 < right) & (low < high2) & (low2 < high))


def _cross(lines: Floats, others: Floats) -> Flags:
    """Tell of each line and each other line whether they cross or touch."""
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


def _run_through(lines: Floats, boxes: Floats) -> Flags:
    """Tell of each line and each box whether the line runs through it: apart across, up, or across the line, or not."""
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
