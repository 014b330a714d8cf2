"""Shapes that a sheet already shows in; where on it a text may stand, and what a line on it would cross, out.

All in millimetres on paper, from the lower left corner of the stretch that is looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from bookgen.model.sketch import Area, LineKind, Shape, Spot, Stroke

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Cells = NDArray[np.int32]
Numbers = NDArray[np.intp]
Kind = TypeVar("Kind", bound=np.generic)

Box = tuple[float, float, float, float]  # left, low, right, high
Where = tuple[slice, slice] | tuple[Cells, Cells]  # cells of a raster, across and up

CELL = 0.5  # millimetres: how finely it is known what is taken
BARE = 1.2  # millimetres from its spot on which a leader bars nothing and is barred by nothing
SAMPLES = 32  # spots looked at along a leader
# Where on a leader, as shares of its first stretch and of its second, are the spots that are looked at?
_ALONG, _ALONG_END = np.linspace(0.0, 1.0, SAMPLES)[:, None], np.linspace(0.0, 1.0, SAMPLES // 12)[:, None]
# Lines that are no border between two things.
_UNMINDED = frozenset({LineKind.DETAIL, LineKind.CENTRE, LineKind.BREAK})


@dataclass(frozen=True, slots=True)
class Taken:
    """Cells that are taken, and *sums* of them to the left and below, so that any box is asked in four look-ups."""

    cells: Flags
    sums: Cells

    def free(self, left: Floats, low: Floats, right: Floats, high: Floats) -> Flags:
        """Tell for each box whether it lies on the raster and nothing is taken in it."""
        columns, rows = self.cells.shape
        inside = (left >= 0) & (low >= 0) & (np.ceil(right / CELL) <= columns) & (np.ceil(high / CELL) <= rows)
        return np.asarray(inside & (self.count(left, low, right, high) == 0))

    def count(self, left: Floats, low: Floats, right: Floats, high: Floats) -> Cells:
        """Return how many cells are taken in each box."""
        columns, rows = self.cells.shape
        a, c = (np.clip(edge, 0, columns).astype(int) for edge in (np.floor(left / CELL), np.ceil(right / CELL)))
        b, d = (np.clip(edge, 0, rows).astype(int) for edge in (np.floor(low / CELL), np.ceil(high / CELL)))
        return np.asarray(self.sums[c, d] - self.sums[a, d] - self.sums[c, b] + self.sums[a, b])


def taken(cells: Flags) -> Taken:
    """Return cells with their sums."""
    sums = np.zeros((cells.shape[0] + 1, cells.shape[1] + 1), dtype=np.int32)
    np.cumsum(np.cumsum(cells, axis=0, dtype=np.int32), axis=1, out=sums[1:, 1:])
    return Taken(cells, sums)


@dataclass(frozen=True, slots=True)
class Raster:
    """What a sheet shows, cell by cell: the number of what is seen there, where no text may stand, where no leader."""

    surfaces: Cells
    taken: Taken
    barred: Flags


@dataclass(frozen=True, slots=True)
class Way:
    """The cells that leaders run over, a column for each leader: so they are looked at side by side.

    A cell is told by its number when the rows of a raster are laid end to end, which is how it is looked up fastest.
    """

    cells: Numbers

    def of(self, numbers: Numbers) -> Way:
        """Return some of the leaders."""
        return Way(self.cells.take(numbers, axis=1))

    def borders(self, surfaces: Cells) -> Floats:
        """Return how often each leader goes from one surface to another."""
        seen = surfaces.take(self.cells)
        return np.asarray(np.add.reduce(seen[1:] != seen[:-1], axis=0, dtype=np.int8), dtype=float)

    def on(self, cells: NDArray[Kind]) -> Flags:
        """Tell of each leader whether it runs over a cell that is marked, or counted."""
        return np.asarray(np.logical_or.reduce(cells.take(self.cells), axis=0))


def ways(leaders: Floats, shape: tuple[int, ...]) -> Way:
    """Return the cells under leaders, given in rows of x1 y1 x2 y2 x3 y3, but for their first stretch, on a raster."""
    count, cut = len(_ALONG), len(_ALONG) + len(_ALONG_END)
    x1, y1, x2, y2, x3, y3 = leaders / CELL
    run, rise = x2 - x1, y2 - y1
    bare = np.minimum(1.0, BARE / CELL / np.sqrt(run * run + rise * rise))
    share = (1.0 - bare) * _ALONG
    share += bare
    places: Floats = np.empty((2, cut, len(x1)))
    for at, a, way, b, c in zip(places, (x1, y1), (run, rise), (x2, y2), (x3, y3), strict=True):
        np.multiply(way, share, out=at[:count])
        at[:count] += a
        np.multiply(c - b, _ALONG_END, out=at[count:])
        at[count:] += b
    cells = places.astype(np.intp)
    for under, most in zip(cells, shape, strict=True):
        np.maximum(under, 0, out=under)
        np.minimum(under, most - 1, out=under)
    across, up = cells
    across *= shape[1]
    across += up
    return Way(across)


def cells_in(cells: NDArray[Kind], box: Box) -> NDArray[Kind]:
    """Return the cells of a box, given as left, low, right and high, as a view."""
    left, low, right, high = (max(0.0, side) / CELL for side in box)
    return cells[int(left) : ceil(right), int(low) : ceil(high)]


def cells_under(points: Sequence[Spot], shape: tuple[int, ...], *, thick: int = 0) -> tuple[Where, ...]:
    """Return where the cells under a line are, piece by piece, and *thick* more on every side of them."""
    found: list[Where] = []
    slanted: list[tuple[float, float, float, float]] = []
    for start, end in pairwise(points):
        if start[0] == end[0] or start[1] == end[1]:
            found.append(_straight(start, end, thick))
        else:
            slanted.append((*start, *end))
    return (*found, _slanted(slanted, shape, thick)) if slanted else tuple(found)


def _straight(start: Spot, end: Spot, thick: int) -> tuple[slice, slice]:
    """Return the cells under a level or upright piece."""
    pairs = (sorted((int(start[side] / CELL), int(end[side] / CELL))) for side in (0, 1))
    across, up = (slice(max(0, low - thick), max(0, high + thick + 1)) for low, high in pairs)
    return across, up


def _slanted(
    pieces: Sequence[tuple[float, float, float, float]], shape: tuple[int, ...], thick: int
) -> tuple[Cells, Cells]:
    """Return the cells under slanted pieces, given as x1 y1 x2 y2."""
    ends = np.array(pieces)
    start, way = ends[:, :2], ends[:, 2:] - ends[:, :2]
    steps = (np.abs(way).max(1) / CELL).astype(int) + 2
    if len(pieces) == 1:
        share = (np.arange(steps[0]) / (steps[0] - 1))[:, None]
    else:
        which = np.arange(len(pieces)).repeat(steps)
        number = np.arange(len(which)) - (steps.cumsum() - steps)[which]
        share, start, way = (number / (steps - 1)[which])[:, None], start[which], way[which]
    across, up = ((start + way * share) / CELL).astype(np.int32).T
    if thick:
        round_it = np.arange(-thick, thick + 1, dtype=np.int32)
        across = (across[:, None, None] + round_it[None, :, None]).repeat(len(round_it), axis=2).ravel()
        up = (up[:, None, None] + round_it[None, None, :]).repeat(len(round_it), axis=1).ravel()
    inside = (across >= 0) & (across < shape[0]) & (up >= 0) & (up < shape[1])
    return (across, up) if inside.all() else (across[inside], up[inside])


class Ground:
    """Builds the raster of a sheet *wide* by *high*, whose lower left corner is *origin* on the model."""

    def __init__(self, origin: Spot, per_inch: float, wide: float, high: float) -> None:
        self._origin, self._per_inch = origin, per_inch
        self._cells: Cells = np.zeros((int(wide / CELL) + 1, int(high / CELL) + 1), dtype=np.int32)
        self._barred: Flags = np.zeros(self._cells.shape, dtype=bool)
        self._next = 0

    @property
    def shape(self) -> tuple[int, ...]:
        """Return how many cells the sheet is wide and high."""
        return self._cells.shape

    def at(self, spot: Spot) -> Spot:
        """Return a spot of the model on the sheet."""
        return (spot[0] - self._origin[0]) * self._per_inch, (spot[1] - self._origin[1]) * self._per_inch

    def back(self, spot: Spot) -> Spot:
        """Return a spot of the sheet on the model."""
        return self._origin[0] + spot[0] / self._per_inch, self._origin[1] + spot[1] / self._per_inch

    def add(self, shapes: Iterable[Shape]) -> None:
        """Take what areas and strokes cover, each a surface of its own; a later one lies on an earlier one."""
        for shape in shapes:
            if isinstance(shape, Area) and shape.radius is not None:
                self._fill_disc(self.at(shape.corners[0]), shape.radius * self._per_inch)
            elif isinstance(shape, Area):
                self._fill([self.at(corner) for corner in shape.corners])
            elif isinstance(shape, Stroke):
                self._take_line([self.at(point) for point in shape.points], own=shape.line not in _UNMINDED)

    def bar(self, box: Box) -> None:
        """Take a box of the model, given as left, low, right and high, over which no leader may run."""
        left, low = self.at((box[0], box[1]))
        right, high = self.at((box[2], box[3]))
        cells_in(self._barred, (left, low, right, high))[:] = True
        cells_in(self._cells, (left, low, right, high))[:] = 1

    def bar_line(self, points: Iterable[Spot]) -> None:
        """Take a line of the model over which no leader may run."""
        placed = [self.at(point) for point in points]
        for where in cells_under(placed, self.shape, thick=1):
            self._barred[where] = True
        for where in cells_under(placed, self.shape):
            self._cells[where] = 1

    def raster(self) -> Raster:
        """Return what is taken so far."""
        return Raster(self._cells.copy(), taken(self._cells > 0), self._barred.copy())

    def _take_line(self, points: Sequence[Spot], *, own: bool = True) -> None:
        """Take the cells under a line; one that is not its *own* surface belongs to what lies under it."""
        self._next += own
        for where in cells_under(points, self.shape):
            self._cells[where] = self._next if own else np.maximum(self._cells[where], 1)

    def _fill_disc(self, middle: Spot, radius: float) -> None:
        """Take the cells of a disc, those on its edge too."""
        reach = radius + CELL / 2
        slices = [
            slice(max(0, int((at - reach) / CELL)), max(0, min(cells, int((at + reach) / CELL) + 1)))
            for at, cells in zip(middle, self.shape, strict=True)
        ]
        off = [(np.arange(part.start, part.stop) + 0.5) * CELL - at for part, at in zip(slices, middle, strict=True)]
        self._next += 1
        self._cells[slices[0], slices[1]][off[0][:, None] ** 2 + off[1] ** 2 <= reach**2] = self._next

    def _fill(self, corners: list[Spot]) -> None:
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        left, low, right, high = min(xs), min(ys), max(xs), max(ys)
        if len(corners) == 4 and len(set(xs)) == 2 and len(set(ys)) == 2:
            self._next += 1
            cells_in(self._cells, (left, low, right, high))[:] = self._next
            return
        self._take_line([*corners, corners[0]])
        columns, rows = self._cells.shape
        a, b = max(0, int(left / CELL)), max(0, int(low / CELL))
        c, d = min(columns, int(right / CELL) + 1), min(rows, int(high / CELL) + 1)
        if a >= c or b >= d:
            return
        up = (np.arange(b, d) + 0.5) * CELL
        x1, y1 = np.array(corners).T
        x2, y2 = np.roll(x1, -1), np.roll(y1, -1)
        side, row = np.nonzero((y1[:, None] <= up) != (y2[:, None] <= up))  # which sides pass which rows of cells
        at = x1[side] + (up[row] - y1[side]) * (x2 - x1)[side] / (y2 - y1)[side]
        turns: Cells = np.zeros((c - a + 1, d - b), dtype=np.int32)
        np.add.at(turns, (np.clip(np.ceil(at / CELL - 0.5).astype(int) - a, 0, c - a), row), 1)
        self._cells[a:c, b:d][np.cumsum(turns[:-1], axis=0) % 2 == 1] = self._next
