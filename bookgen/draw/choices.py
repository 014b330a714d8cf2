"""A note and a sheet in; the cheapest clear place for it beside what stands there already, out.

Places are looked into in the order of what they cost at least, only as far as a better one may still come.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bookgen.draw.ground import CELL, Box, Cells, Flags, Floats, Numbers, Raster, Way, ways
from bookgen.draw.meetings import Lines, Segment, boxes_meet, crosses, lines_of, near, runs_through
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
FEW = 8  # free places that are held against the other notes before the rest of a part
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
    """Places whose leaders have been followed: their numbers, where they start, costs, and what leaders run over."""

    numbers: Numbers
    starts: Floats
    cost: Floats
    way: Way


ALONE = Others(np.zeros(0), np.zeros((0, 4)), lines_of(()), np.zeros(0, dtype=np.int32))


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
        self._alone: bool | None = None
        self.cheapest = float(self._least[0]) if len(order) else np.inf

    def best(self, others: Others, known: Place | None) -> Place | None:
        """Return the cheapest clear place beside the *others*, or the *known* one where none is cheaper."""
        chosen, alone, lowest = -1, 0.0, self._most if known is None else known.cost
        for number, part in enumerate(self._parts):
            if self._least[part.start] - ALIGNED >= lowest:  # all that is not known yet only adds to this
                break
            if number == len(self._followed):
                self._followed.append(self._follow(part))
            found = self._first_clear(self._followed[number], others, lowest)
            if found is not None:
                chosen, alone, lowest = found
        return known if chosen < 0 else self._place(chosen, alone, lowest)

    @property
    def hopeless(self) -> bool:
        """Tell whether there is no clear place even where no other note stands."""
        if self._alone is None:
            self._alone = self.best(ALONE, None) is not None
        return not self._alone

    def _first_clear(self, part: _Followed, others: Others, lowest: float) -> tuple[int, float, float] | None:
        """Return the cheapest clear place under *lowest*: its number, what it costs alone, and beside *others*.

        The first few are held against the others by themselves: mostly one of them is clear.
        """
        aligned = (part.starts[:, None] == others.starts).any(1)
        price, left = part.cost - ALIGNED * aligned, PATIENCE
        cheaper = np.flatnonzero(price < lowest)
        if not len(cheaper):
            return None
        cheaper = cheaper[np.argsort(price[cheaper], kind="stable")]
        for some in (cheaper[:FEW], cheaper[FEW:]):
            for one in some[self._clear_of(part, some, others)].tolist():
                number = int(part.numbers[one])
                if not self._clashes(number, others):
                    return number, float(part.cost[one]), float(price[one])
                left -= 1
                if not left:
                    return None
        return None

    def _clear_of(self, part: _Followed, some: Numbers, others: Others) -> Flags:
        """Tell of some places of a part whether nothing stands there, as far as boxes and cells tell."""
        if not len(others.starts):
            return np.ones(len(some), dtype=bool)
        met = boxes_meet(self._words[part.numbers[some]], others.boxes) | part.way.of(some).on(others.cells)
        return np.asarray(~met)

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
        kept = np.flatnonzero(cost - ALIGNED < self._most)
        numbers = part.start + clear[kept]
        return _Followed(numbers, self._x[numbers], cost[kept], way.of(kept))

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
    rise = np.abs(height - spots[:, 1, None])
    rows: Floats = np.zeros((len(x), 6))
    costs = np.full(len(x), np.inf)
    for way, edge in ((1, x), (-1, x + first)):
        end, elbow = edge - way * TAIL, edge - way * (TAIL + STUB)
        run = (elbow - spots[:, 0, None]) * way
        room = np.flatnonzero(run.max(0) >= SHORTEST)  # where a leader to the farthest spot runs that way at all
        run, up = run.take(room, 1), rise.take(room, 1)
        length = np.hypot(run, up)
        price = length + STEEP * up + BARRED * ((run < SHORTEST) | (length < NEAREST))
        if way == -1:  # from below it would run through its own lower lines, where these are longer
            price += BARRED * ((spots[:, 1, None] < height[room]) & (wide > first + TAIL)[room])
        nearest = price.argmin(0)
        least = price[nearest, np.arange(len(room))]
        better = np.flatnonzero(least < costs[room])
        these = room[better]
        costs[these] = least[better]
        level = height[these]
        rows[these] = np.column_stack([spots[nearest[better]], elbow[these], level, end[these], level])
    return rows, costs


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
    across, up = np.flatnonzero(run < BARRED), _stretch(own + rise + STEEP * rise - ALIGNED < most)
    left, x, y, own, run, rise = left[across], x[across], y[up], own[up], run[across], rise[up]
    least = own + (np.hypot(run[:, None], rise) + STEEP * rise)
    before, after = sums[np.maximum(left - clear, 0)], sums[np.minimum(left + wide, columns)]
    under = slice(up.start * STEP_UP, up.stop * STEP_UP, STEP_UP)
    over = slice(under.start + tall, under.stop + tall, STEP_UP)
    a, b = np.nonzero(
        (after[:, over] - before[:, over] == after[:, under] - before[:, under]) & (least - ALIGNED < most)
    )
    return x[a], y[b], own[b], least[a, b]


def _stretch(flags: Flags) -> slice:
    """Return the stretch from the first to the last that is true."""
    found = np.flatnonzero(flags)
    return slice(int(found[0]), int(found[-1]) + 1) if len(found) else slice(0, 0)


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
