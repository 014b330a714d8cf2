"""Notes and the ground of a sheet in; a place for each note, near what it names, with a leader that is clear, out.

Every free spot of the sheet is asked. A place costs what its leader is long, how steep it is and the borders that it
crosses; a leader over a size, over another leader or over words costs more than any length. A note on a thing that is
large enough stands in it and needs no leader.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bookgen.draw.ground import (
    CELL,
    Box,
    Cells,
    Flags,
    Floats,
    Ground,
    Raster,
    Taken,
    Way,
    cells_in,
    cells_under,
    taken,
    ways,
)
from bookgen.draw.notes import STUB, TAIL, Note, Segment, Setting, crosses, settings_of
from bookgen.draw.paper import TEXT
from bookgen.draw.widths import CAP_HEIGHT
from bookgen.model.sketch import Spot

Leader = tuple[Spot, Spot, Spot]  # from the thing over an elbow to the note

CLEAR = 1.0  # millimetres round the words
BESIDE, OVER = 1.6, 1.0  # millimetres between the words of two notes, beside and over one another
NEAREST = 2.5  # millimetres of leader at least
STEP_ACROSS, STEP_UP = 4.0, 1.0  # millimetres between the places tried
AT_ONCE = 48  # places whose leaders are followed first, the best of all
TRIES = 3  # orders in which the notes choose
ROUNDS = 2  # each note moves again once all the others stand
STEEP = 0.9  # what a leader's rise costs on top of its length
ALIGNED = 5.0  # what it is worth to start where another note starts
BORDER = 3.0  # what it costs a leader to go from one thing to another
OVER_TOP = 0.4  # what a millimetre above the drawing costs
INSIDE = -10.0  # what it is worth to stand in the thing itself
EACH_LINE = 4.0  # what each further line of a note costs
BARRED = 1000.0
GIVEN_UP = 70.0  # an optional note that costs more is left out


@dataclass(frozen=True, slots=True)
class Place:
    """Where a note stands: its setting, the start of its first baseline; its leader's three spots, none inside."""

    setting: Setting
    at: Spot
    leader: Leader | None
    cost: float

    def box(self) -> Box:
        """Return left, low, right and high of what the words cover."""
        (x, y), one = self.at, self.setting
        return x, y - one.deep, x + one.wide, y + one.over


@dataclass(frozen=True, slots=True)
class Sheet:
    """What notes are placed on: how wide, where the drawing ends at the top, what it shows; the lines of sizes."""

    wide: float
    top: float
    raster: Raster
    barred: tuple[Segment, ...]


def placed(notes: Sequence[Note], ground: Ground, sheet: Sheet) -> tuple[Place, ...]:
    """Return the places of the notes, in their order; optional ones without a good place are left out.

    Tags choose first, having one spot only; a note that found no clear place chooses before all others, once more.
    """
    order = sorted(range(len(notes)), key=lambda number: not notes[number].tag)
    choices = [_choices(note, ground, sheet) for note in notes]
    found: dict[int, Place] = {}
    for _ in range(TRIES):
        tried = _in_order(notes, choices, order, ground)
        if not found or _worst(tried) < _worst(found):
            found = tried
        # Words wider than the sheet have no place at all.
        barred = [number for number in order if number not in tried or tried[number].cost >= BARRED / 2]
        if not barred:
            break
        order = [*barred, *(number for number in order if number not in barred)]
    kept = (number for number in sorted(found) if not notes[number].optional or found[number].cost <= GIVEN_UP)
    return tuple(found[number] for number in kept)


def _worst(places: Mapping[int, Place]) -> float:
    return sum(place.cost for place in places.values())


def _in_order(
    notes: Sequence[Note], choices: Sequence[tuple[_Choices, ...]], order: Sequence[int], ground: Ground
) -> dict[int, Place]:
    """Return the places of all notes where each has chosen in turn, and again once all the others stood."""
    standing = _Standing(ground.shape)
    for _ in range(ROUNDS):
        for number in order:
            before, others = standing.lift(number), standing.others()
            best = _inside(notes[number], others, ground)
            for one in choices[number] if best is None else ():
                best = one.best(others, best)
            if before is not None and (best is None or best.cost >= BARRED / 2):
                best = before  # the others have kept clear of it
            if best is not None:
                standing.put(number, best)
    return standing.places


class _Standing:
    """The notes that stand, and how many of their words and leaders take each cell."""

    def __init__(self, shape: tuple[int, ...]) -> None:
        self.places: dict[int, Place] = {}
        self._words: Cells = np.zeros(shape, dtype=np.int32)
        self._leaders: Cells = np.zeros(shape, dtype=np.int32)

    def put(self, number: int, place: Place) -> None:
        """Let a note stand."""
        self.places[number] = place
        self._count(place, 1)

    def lift(self, number: int) -> Place | None:
        """Take a note away; return where it stood."""
        place = self.places.pop(number, None)
        if place is not None:
            self._count(place, -1)
        return place

    def others(self) -> _Others:
        """Return what the notes that stand take."""
        places = self.places.values()
        lines = [line for place in places if place.leader is not None for line in pairwise(place.leader)]
        starts = np.array([place.at[0] for place in places])
        leaders = self._leaders > 0
        return _Others(starts, tuple(lines), leaders, taken(leaders | (self._words > 0)))

    def _count(self, place: Place, one: int) -> None:
        left, low, right, high = place.box()
        cells_in(self._words, (left - BESIDE, low - OVER, right + BESIDE, high + OVER))[:] += one
        if place.leader is not None:
            where = cells_under(place.leader, self._leaders.shape, thick=1)
            self._leaders[where] += one  # a cell that is named twice counts once, on the way back as well


@dataclass(frozen=True, slots=True)
class _Others:
    """What the other notes take: where they start, the lines of their leaders, their cells, words included."""

    starts: Floats
    lines: tuple[Segment, ...]
    leaders: Flags
    all: Taken


def _inside(note: Note, others: _Others, ground: Ground) -> Place | None:
    """Return the place in the thing itself, where it has room and no leader runs through it."""
    for room in note.rooms:
        left, low = ground.at((float(room.left), float(room.bottom)))
        right, high = ground.at((float(room.right), float(room.top)))
        for setting in settings_of(note):
            wide, tall = right - left - 2 * CLEAR, high - low - 2 * CLEAR
            if setting.wide <= wide and setting.over + setting.deep <= tall:
                x = (left + right - setting.wide) / 2
                y = (low + high - setting.over + setting.deep) / 2
                place = Place(setting, (x, y), None, INSIDE)
                if not cells_in(others.leaders, place.box()).any():
                    return place
    return None


class _Choices:
    """The free places of a note in one setting, the cheapest first, with their leaders; followed as far as asked."""

    def __init__(self, setting: Setting, spots: Floats, sheet: Sheet, dear: float) -> None:
        x, y = _free(setting, sheet)
        leaders, cost = _leaders_to(setting, x, y, spots)
        cost += dear + OVER_TOP * np.maximum(0.0, y + setting.over - sheet.top)
        order = np.argsort(cost, kind="stable")
        self._setting, self._sheet = setting, sheet
        self._x, self._y, self._leaders, self._cost = x[order], y[order], leaders[order], cost[order]
        self._least = self._cost.copy()
        self._ways: list[Way] = []
        self._parts = _parts(len(self._cost))

    def best(self, others: _Others, known: Place | None) -> Place | None:
        """Return the cheapest place beside the *others*, or the *known* one where that is cheaper."""
        chosen, lowest = -1, np.inf if known is None else known.cost
        for number, part in enumerate(self._parts):
            if self._least[part.start] - ALIGNED >= lowest:  # what a leader runs over only adds to this
                break
            if number == len(self._ways):
                self._follow(part)
            price = self._cost[part] + self._beside(number, others)
            while price.min() < lowest:
                one = int(price.argmin())
                if price[one] < BARRED / 2 and self._clashes(part.start + one, others):
                    price[one] += BARRED
                else:
                    chosen, lowest = part.start + one, float(price[one])
        if chosen < 0:
            return known
        return Place(self._setting, (float(self._x[chosen]), float(self._y[chosen])), self._leader(chosen), lowest)

    def _leader(self, number: int) -> Leader:
        row = self._leaders[number]
        return (float(row[0]), float(row[1])), (float(row[2]), float(row[3])), (float(row[4]), float(row[5]))

    def _clashes(self, number: int, others: _Others) -> bool:
        """Tell whether a leader, near its start too, where cells do not tell, crosses another one or a size."""
        mine = tuple(pairwise(self._leader(number)))
        return any(crosses(one, line) for line in (*others.lines, *self._sheet.barred) for one in mine)

    def _follow(self, part: slice) -> None:
        """Add what the leaders of some places run over."""
        raster, way = self._sheet.raster, ways(self._leaders[part], self._sheet.raster.barred.shape)
        self._cost[part] += BORDER * way.borders(raster.surfaces) + BARRED * way.on(raster.barred)
        self._ways.append(way)

    def _beside(self, number: int, others: _Others) -> Floats:
        """Return what the other notes add to the cost of each place of a part."""
        part = self._parts[number]
        x, y, setting = self._x[part], self._y[part], self._setting
        left, right = np.maximum(0.0, x - TAIL - STUB), np.minimum(x + setting.wide + TAIL, self._sheet.wide)
        covers = ~others.all.free(left, y - setting.deep, right, y + setting.over)
        crosses = self._ways[number].on(others.all.cells)
        return np.asarray(BARRED * (2.0 * covers + crosses) - ALIGNED * np.isin(x, others.starts))


def _parts(count: int) -> tuple[slice, ...]:
    """Return the places in parts that are followed together, each twice as long as the one before."""
    parts, start, size = [], 0, AT_ONCE
    while start < count:
        parts.append(slice(start, min(start + size, count)))
        start, size = start + size, 2 * size
    return tuple(parts)


def _choices(note: Note, ground: Ground, sheet: Sheet) -> tuple[_Choices, ...]:
    spots = np.array([ground.at(spot) for spot in note.spots], dtype=float)
    return tuple(_Choices(one, spots, sheet, EACH_LINE * one.more_lines()) for one in settings_of(note))


def _free(setting: Setting, sheet: Sheet) -> tuple[Floats, Floats]:
    """Return the places on the sheet where a note's words have free ground under them."""
    high = sheet.raster.barred.shape[1] * CELL
    across = np.arange(0.0, sheet.wide - setting.wide, STEP_ACROSS)
    up = np.arange(setting.deep + CLEAR, high - setting.over - CLEAR, STEP_UP)
    x, y = (grid.ravel() for grid in np.meshgrid(across, up, indexing="ij"))
    right = np.minimum(x + setting.wide + CLEAR, sheet.wide)
    left = np.maximum(0.0, x - CLEAR)
    free = sheet.raster.taken.free(left, y - setting.deep - CLEAR / 2, right, y + setting.over + CLEAR)
    return x[free], y[free]


def _leaders_to(setting: Setting, x: Floats, y: Floats, spots: Floats) -> tuple[Floats, Floats]:
    """Return for each place its leader as a row of three spots, and what it costs before it is followed."""
    height = y + TEXT * CAP_HEIGHT / 2
    rows, costs = [], []
    for way, edge in ((1, x), (-1, x + setting.first)):
        end, elbow = edge - way * TAIL, edge - way * (TAIL + STUB)
        run = (elbow[:, None] - spots[None, :, 0]) * way
        rise = np.abs(height[:, None] - spots[None, :, 1])
        length = np.hypot(run, rise)
        price = length + STEEP * rise + BARRED * ((run < 0.5) | (length < NEAREST))
        if way == -1 and setting.wide > setting.first + TAIL:  # from below it would run through its own lower lines
            price += BARRED * (spots[None, :, 1] < height[:, None])
        nearest = price.argmin(1)
        rows.append(np.column_stack([spots[nearest], elbow, height, end, height]))
        costs.append(price[np.arange(len(x)), nearest])
    right = costs[1] < costs[0]
    return np.where(right[:, None], rows[1], rows[0]), np.where(right, costs[1], costs[0])
