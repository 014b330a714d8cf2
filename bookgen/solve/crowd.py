"""Boxes in, those that meet a given box out: only the neighbours on the plan are looked at, and the exact boxes decide.

Rounded bounds only tell who can't be near, with a margin far wider than their error, so no answer hangs on them.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from bookgen.model.frozen import dataclass
from bookgen.model.geometry import Box

MARGIN = 1e-6  # inches; a rounded bound of a level is off by less than 1e-12
CELL = 24.0  # inches: the plan is laid out in squares of this side
FEW = 48  # boxes that are soon looked at without any squares
MOST_CELLS = 64  # what lies over more squares is looked at by everybody

Row = tuple[float, float, float, float, float, float]
Cell = tuple[int, int]


@dataclass(frozen=True, slots=True, eq=False)
class Crowd:
    """Boxes by number; their *bounds* rounded: low x, y, z and high x, y, z in inches.

    *cells* are the numbers of the boxes over each square of the plan, *wide* those that lie over too many squares;
    both are empty where the boxes are few.
    """

    boxes: tuple[Box, ...]
    bounds: tuple[Row, ...]
    cells: Mapping[Cell, Sequence[int]]
    wide: tuple[int, ...]

    def meeting(self, box: Box) -> list[int]:
        """Return the numbers of the boxes whose inside meets the inside of *box*, in order."""
        return [number for number in self.near(box) if self.boxes[number].overlaps(box)]

    def near(self, box: Box) -> list[int]:
        """Return the numbers of all boxes that may meet or touch *box*, in order, and perhaps a few more."""
        west, south, low, east, north, high = row(box)
        west, south, low = west - MARGIN, south - MARGIN, low - MARGIN
        east, north, high = east + MARGIN, north + MARGIN, high + MARGIN
        bounds, found = self.bounds, []
        for number in self._maybe((west, south, low, east, north, high)):
            one = bounds[number]
            if (
                one[0] <= east and one[3] >= west and one[1] <= north and one[4] >= south
                and one[2] <= high and one[5] >= low
            ):  # fmt: skip
                found.append(number)
        return found

    def _maybe(self, asked: Row) -> Iterable[int]:
        """Return the numbers of the boxes in the squares that are asked for, in order."""
        if not self.cells or _squares(asked) >= len(self.boxes):
            return range(len(self.boxes))
        maybe = set(self.wide)
        (west, east), (south, north) = _spans(asked)
        for across in range(west, east + 1):
            for along in range(south, north + 1):
                maybe.update(self.cells.get((across, along), ()))
        return sorted(maybe)


def crowd(boxes: Iterable[Box]) -> Crowd:
    """Return boxes ready to be asked."""
    kept = tuple(boxes)
    bounds = tuple(row(box) for box in kept)
    if len(kept) <= FEW:
        return Crowd(kept, bounds, {}, ())
    cells: dict[Cell, list[int]] = {}
    wide = []
    for number, one in enumerate(bounds):
        (west, east), (south, north) = _spans(one)
        if (east - west + 1) * (north - south + 1) > MOST_CELLS:
            wide.append(number)
            continue
        for across in range(west, east + 1):
            for along in range(south, north + 1):
                cells.setdefault((across, along), []).append(number)
    return Crowd(kept, bounds, cells, tuple(wide))


def row(box: Box) -> Row:
    """Return the rounded bounds of a box: low x, y, z and high x, y, z in inches."""
    low, high = box.low, box.high
    return float(low.x), float(low.y), float(low.z), float(high.x), float(high.y), float(high.z)


def _squares(bounds: Row) -> int:
    """Return over how many squares of the plan a box lies."""
    (west, east), (south, north) = _spans(bounds)
    return (east - west + 1) * (north - south + 1)


def _spans(bounds: Row) -> tuple[Cell, Cell]:
    """Return the first and last square of the plan that a box lies over, east and north."""
    return (int(bounds[0] // CELL), int(bounds[3] // CELL)), (int(bounds[1] // CELL), int(bounds[4] // CELL))
