"""A note and a sheet in; the cheapest clear place for it beside what stands there already, out.

Places are looked into in the order of what they cost at least, only as far as a better one may still come.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from bookgen.draw.ground import CELL, NO_WAY, Box, Cells, Flags, Floats, Numbers, Raster, Way, ways
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
AT_ONCE = 128  # leaders that are followed first, the cheapest; then each time as many as before
FEW, MORE = 8, 64  # free places that are held against the other notes before the rest of them
PATIENCE = 48  # places that are held against lines one by one
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

    def beside(self, starts: Collection[float]) -> Place:
        """Return the same place with what it costs beside others that start at *starts* and have kept clear of it."""
        aligned = self.leader is not None and self.at[0] in starts
        return replace(self, cost=self.alone - ALIGNED * aligned)

    def stands_in(self, other: Place | None) -> bool:
        """Tell whether it is the same place, whatever it costs."""
        if other is None:
            return False
        return self.at == other.at and self.leader == other.leader and self.setting is other.setting


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

    starts: frozenset[float]
    boxes: Floats
    lines: Lines
    cells: Cells


@dataclass(frozen=True, slots=True)
class _Followed:
    """Places whose leaders have been followed: their numbers, the columns they start in, costs, what leaders cross."""

    numbers: Numbers
    columns: Numbers
    cost: Floats
    way: Way

    def of(self, numbers: Numbers) -> _Followed:
        """Return some of the places."""
        return _Followed(self.numbers[numbers], self.columns[numbers], self.cost[numbers], self.way.of(numbers))

    def after(self, first: _Followed) -> _Followed:
        """Return the *first* places and these."""
        return _Followed(
            np.concatenate([first.numbers, self.numbers]),
            np.concatenate([first.columns, self.columns]),
            np.concatenate([first.cost, self.cost]),
            Way(np.concatenate([first.way.cells, self.way.cells], axis=1)),
        )


NONE = _Followed(np.zeros(0, dtype=np.intp), np.zeros(0, dtype=np.intp), np.zeros(0), NO_WAY)
ALONE = Others(frozenset(), np.zeros((0, 4)), lines_of(()), np.zeros(0, dtype=np.int32))


class Choices:
    """The free places of a note in all its settings, those that may be cheapest first; looked into as far as asked.

    *cheapest* is what the place that may be cheapest costs at least, before it is known what stands beside it.
    """

    def __init__(self, note: Note, spots: Floats, sheet: Sheet) -> None:
        self._most = GIVEN_UP if note.optional else OWN_GIVEN_UP
        self._settings, self._sheet = settings_of(note), sheet
        x, y, own, which = _worth_a_look(self._settings, spots, sheet, self._most)
        first, wide, deep, over = _sizes(self._settings)[:, which]
        leaders, cost = _leaders_to((x, y), first, wide, spots)
        least = own + cost
        order = (least < self._most + ALIGNED).nonzero()[0]
        order = order[least[order].argsort(kind="stable")]
        self._x, self._y, self._which, self._least = x[order], y[order], which[order], least[order]
        self._words: Floats = np.empty((len(order), 4))
        self._words[:, 0] = np.maximum(0.0, self._x - TAIL - STUB)  # room for a leader at either end
        self._words[:, 1] = self._y - deep[order]
        self._words[:, 2] = np.minimum(self._x + wide[order] + TAIL, sheet.wide)
        self._words[:, 3] = self._y + over[order]
        self._leaders = leaders[:, order]
        self._followed = NONE
        self._reached = 0
        self._alone: bool | None = None
        self.cheapest = float(self._least[0]) if len(order) else np.inf

    def best(self, others: Others, known: Place | None) -> Place | None:
        """Return the cheapest clear place beside the *others*, or the *known* one where none is cheaper."""
        lowest, found = self._most if known is None else known.cost, None
        some: _Followed | None = self._followed
        while some is not None:
            cheaper = self._first_clear(some, others, lowest)
            if cheaper is not None:
                found, lowest = cheaper, cheaper[2]
            some = self._follow(lowest)
        return known if found is None else self._place(*found)

    def better_now(self, others: Callable[[], Others], known: Place | None, more: Collection[float]) -> Place | None:
        """Return what `best` does where nothing has changed since it was asked but that further notes stand.

        These only make places cheaper that start where they do, at *more* than before: none other can be better now.
        """
        lowest, some = self._most if known is None else known.cost, self._followed
        near = (some.cost >= lowest) & (some.cost - ALIGNED < lowest) & _columns(more, self._sheet).take(some.columns)
        if not near.any():
            return known
        found = self._first_clear(some.of(near.nonzero()[0]), others(), lowest)
        return known if found is None else self._place(*found)

    @property
    def hopeless(self) -> bool:
        """Tell whether there is no clear place even where no other note stands."""
        if self._alone is None:
            self._alone = self.best(ALONE, None) is not None
        return not self._alone

    def _first_clear(self, some: _Followed, others: Others, lowest: float) -> tuple[int, float, float] | None:
        """Return the cheapest clear place under *lowest*: its number, what it costs alone, and beside *others*.

        The first few are held against the others by themselves: mostly one of them is clear.
        """
        price, left = some.cost - ALIGNED * _columns(others.starts, self._sheet).take(some.columns), PATIENCE
        cheaper = (price < lowest).nonzero()[0]
        cheaper = cheaper[price[cheaper].argsort(kind="stable")]
        for part in (cheaper[:FEW], cheaper[FEW:MORE], cheaper[MORE:]):
            for one in self._clear_of(some, part, others).tolist():
                number = int(some.numbers[one])
                if not self._clashes(number, others):
                    return number, float(some.cost[one]), float(price[one])
                left -= 1
                if not left:
                    return None
        return None

    def _clear_of(self, some: _Followed, part: Numbers, others: Others) -> Numbers:
        """Return those of a part of some places where nothing stands, as far as boxes and cells tell."""
        if not len(part) or not len(others.boxes):
            return part
        part = part[~some.way.of(part).on(others.cells)]
        return part[~boxes_meet(self._words[some.numbers[part]], others.boxes)] if len(part) else part

    def _place(self, number: int, alone: float, cost: float) -> Place:
        first, second, elbow = self._pieces(number)
        at = (float(self._x[number]), float(self._y[number]))
        setting = self._settings[int(self._which[number])]
        return Place(setting, at, (first[0], elbow, second[1]), alone, cost)

    def _follow(self, lowest: float) -> _Followed | None:
        """Follow the leaders of more places that may cost less than *lowest*, those that may be cheapest first.

        Return those of them that run over nothing that is barred, with what they cost; None where there are no more.
        """
        start, raster = self._reached, self._sheet.raster
        end = min(start + max(AT_ONCE, start), int(self._least.searchsorted(lowest + ALIGNED)))
        if end <= start:
            return None
        way = ways(self._leaders[:, start:end], raster.surfaces.shape)
        cost = self._least[start:end] + BORDER * way.borders(raster.surfaces)
        kept = (~way.on(raster.barred) & (cost - ALIGNED < self._most)).nonzero()[0]
        numbers = start + kept
        more = _Followed(numbers, (self._x[numbers] / (STEP_ACROSS * CELL)).astype(np.intp), cost[kept], way.of(kept))
        self._reached, self._followed = end, more.after(self._followed)
        return more

    def _clashes(self, number: int, others: Others) -> bool:
        """Tell whether a place is not clear of lines where cells do not tell: near the start of its leader, or its end.

        Lines are those of sizes and of the others' leaders; these may not run through the words either.
        """
        first, second, elbow = self._pieces(number)
        left, low, right, high = self._words[number].tolist()
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
        x1, y1, x2, y2, x3, y3 = self._leaders[:, number].tolist()
        return ((x1, y1), (x2, y2)), ((x2, y2), (x3, y3)), (x2, y2)


def _sizes(settings: tuple[Setting, ...]) -> Floats:
    """Return of each setting, in rows, how wide its first line and all of it run, how deep and how far over it goes."""
    return np.array([(one.first, one.wide, one.deep, one.over) for one in settings], dtype=float).T


def _worth_a_look(
    settings: tuple[Setting, ...], spots: Floats, sheet: Sheet, most: float
) -> tuple[Floats, Floats, Floats, Cells]:
    """Return the free places that may be cheapest, of those that may cost less than *most*.

    Where they start, across and up; what their words cost; the numbers of their settings.
    """
    found: list[tuple[Floats, Floats, Floats, Floats, Cells]] = []
    around = (*spots.min(0).tolist(), *spots.max(0).tolist())
    for number, setting in enumerate(settings):
        x, y, own, least = _free(setting, around, sheet, most)
        found.append((x, y, own, least, np.full(len(x), number, dtype=np.int32)))
    x, y, own, least, numbers = (np.concatenate(column) for column in zip(*found, strict=True))
    if len(least) > LOOKED_AT:
        kept = (least <= np.partition(least, LOOKED_AT - 1)[LOOKED_AT - 1]).nonzero()[0][:LOOKED_AT]
        return x[kept], y[kept], own[kept], numbers[kept]
    return x, y, own, numbers


def _leaders_to(at: tuple[Floats, Floats], first: Floats, wide: Floats, spots: Floats) -> tuple[Floats, Floats]:
    """Return the leader of each place, in rows of x1 y1 x2 y2 x3 y3, and what it costs before it is followed.

    *first* and *wide* are how wide the first line and all lines of the words run there.
    """
    x, height = at[0], at[1] + TEXT * CAP_HEIGHT / 2
    from_x, from_y = spots[:, 0, None], spots[:, 1, None]
    rise = np.abs(height - from_y)
    leaders: Floats = np.zeros((6, len(x)))
    leaders[3] = leaders[5] = height
    costs = np.full(len(x), np.inf)
    for way, edge in ((1, x), (-1, x + first)):
        end, elbow = edge - way * TAIL, edge - way * (TAIL + STUB)
        run = (elbow - from_x) * way
        room = (run.max(0) >= SHORTEST).nonzero()[0]  # where a leader to the farthest spot runs that way at all
        run, up = run.take(room, 1), rise.take(room, 1)
        length = np.sqrt(run * run + up * up)
        price = length + STEEP * up
        np.add(price, BARRED, out=price, where=(run < SHORTEST) | (length < NEAREST))
        if way == -1:  # from below it would run through its own lower lines, where these are longer
            np.add(price, BARRED, out=price, where=(from_y < height[room]) & (wide > first + TAIL)[room])
        least = price.min(0)
        better = (least < costs[room]).nonzero()[0]
        these, nearest = room[better], price.argmin(0)[better]
        costs[these] = least[better]
        leaders[0, these], leaders[1, these] = spots[nearest, 0], spots[nearest, 1]
        leaders[2, these], leaders[4, these] = elbow[these], end[these]
    return leaders, costs


def _columns(starts: Iterable[float], sheet: Sheet) -> Flags:
    """Tell of each column where places are tried whether something starts there."""
    flags, step = np.zeros(int(sheet.wide / (STEP_ACROSS * CELL)) + 1, dtype=bool), STEP_ACROSS * CELL
    for start in starts:
        if start % step == 0 and 0 <= start <= sheet.wide:
            flags[int(start / step)] = True
    return flags


def _free(setting: Setting, around: Box, sheet: Sheet, most: float) -> tuple[Floats, Floats, Floats, Floats]:
    """Return the places where a note's words have free ground under them, and that may cost less than *most*.

    Where they start, across and up; what their words cost; what they cost at least, with a leader to the box *around*
    the spots. The part of that which hangs on how far up a place is rules out most rows at once.
    """
    sums = sheet.raster.taken.sums
    columns, rows = sums.shape[0] - 1, sums.shape[1] - 1
    wide, clear = ceil((setting.wide + CLEAR) / CELL), round(CLEAR / CELL)
    tall = ceil((setting.deep + setting.over + 1.5 * CLEAR) / CELL)
    left = np.arange(0, int((sheet.wide - setting.wide) / CELL), STEP_ACROSS)
    low = np.arange(0, rows - tall, STEP_UP)
    x, y = np.asarray(left * CELL, dtype=float), low * CELL + setting.deep + CLEAR / 2
    own = EACH_LINE * setting.more_lines() + OVER_TOP * np.maximum(0.0, y + setting.over - sheet.top)
    run, rise = _least(setting, x, y, around)
    across, up = (run < BARRED).nonzero()[0], _stretch(own + rise + STEEP * rise - ALIGNED < most)
    left, x, y, own, run, rise = left[across], x[across], y[up], own[up], run[across], rise[up]
    before, after = sums[np.maximum(left - clear, 0)], sums[np.minimum(left + wide, columns)]
    under = slice(up.start * STEP_UP, up.stop * STEP_UP, STEP_UP)
    over = slice(under.start + tall, under.stop + tall, STEP_UP)
    a, b = (after[:, over] - before[:, over] == after[:, under] - before[:, under]).nonzero()
    run, rise, own = run[a], rise[b], own[b]
    least = own + (np.sqrt(run * run + rise * rise) + STEEP * rise)
    near = (least - ALIGNED < most).nonzero()[0]
    return x[a[near]], y[b[near]], own[near], least[near]


def _stretch(flags: Flags) -> slice:
    """Return the stretch from the first to the last that is true."""
    found = flags.nonzero()[0]
    return slice(int(found[0]), int(found[-1]) + 1) if len(found) else slice(0, 0)


def _least(setting: Setting, x: Floats, y: Floats, around: Box) -> tuple[Floats, Floats]:
    """Return how far a leader from the box *around* the spots runs and rises at least, by where words start.

    It runs to the end of no line where there is no room for one.
    """
    left, low, right, high = around
    height = y + TEXT * CAP_HEIGHT / 2
    rise = np.maximum(0.0, np.maximum(low - height, height - high))
    after, before = x - TAIL - STUB, x + setting.first + TAIL + STUB
    run = np.minimum(
        np.where(after - left >= SHORTEST, np.maximum(SHORTEST, after - right), np.inf),
        np.where(right - before >= SHORTEST, np.maximum(SHORTEST, left - before), np.inf),
    )
    return run, rise
