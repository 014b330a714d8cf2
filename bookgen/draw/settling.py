"""Places that tags may take, with what each costs, in; one for each tag, so that none is in another's way, out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bookgen.draw.meetings import Flags, Floats, cross_each, meet_each, run_through_each

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
    found = meet_each(some.boxes, others.boxes) | cross_each(some.leaders, others.leaders)
    return found | run_through_each(some.leaders, others.boxes) | run_through_each(others.leaders, some.boxes).T


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
