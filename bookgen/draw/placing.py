"""Notes and the ground of a sheet in; a place for each note, near what it names, with a leader that is clear, out.

Every free spot of the sheet is asked. A place costs what its leader is long, how steep it is and the borders that it
crosses; a leader over a size, over another leader or over words costs more than any length. A note on a thing that is
large enough stands in it and needs no leader. A note without a good place is handed back: it goes into the key.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bookgen.draw.ground import CELL, Box, Cells, Flags, Floats, Ground, Raster, Way, cells_in, cells_under, ways
from bookgen.draw.meetings import Segment, boxes_meet, crosses, near, runs_through
from bookgen.draw.notes import STUB, TAIL, Note, Setting, settings_of
from bookgen.draw.paper import TEXT
from bookgen.model.sketch import Spot
from bookgen.model.widths import CAP_HEIGHT

Leader = tuple[Spot, Spot, Spot]  # from the thing over an elbow to the note

CLEAR = 1.0  # millimetres round the words
BESIDE, OVER = 1.6, 1.0  # millimetres between the words of two notes, beside and over one another
APART = 1.0  # millimetres from the elbow of a leader to another leader
NEAREST = 2.5  # millimetres of leader at least
SHORTEST = 0.5  # and that much of it level
STEP_ACROSS, STEP_UP = 8, 2  # cells between the places tried: 4 and 1 mm
AT_ONCE = 40  # places whose leaders are followed first, the best of all
PATIENCE = 40  # places of a part that are held against lines one by one
DEEPEST = 4  # each time twice as many: 600 at most
TRIES = 2  # orders in which the notes choose
ROUNDS = 2  # each note moves again once all the others stand
STEEP = 0.9  # what a leader's rise costs on top of its length
ALIGNED = 5.0  # what it is worth to start where another note starts
BORDER = 3.0  # what it costs a leader to go from one thing to another
OVER_TOP = 0.4  # what a millimetre above the drawing costs
INSIDE = -10.0  # what it is worth to stand in the thing itself
EACH_LINE = 4.0  # what each further line of a note costs
BARRED = 1000.0
GIVEN_UP, OWN_GIVEN_UP = 70.0, 150.0  # a note that costs more goes into the key: an optional one, one on the work


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
    """What notes are placed on: how wide, where the drawing ends at the top, what it shows; what no leader may cross.

    *lines* are those of sizes.
    """

    wide: float
    top: float
    raster: Raster
    lines: tuple[Segment, ...]


def placed(notes: Sequence[Note], ground: Ground, sheet: Sheet) -> tuple[tuple[Place, ...], tuple[Note, ...]]:
    """Return the places of the notes, in their order, and the notes that found no good one.

    Tags choose first, having one spot only; a note that found no clear place chooses before all others, once more.
    """
    order = sorted(range(len(notes)), key=lambda number: not notes[number].tag)
    choices = [_choices(note, ground, sheet) for note in notes]
    found: dict[int, Place] = {}
    for _ in range(TRIES):
        tried = _in_order(notes, choices, order, ground)
        if not found or _worst(tried, notes) < _worst(found, notes):
            found = tried
        late = [number for number in order if number not in tried]
        if not late:
            break
        order = [*late, *(number for number in order if number not in late)]
    return tuple(found[number] for number in sorted(found)), tuple(n for i, n in enumerate(notes) if i not in found)


def _most(note: Note) -> float:
    """Return what a place may cost: a dearer one is worse than a letter in the key."""
    return GIVEN_UP if note.optional else OWN_GIVEN_UP


def _worst(places: Mapping[int, Place], notes: Sequence[Note]) -> float:
    """Return what all places cost together; none at all, for words wider than the sheet, costs most."""
    return sum(place.cost for place in places.values()) + 2 * BARRED * (len(notes) - len(places))


def _in_order(
    notes: Sequence[Note], choices: Sequence[tuple[_Choices, ...]], order: Sequence[int], ground: Ground
) -> dict[int, Place]:
    """Return the places of all notes where each has chosen in turn, and again once all the others stood."""
    standing = _Standing(ground.shape)
    for _ in range(ROUNDS):
        for number in order:
            before = standing.places.get(number)
            if before is not None and all(before.cost <= one.cheapest for one in choices[number]):
                continue  # it stands as well as it would alone
            standing.lift(number)
            others = standing.others()
            best = _inside(notes[number], others, ground)
            for one in choices[number] if best is None else ():
                best = one.best(others, best)
            best = best or before  # the others have kept clear of where it stood
            if best is not None:
                standing.put(number, best)
    return standing.places


class _Standing:
    """The notes that stand, and how many of their words and leaders take each cell."""

    def __init__(self, shape: tuple[int, ...]) -> None:
        self.places: dict[int, Place] = {}
        self._counts: Cells = np.zeros(shape, dtype=np.int32)

    def put(self, number: int, place: Place) -> None:
        """Let a note stand."""
        self.places[number] = place
        self._count(place, 1)

    def lift(self, number: int) -> None:
        """Take a note away where it stands."""
        place = self.places.pop(number, None)
        if place is not None:
            self._count(place, -1)

    def others(self) -> _Others:
        """Return what the notes that stand take."""
        places = self.places.values()
        boxes = np.array([place.box() for place in places], dtype=float).reshape(-1, 4)
        lines = [line for place in places if place.leader is not None for line in pairwise(place.leader)]
        return _Others(
            np.array([place.at[0] for place in places]),
            boxes + np.array([-BESIDE, -OVER, BESIDE, OVER]),
            tuple(lines),
            self._counts > 0,
        )

    def _count(self, place: Place, one: int) -> None:
        left, low, right, high = place.box()
        cells_in(self._counts, (left - BESIDE, low - OVER, right + BESIDE, high + OVER))[:] += one
        if place.leader is not None:
            where = cells_under(place.leader, self._counts.shape, thick=1)
            self._counts[where] += one  # a cell that is named twice counts once, on the way back as well


@dataclass(frozen=True, slots=True)
class _Others:
    """What the other notes take: where they start; rows of the boxes of their words; lines of leaders; cells."""

    starts: Floats
    boxes: Floats
    lines: tuple[Segment, ...]
    cells: Flags


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
                clear = not boxes_meet(np.array([place.box()]), others.boxes).any()
                if clear and not any(runs_through(line, place.box()) for line in others.lines):
                    return place
    return None


class _Choices:
    """The free places of a note in one setting, those that may be cheapest first; looked into as far as asked.

    *cheapest* is what the place that may be cheapest costs at least, before it is known what stands beside it.
    """

    def __init__(self, setting: Setting, spots: Floats, sheet: Sheet, dear: float) -> None:
        self._most = _most(setting.note)
        x, y = _free(setting, sheet)
        own = dear + OVER_TOP * np.maximum(0.0, y + setting.over - sheet.top)
        least = own + _least(setting, x, y, spots)
        order = np.argsort(least, kind="stable")
        self._setting, self._sheet, self._spots = setting, sheet, spots
        self._x, self._y, self._own, self._least = x[order], y[order], own[order], least[order]
        self._words = _words_of(setting, self._x, self._y, sheet)
        self._parts = _parts(int(np.searchsorted(self._least, BARRED)))
        self._leaders, self._cost = np.zeros((len(x), 6)), np.zeros(len(x))
        self._ways: list[Way] = []
        self.cheapest = float(self._least[0]) if len(x) else np.inf

    def best(self, others: _Others, known: Place | None) -> Place | None:
        """Return the cheapest clear place beside the *others*, or the *known* one where that is cheaper."""
        chosen, lowest = -1, self._most if known is None else known.cost
        for number, part in enumerate(self._parts):
            if self._least[part.start] - ALIGNED >= lowest:  # all that is not known yet only adds to this
                break
            if number == len(self._ways):
                self._follow(part)
            price = self._cost[part] + self._beside(number, others)
            cheaper = np.flatnonzero(price < lowest)
            for one in cheaper[np.argsort(price[cheaper], kind="stable")][:PATIENCE].tolist():
                if not self._clashes(part.start + one, others):
                    chosen, lowest = part.start + one, float(price[one])
                    break
        if chosen < 0:
            return known
        first, second, elbow = self._pieces(chosen)
        at = (float(self._x[chosen]), float(self._y[chosen]))
        return Place(self._setting, at, (first[0], elbow, second[1]), lowest)

    def _follow(self, part: slice) -> None:
        """Add the leaders of some places, what they cost, and what they run over."""
        leaders, cost = _leaders_to(self._setting, self._x[part], self._y[part], self._spots)
        sheet = self._sheet
        way = ways(leaders, sheet.raster.surfaces.shape)
        cost += self._own[part] + BORDER * way.borders(sheet.raster.surfaces)
        self._leaders[part], self._cost[part] = leaders, cost + BARRED * way.on(sheet.raster.barred)
        self._ways.append(way)

    def _beside(self, number: int, others: _Others) -> Floats:
        """Return what the other notes add to the cost of each place of a part, as far as cells tell."""
        part = self._parts[number]
        if not len(others.starts):
            return np.zeros(part.stop - part.start)
        aligned = (self._x[part, None] == others.starts[None, :]).any(1)
        met = boxes_meet(self._words[part], others.boxes) | self._ways[number].on(others.cells)
        return np.asarray(BARRED * met - ALIGNED * aligned)

    def _clashes(self, number: int, others: _Others) -> bool:
        """Tell whether a place is not clear of lines where cells do not tell: near the start of its leader, or its end.

        Lines are those of sizes and of the others' leaders; these may not run through the words either.
        """
        first, second, elbow = self._pieces(number)
        for line in others.lines:
            if crosses(first, line) or crosses(second, line) or near(elbow, line, APART):
                return True
        if any(crosses(first, line) or crosses(second, line) for line in self._sheet.lines):
            return True
        left, low, right, high = (float(side) for side in self._words[number])
        return any(runs_through(line, (left, low, right, high)) for line in others.lines)

    def _pieces(self, number: int) -> tuple[Segment, Segment, Spot]:
        """Return the two pieces of a leader, and the elbow between them."""
        x1, y1, x2, y2, x3, y3 = self._leaders[number].tolist()
        return ((x1, y1), (x2, y2)), ((x2, y2), (x3, y3)), (x2, y2)


def _words_of(setting: Setting, x: Floats, y: Floats, sheet: Sheet) -> Floats:
    """Return the boxes that the words of a note take at some places, with room for a leader at either end."""
    left, right = np.maximum(0.0, x - TAIL - STUB), np.minimum(x + setting.wide + TAIL, sheet.wide)
    return np.column_stack([left, y - setting.deep, right, y + setting.over])


def _parts(count: int) -> tuple[slice, ...]:
    """Return the places in parts that are looked into together, each twice as long as the one before."""
    parts, start, size = list[slice](), 0, AT_ONCE
    while start < count and len(parts) < DEEPEST:
        parts.append(slice(start, min(start + size, count)))
        start, size = start + size, 2 * size
    return tuple(parts)


def _choices(note: Note, ground: Ground, sheet: Sheet) -> tuple[_Choices, ...]:
    spots = np.array([ground.at(spot) for spot in note.spots], dtype=float)
    return tuple(_Choices(one, spots, sheet, EACH_LINE * one.more_lines()) for one in settings_of(note))


def _free(setting: Setting, sheet: Sheet) -> tuple[Floats, Floats]:
    """Return the places on the sheet where a note's words have free ground under them."""
    sums = sheet.raster.taken.sums
    columns, rows = sums.shape[0] - 1, sums.shape[1] - 1
    wide, clear = int(np.ceil((setting.wide + CLEAR) / CELL)), round(CLEAR / CELL)
    tall = int(np.ceil((setting.deep + setting.over + 1.5 * CLEAR) / CELL))
    left = np.arange(0, int((sheet.wide - setting.wide) / CELL), STEP_ACROSS)
    low = np.arange(0, rows - tall, STEP_UP)
    a, c = np.maximum(left - clear, 0)[:, None], np.minimum(left + wide, columns)[:, None]
    b, d = low[None, :], low[None, :] + tall
    free = np.nonzero(sums[c, d] - sums[a, d] - sums[c, b] + sums[a, b] == 0)
    return np.asarray(left[free[0]] * CELL, dtype=float), low[free[1]] * CELL + setting.deep + CLEAR / 2


def _least(setting: Setting, x: Floats, y: Floats, spots: Floats) -> Floats:
    """Return for each place what its leader costs at least, from the box round the spots alone."""
    (left, low), (right, high) = spots.min(0), spots.max(0)
    height = y + TEXT * CAP_HEIGHT / 2
    rise = np.maximum(0.0, np.maximum(low - height, height - high))
    after, before = x - TAIL - STUB, x + setting.first + TAIL + STUB
    run = np.minimum(
        np.where(after - left >= SHORTEST, np.maximum(SHORTEST, after - right), np.inf),
        np.where(right - before >= SHORTEST, np.maximum(SHORTEST, left - before), np.inf),
    )
    return np.asarray(np.where(np.isinf(run), BARRED, np.hypot(np.minimum(run, BARRED), rise) + STEEP * rise))


def _leaders_to(setting: Setting, x: Floats, y: Floats, spots: Floats) -> tuple[Floats, Floats]:
    """Return for each place its leader as a row of three spots, and what it costs before it is followed."""
    height = y + TEXT * CAP_HEIGHT / 2
    rows, costs = [], []
    for way, edge in ((1, x), (-1, x + setting.first)):
        end, elbow = edge - way * TAIL, edge - way * (TAIL + STUB)
        run = (elbow - spots[:, 0, None]) * way
        rise = np.abs(height - spots[:, 1, None])
        length = np.hypot(run, rise)
        price = length + STEEP * rise + BARRED * ((run < SHORTEST) | (length < NEAREST))
        if way == -1 and setting.wide > setting.first + TAIL:  # from below it would run through its own lower lines
            price += BARRED * (spots[:, 1, None] < height)
        nearest = price.argmin(0)
        rows.append(np.column_stack([spots[nearest], elbow, height, end, height]))
        costs.append(price[nearest, np.arange(len(x))])
    right = costs[1] < costs[0]
    return np.where(right[:, None], rows[1], rows[0]), np.where(right, costs[1], costs[0])
