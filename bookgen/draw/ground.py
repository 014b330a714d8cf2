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
Piece = tuple[float, float, float, float]  # of a line: x1 y1 x2 y2
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


NO_WAY = Way(np.zeros((len(_ALONG) + len(_ALONG_END), 0), dtype=np.intp))


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
    slanted: list[Piece] = []
    for start, end in pairwise(points):
        if start[0] == end[0] or start[1] == end[1]:
            found.append(_straight(start, end, thick))
        else:
            slanted.append((*start, *end))
    return (*found, cells_along(slanted, shape, thick)[:2]) if slanted else tuple(found)


def _straight(start: Spot, end: Spot, thick: int) -> tuple[slice, slice]:
    """Return the cells under a level or upright piece."""
    pairs = (sorted((int(start[side] / CELL), int(end[side] / CELL))) for side in (0, 1))
    across, up = (slice(max(0, low - thick), max(0, high + thick + 1)) for low, high in pairs)
    return across, up


def cells_along(pieces: Sequence[Piece], shape: tuple[int, ...], thick: int = 0) -> tuple[Cells, Cells, Numbers]:
    """Return the cells under many pieces of lines, across and up, and the number of the piece over each."""
    ends = np.array(pieces, dtype=float).reshape(-1, 4)
    start, way = ends[:, :2], ends[:, 2:] - ends[:, :2]
    steps = (np.abs(way).max(1, initial=0.0) / CELL).astype(int) + 2
    which = np.arange(len(ends)).repeat(steps)
    number = np.arange(len(which)) - (steps.cumsum() - steps)[which]
    share = (number / (steps - 1)[which])[:, None]
    if len(ends) > 1:
        start, way = start[which], way[which]
    across, up = ((start + way * share) / CELL).astype(np.int32).T
    if thick:
        round_it = np.arange(-thick, thick + 1, dtype=np.int32)
        across = (across[:, None, None] + round_it[None, :, None]).repeat(len(round_it), axis=2).ravel()
        up = (up[:, None, None] + round_it[None, None, :]).repeat(len(round_it), axis=1).ravel()
        which = which.repeat(len(round_it) ** 2)
    inside = (across >= 0) & (across < shape[0]) & (up >= 0) & (up < shape[1])
    return (across, up, which) if inside.all() else (across[inside], up[inside], which[inside])


def cells_within(outlines: Sequence[Sequence[Spot]], shape: tuple[int, ...]) -> tuple[Cells, Cells, Numbers]:
    """Return the cells whose middles lie in outlines, across and up, and the number of the outline of each."""
    corners = np.array([corner for outline in outlines for corner in outline], dtype=float).reshape(-1, 2) / CELL
    after = np.array([corner for outline in outlines for corner in (*outline[1:], outline[0])]).reshape(-1, 2) / CELL
    which = np.arange(len(outlines)).repeat([len(outline) for outline in outlines])
    (x1, y1), (x2, y2) = corners.T, after.T
    # Which sides pass the middles of which rows?
    first, last = (np.clip(np.ceil(edge(y1, y2) - 0.5), 0, shape[1]).astype(int) for edge in (np.minimum, np.maximum))
    side = np.arange(len(x1)).repeat(last - first)
    row = first[side] + np.arange(len(side)) - ((last - first).cumsum() - (last - first))[side]
    at = x1[side] + (row + 0.5 - y1[side]) * (x2 - x1)[side] / (y2 - y1)[side]
    column = np.clip(np.ceil(at - 0.5), 0, shape[0]).astype(int)
    # Two by two along its row, they are where an outline begins and ends.
    passed = np.sort((which[side] * shape[1] + row) * (shape[0] + 1) + column)
    begun, ended = passed[::2], passed[1::2]
    cells = begun.repeat(ended - begun) + np.arange(int((ended - begun).sum()))
    cells -= ((ended - begun).cumsum() - (ended - begun)).repeat(ended - begun)
    rows, across = np.divmod(cells, shape[0] + 1)
    outline, up = np.divmod(rows, shape[1])
    return across.astype(np.int32), up.astype(np.int32), outline


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
        """Take what areas and strokes cover, each a surface of its own; a later one lies on an earlier one.

        So the highest number counts in every cell, and what is slow to paint one by one is painted together, last.
        """
        outlines: list[tuple[int, Sequence[Spot]]] = []
        lines: list[tuple[int, Sequence[Spot]]] = []
        for shape in shapes:
            if isinstance(shape, Area) and shape.radius is not None:
                self._fill_disc(self.at(shape.corners[0]), shape.radius * self._per_inch)
            elif isinstance(shape, Area):
                corners = [self.at(corner) for corner in shape.corners]
                self._next += 1
                upright = _upright(corners)
                if upright is not None:
                    cells_in(self._cells, upright)[:] = self._next
                else:
                    outlines.append((self._next, corners))
                    lines.append((self._next, [*corners, corners[0]]))
            elif isinstance(shape, Stroke):
                # A line that is no surface of its own belongs to what lies under it.
                self._next += (own := shape.line not in _UNMINDED)
                lines.append((self._next if own else 1, [self.at(point) for point in shape.points]))
        pieces = [(number, (*start, *end)) for number, line in lines for start, end in pairwise(line)]
        self._paint([number for number, _ in outlines], cells_within([one for _, one in outlines], self.shape))
        self._paint([number for number, _ in pieces], cells_along([piece for _, piece in pieces], self.shape))

    def _paint(self, numbers: Sequence[int], under: tuple[Cells, Cells, Numbers]) -> None:
        """Give cells the number of the surface that takes them, where no later one does."""
        across, up, which = under
        painted = np.array(numbers, dtype=np.int32)[which]
        self._cells[across, up] = np.maximum(self._cells[across, up], painted)  # of a cell's numbers the last counts

    def bar(self, box: Box) -> None:
        """Take a box of the model, given as left, low, right and high, over which no leader may run."""
        left, low = self.at((box[0], box[1]))
        right, high = self.at((box[2], box[3]))
        cells_in(self._barred, (left, low, right, high))[:] = True
        cells_in(self._cells, (left, low, right, high))[:] = 1

    def bar_lines(self, lines: Iterable[Sequence[Spot]]) -> None:
        """Take lines of the model over which no leader may run."""
        placed = ([self.at(point) for point in line] for line in lines)
        pieces = [(*start, *end) for line in placed for start, end in pairwise(line)]
        across, up, _ = cells_along(pieces, self.shape, thick=1)
        self._barred[across, up] = True
        across, up, _ = cells_along(pieces, self.shape)
        self._cells[across, up] = 1

    def raster(self) -> Raster:
        """Return what is taken so far."""
        return Raster(self._cells.copy(), taken(self._cells > 0), self._barred.copy())

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


def _upright(corners: Sequence[Spot]) -> Box | None:
    """Return the box that an outline is; None where it is no upright rectangle."""
    xs, ys = {x for x, _ in corners}, {y for _, y in corners}
    return (min(xs), min(ys), max(xs), max(ys)) if (len(corners), len(xs), len(ys)) == (4, 2, 2) else None
