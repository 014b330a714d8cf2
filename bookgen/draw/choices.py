"""A note and a sheet in; the cheapest clear place for it beside what stands there already, out.

Places are looked into in the order of what they cost at least, only as far as a better one may still come.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bookgen.draw.ground import CELL, Box, Cells, Floats, Numbers, Raster, Way, ways
from bookgen.draw.meetings import Lines, Segment, boxes_meet, crosses, near, runs_through
from bookgen.draw.notes import STUB, TAIL, Note, Setting, settings_of
from bookgen.draw.paper import TEXT
from bookgen.model.sketch import Spot
from bookgen.model.widths import CAP_HEIGHT

Leader = tuple[Spot, Spot, Spot]  # from the thing over an elbow to the note

CLEAR = 1.0  # millimetres round the words
APART = 1.0  # millimetres from the elbow of a leader to another leader
NEAREST = 2.5  # millimetres of leader at least
SHORTEST = 0.5  # and that much of it level
STEP_ACROSS, STEP_UP = 8, 2  # cells between the places tried: 4 and 1 mm
LOOKED_AT = 1200  # free places whose leaders are laid: those that may be cheapest
AT_ONCE = 40  # leaders that are followed first, the cheapest; then each time twice as many
PATIENCE = 12  # places of a part that are held against lines one by one
STEEP = 0.9  # what a leader's rise costs on top of its length
ALIGNED = 5.0  # what it is worth to start where another note starts
BORDER = 3.0  # what it costs a leader to go from one thing to another
OVER_TOP = 0.4  # what a millimetre above the drawing costs
EACH_LINE = 4.0  # what each further line of a note costs
BARRED = 1000.0
GIVEN_UP, OWN_GIVEN_UP = 70.0, 150.0  # a note that costs more goes into the key: an optional one, one on the work


@dataclass(frozen=True, slots=True)
class Place:
    """Where a note stands: its setting, the start of its first baseline; its leader's three spots, none inside.

    *alone* is what it costs without what it is worth to start where another note starts.
    """

    setting: Setting
    at: Spot
    leader: Leader | None
    alone: float
    cost: float

    def box(self) -> Box:
        """Return left, low, right and high of what the words cover."""
        (x, y), one = self.at, self.setting
        return x, y - one.deep, x + one.wide, y + one.over

    def beside(self, others: Others) -> Place:
        """Return the same place with what it costs beside the *others*, which have kept clear of it."""
        aligned = self.leader is not None and bool((others.starts == self.at[0]).any())
        return replace(self, cost=self.alone - ALIGNED * aligned)


@dataclass(frozen=True, slots=True)
class Sheet:
    """What notes are placed on: how wide, where the drawing ends at the top, what it shows; what no leader may cross.

    *lines* are those of sizes.
    """

    wide: float
    top: float
    raster: Raster
    lines: Lines


@dataclass(frozen=True, slots=True)
class Others:
    """What the other notes take: where they start; rows of the boxes of their words; lines of leaders; how many take
    each cell.
    """

    starts: Floats
    boxes: Floats
    lines: Lines
    cells: Cells


@dataclass(frozen=True, slots=True)
class _Followed:
    """Places whose leaders have been followed: their numbers, what they cost alone, what the leaders run over."""

    numbers: Numbers
    cost: Floats
    way: Way

    def under(self, lowest: float) -> _Followed:
        """Return those that may cost less."""
        kept = np.flatnonzero(self.cost - ALIGNED < lowest)
        return (
            self if len(kept) == len(self.cost) else _Followed(self.numbers[kept], self.cost[kept], self.way.of(kept))
        )


class Choices:
    """The free places of a note in all its settings, those that may be cheapest first; looked into as far as asked.

    *cheapest* is what the place that may be cheapest costs at least, before it is known what stands beside it.
    """

    def __init__(self, note: Note, spots: Floats, sheet: Sheet) -> None:
        self._most = GIVEN_UP if note.optional else OWN_GIVEN_UP
        self._settings, self._sheet, self._spots = settings_of(note), sheet, spots
        x, y, own, which = _worth_a_look(self._settings, spots, sheet, self._most)
        first, wide, deep, over = _sizes(self._settings)[which].T
        leaders, cost = _leaders_to((x, y), first, wide, spots)
        least = own + cost
        order = np.argsort(least, kind="stable")
        order = order[: int(np.searchsorted(least[order], self._most + ALIGNED))]
        self._x, self._y, self._which, self._least = x[order], y[order], which[order], least[order]
        left = np.maximum(0.0, x - TAIL - STUB)  # room for a leader at either end
        right = np.minimum(x + wide + TAIL, sheet.wide)
        self._words = np.column_stack([left, y - deep, right, y + over])[order]
        self._parts = _parts(len(order))
        self._leaders = leaders[order]
        self._followed: list[_Followed] = []
        self.cheapest = float(self._least[0]) if len(order) else np.inf

    def best(self, others: Others, known: Place | None) -> Place | None:
        """Return the cheapest clear place beside the *others*, or the *known* one where none is cheaper."""
        chosen, alone, lowest = -1, 0.0, self._most if known is None else known.cost
        for number, part in enumerate(self._parts):
            if self._least[part.start] - ALIGNED >= lowest:  # all that is not known yet only adds to this
                break
            if number == len(self._followed):
                self._followed.append(self._follow(part))
            found = self._followed[number].under(lowest)
            price = found.cost + self._beside(found, others)
            cheaper = np.flatnonzero(price < lowest)
            for one in cheaper[np.argsort(price[cheaper], kind="stable")][:PATIENCE].tolist():
                if not self._clashes(int(found.numbers[one]), others):
                    chosen, alone, lowest = int(found.numbers[one]), float(found.cost[one]), float(price[one])
                    break
        return known if chosen < 0 else self._place(chosen, alone, lowest)

    def _place(self, number: int, alone: float, cost: float) -> Place:
        first, second, elbow = self._pieces(number)
        at = (float(self._x[number]), float(self._y[number]))
        setting = self._settings[int(self._which[number])]
        return Place(setting, at, (first[0], elbow, second[1]), alone, cost)

    def _follow(self, part: slice) -> _Followed:
        """Return the places of a part whose leaders run over nothing that is barred, and what they cost with them."""
        raster = self._sheet.raster
        way = ways(self._leaders[part], raster.surfaces.shape)
        clear = np.flatnonzero(~way.on(raster.barred))
        way = way.of(clear)
        cost = self._least[part][clear] + BORDER * way.borders(raster.surfaces)
        return _Followed(part.start + clear, cost, way).under(self._most)

    def _beside(self, found: _Followed, others: Others) -> Floats:
        """Return what the other notes add to the cost of each place, as far as cells tell."""
        if not len(others.starts) or not len(found.numbers):
            return np.zeros(len(found.numbers))
        aligned = (self._x[found.numbers, None] == others.starts[None, :]).any(1)
        met = boxes_meet(self._words[found.numbers], others.boxes) | found.way.on(others.cells)
        return np.asarray(BARRED * met - ALIGNED * aligned)

    def _clashes(self, number: int, others: Others) -> bool:
        """Tell whether a place is not clear of lines where cells do not tell: near the start of its leader, or its end.

        Lines are those of sizes and of the others' leaders; these may not run through the words either.
        """
        first, second, elbow = self._pieces(number)
        left, low, right, high = (float(side) for side in self._words[number])
        xs, ys = (first[0][0], second[1][0], left, right), (first[0][1], second[1][1], low, high)
        round_all = (min(xs) - APART, min(ys) - APART, max(xs) + APART, max(ys) + APART)
        for line in others.lines.near(round_all):
            if crosses(first, line) or crosses(second, line) or near(elbow, line, APART):
                return True
            if runs_through(line, (left, low, right, high)):
                return True
        return any(crosses(first, line) or crosses(second, line) for line in self._sheet.lines.near(round_all))

    def _pieces(self, number: int) -> tuple[Segment, Segment, Spot]:
        """Return the two pieces of a leader, and the elbow between them."""
        x1, y1, x2, y2, x3, y3 = self._leaders[number].tolist()
        return ((x1, y1), (x2, y2)), ((x2, y2), (x3, y3)), (x2, y2)


def _sizes(settings: tuple[Setting, ...]) -> Floats:
    """Return a row for each setting: how wide its first line and all of it run, how deep and how far over it goes."""
    return np.array([(one.first, one.wide, one.deep, one.over) for one in settings], dtype=float)


def _worth_a_look(
    settings: tuple[Setting, ...], spots: Floats, sheet: Sheet, most: float
) -> tuple[Floats, Floats, Floats, Cells]:
    """Return the free places that may be cheapest, of those that may cost less than *most*.

    Where they start, across and up; what their words cost; the numbers of their settings.
    """
    found: list[tuple[Floats, Floats, Floats, Floats, Cells]] = []
    for number, setting in enumerate(settings):
        x, y, own, least = _free(setting, spots, sheet, most)
        found.append((x, y, own, least, np.full(len(x), number, dtype=np.int32)))
    x, y, own, least, numbers = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.argsort(least, kind="stable")[:LOOKED_AT]
    return x[order], y[order], own[order], numbers[order]


def _leaders_to(at: tuple[Floats, Floats], first: Floats, wide: Floats, spots: Floats) -> tuple[Floats, Floats]:
    """Return for each place its leader as a row of three spots, and what it costs before it is followed.

    *first* and *wide* are how wide the first line and all lines of the words run there.
    """
    x, height = at[0], at[1] + TEXT * CAP_HEIGHT / 2
    rows, costs = [], []
    for way, edge in ((1, x), (-1, x + first)):
        end, elbow = edge - way * TAIL, edge - way * (TAIL + STUB)
        run = (elbow - spots[:, 0, None]) * way
        rise = np.abs(height - spots[:, 1, None])
        length = np.hypot(run, rise)
        price = length + STEEP * rise + BARRED * ((run < SHORTEST) | (length < NEAREST))
        if way == -1:  # from below it would run through its own lower lines, where these are longer
            price += BARRED * ((spots[:, 1, None] < height) & (wide > first + TAIL))
        nearest = price.argmin(0)
        rows.append(np.column_stack([spots[nearest], elbow, height, end, height]))
        costs.append(price[nearest, np.arange(len(x))])
    right = costs[1] < costs[0]
    return np.where(right[:, None], rows[1], rows[0]), np.where(right, costs[1], costs[0])


def _parts(count: int) -> tuple[slice, ...]:
    """Return the places in parts that are looked into together, each twice as long as the one before."""
    parts, start, size = list[slice](), 0, AT_ONCE
    while start < count:
        parts.append(slice(start, min(start + size, count)))
        start, size = start + size, 2 * size
    return tuple(parts)


def _free(setting: Setting, spots: Floats, sheet: Sheet, most: float) -> tuple[Floats, Floats, Floats, Floats]:
    """Return the places where a note's words have free ground under them, and that may cost less than *most*.

    Where they start, across and up; what their words cost; what they cost at least, with a leader to the box round the
    spots. The part of that which hangs on how far up a place is rules out most rows at once.
    """
    sums = sheet.raster.taken.sums
    columns, rows = sums.shape[0] - 1, sums.shape[1] - 1
    wide, clear = int(np.ceil((setting.wide + CLEAR) / CELL)), round(CLEAR / CELL)
    tall = int(np.ceil((setting.deep + setting.over + 1.5 * CLEAR) / CELL))
    left = np.arange(0, int((sheet.wide - setting.wide) / CELL), STEP_ACROSS)
    low = np.arange(0, rows - tall, STEP_UP)
    x, y = np.asarray(left * CELL, dtype=float), low * CELL + setting.deep + CLEAR / 2
    own = EACH_LINE * setting.more_lines() + OVER_TOP * np.maximum(0.0, y + setting.over - sheet.top)
    run, rise = _least(setting, x, y, spots)
    across, up = np.flatnonzero(run < BARRED), np.flatnonzero(own + rise + STEEP * rise - ALIGNED < most)
    left, low, x, y, own, run, rise = left[across], low[up], x[across], y[up], own[up], run[across], rise[up]
    before, after = sums[np.maximum(left - clear, 0)], sums[np.minimum(left + wide, columns)]
    taken = after[:, low + tall] - before[:, low + tall] - after[:, low] + before[:, low]
    least = own + (np.hypot(run[:, None], rise) + STEEP * rise)
    a, b = np.nonzero((taken == 0) & (least - ALIGNED < most))
    return x[a], y[b], own[b], least[a, b]


def _least(setting: Setting, x: Floats, y: Floats, spots: Floats) -> tuple[Floats, Floats]:
    """Return how far a leader from the box round the spots runs and rises at least, by where words start.

    It runs to the end of no line where there is no room for one.
    """
    (left, low), (right, high) = spots.min(0), spots.max(0)
    height = y + TEXT * CAP_HEIGHT / 2
    rise = np.maximum(0.0, np.maximum(low - height, height - high))
    after, before = x - TAIL - STUB, x + setting.first + TAIL + STUB
    run = np.minimum(
        np.where(after - left >= SHORTEST, np.maximum(SHORTEST, after - right), np.inf),
        np.where(right - before >= SHORTEST, np.maximum(SHORTEST, left - before), np.inf),
    )
    return run, rise
